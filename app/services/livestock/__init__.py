"""Services of livestock."""
