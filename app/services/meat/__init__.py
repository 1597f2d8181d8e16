"""Services of meat."""
