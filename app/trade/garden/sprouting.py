"""How long seed takes to come up, and how much of it, read off a measured table between its temperatures."""

from collections.abc import Sequence
from typing import NamedTuple

from app.errors import OutOfRange

TABLE_C = (0, 5, 10, 15, 20, 25, 30, 35, 40)
"""The soil temperatures of the tables, °C."""

FEW_PERCENT = 50.0
SLOW_FACTOR = 2.0
"""In the open it may take up to twice as long as in the trial: two published sets differ by so much."""


class Sprouts(NamedTuple):
    """Days in the trial, days it may take outdoors, and what of the seed comes up (%), None where that is not known."""

    days: float
    late_days: float
    percent: float | None
    warning: str = ""


NEVER = float("inf")
"""Stands in a table of days where nothing came up; None where it was not tried."""


def days_up(days: Sequence[float | None], soil_c: float) -> float | None:
    """Days to come up at ``soil_c``, its rate (1/days) taken in a straight line between the table's temperatures.

    ``days`` are those of `TABLE_C`, `NEVER` where nothing came up. None where it was not tried: never beyond the ends.
    Source: Vegetable Seed Germination, University of California 1954, as quoted in Teaching Organic Farming and
    Gardening, appendix 4.
    Raises: OutOfRange where nothing came up.
    """
    rate = _between([None if one is None else 1 / one for one in days], soil_c)
    if rate is None:
        return None
    low, high = comes_up(days)
    if not rate or not low <= soil_c <= high:
        limits = f"it came up from {low} to {high} °C"
        raise OutOfRange("A soil temperature", soil_c, limits, "No germination there.")
    return 1 / rate


def comes_up(days: Sequence[float | None]) -> tuple[int, int]:
    """The coolest and the warmest soil in which it was seen to come up.

    Source: `days_up`.
    """
    known = [c for c, one in zip(TABLE_C, days, strict=False) if one is not None and one != NEVER]
    return known[0], known[-1]


def sprouts(days: Sequence[float | None], percent: Sequence[float | None], soil_c: float) -> Sprouts | None:
    """Days to come up with their range, and a warning where few of the seedlings would be sound; None where untried.

    Source: `days_up`; Percentage of Normal Vegetable Seedlings at Different Temperatures, the same trials.
    Raises: OutOfRange where nothing comes up.
    """
    found = days_up(days, soil_c)
    if found is None:
        return None
    share = _between(percent, soil_c)
    if share is not None and share <= 0:
        raise OutOfRange("A soil temperature", soil_c, "no sound seedlings", "No germination there.")
    warning = ""
    if share is not None and share < FEW_PERCENT:
        wrong = "hot" if soil_c > _best_c(percent) else "cold"
        warning = f"Only {share:.0f} in a hundred come up sound at {soil_c:g} °C: it is too {wrong}."
    return Sprouts(found, found * SLOW_FACTOR, share, warning)


def _between(values: Sequence[float | None], soil_c: float) -> float | None:
    known = dict(zip(TABLE_C, values, strict=False))
    low = int(soil_c // 5) * 5
    one, other = known.get(low), known.get(low + 5)
    if soil_c == low:
        return one
    if one is None or other is None:
        return None
    return one + (other - one) * (soil_c - low) / 5


def _best_c(percent: Sequence[float | None]) -> float:
    return max(zip(TABLE_C, percent, strict=False), key=lambda pair: pair[1] or 0)[0]
