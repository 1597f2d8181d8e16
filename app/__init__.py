"""Twelvemonth: the year-round task calendar of a household that feeds itself from a smallholding."""

__version__ = "0.1.0"

import gc

# Importing and planning make much and leave little behind: looked over less often, a start is a sixth shorter.
gc.set_threshold(20_000, 20, 50)
