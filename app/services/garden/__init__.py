"""Services of the garden."""
