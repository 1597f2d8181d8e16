"""Pages of the weather."""
