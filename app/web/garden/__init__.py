"""Pages of the garden."""
