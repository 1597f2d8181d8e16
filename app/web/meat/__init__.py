"""Pages of meat."""
