"""Services of preserving."""
