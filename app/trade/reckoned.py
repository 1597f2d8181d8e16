"""What a computation named on a sheet may give back."""

from typing import NamedTuple


class Reckoned(NamedTuple):
    """Whole days: the least, the best and the most, and ``because``, the arithmetic in words for *why*."""

    low: int
    best: int
    high: int
    because: tuple[str, ...] = ()


def days(best: int, *because: str) -> Reckoned:
    """An answer without a spread."""
    return Reckoned(best, best, best, because)
