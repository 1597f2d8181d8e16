"""When hay is fed: while grass does not grow, by the warmth of the soil of the place, and until there is enough."""

from collections.abc import Callable
from typing import NamedTuple

GROWS_C = 6.0
"""Grass hardly grows while the soil at 10 cm is colder. Source: common practice, 5 to 6 °C."""
COVER_DAYS = 21
"""From when it grows until there is something to graze. Source: common practice, three to four weeks."""
SLOW_C, SLOW_BEFORE, SLOW_AFTER = 8.0, 40, 19
"""Where the soil is never colder than `GROWS_C`, but colder than this: sixty days about the coldest, when grass is too
short and too wet. Source: an estimate. Warmer still, cold asks no hay; a dry season is not told of here."""
_YEAR = 365

Mark = Callable[[str, float, int], int | None]
"""A mark of the season of a year: its name ("soil below", "soil above"), the °C, the season's year; its day or None."""


class Winter(NamedTuple):
    """The ``first`` and the ``last`` day on which hay is fed."""

    first: int
    last: int


def winter_feeding(mark: Mark, year: int) -> Winter | None:
    """Winter feeding that begins in the season of a year; None where it is never cold enough.

    From the day the soil falls below 6 °C to three weeks after it has passed it again: in the English lowlands December
    to March. It follows the place, its height and its hemisphere.
    Valid: as the season's marks. Source: `GROWS_C`, `COVER_DAYS`; `SLOW_C` where the soil stays above 6 °C.
    """
    begins, grows = mark("soil below", GROWS_C, year), mark("soil above", GROWS_C, year + 1)
    if begins is not None:
        last = begins + _YEAR - 1
        return Winter(begins, last if grows is None else min(last, grows + COVER_DAYS - 1))
    if grows is None or mark("soil below", SLOW_C, year) is None:
        return None
    return Winter(grows - SLOW_BEFORE, grows + SLOW_AFTER)  # where it is always above, the mark is the coldest day
