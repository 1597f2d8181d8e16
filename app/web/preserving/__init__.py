"""Pages of preserving."""
