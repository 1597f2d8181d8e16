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


class Job(NamedTuple):
    """What a computation may know of the step it serves: its minutes and hands, the ``kind`` of thing it is done to,
    the least warmth of the day (°C, None: any), and whether it wants a dry one."""

    minutes: int
    people: int = 1
    kind: str = ""
    least_c: float | None = None
    dry: bool = False
