"""The made-up holding."""
