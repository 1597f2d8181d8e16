"""Pages of upkeep."""
