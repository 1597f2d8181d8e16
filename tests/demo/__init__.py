"""The made-up holding, as of many days."""
