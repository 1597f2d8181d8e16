"""Twelvemonth: the year-round task calendar of a household that feeds itself from a smallholding."""

__version__ = "0.1.0"
