"""Services of the weather."""
