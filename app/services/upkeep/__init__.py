"""Services of upkeep."""
