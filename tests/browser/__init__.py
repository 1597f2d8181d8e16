"""The real program in a real browser."""
