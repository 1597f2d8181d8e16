"""Pages of livestock."""
