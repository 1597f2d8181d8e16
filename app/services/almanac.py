"""What the season says of a month: daylight, the chance of frost each night, and when the frosts end or begin."""

from functools import lru_cache
from typing import Literal, NamedTuple

from app.rules.almanac import year_of
from app.rules.spans import Day
from app.trade.climate.normals_season import NormalsSeason

CHANCES = (5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95)
"""In how many years of a hundred: the steps in which a chance is told."""


class Frost(NamedTuple):
    """What is told of frost: ``chance`` is in how many years of 100 it has come (first) or is over (last) by month's
    end; for "nights" how many nights of the month freeze in an average year."""

    kind: Literal["first", "last", "nights"]
    chance: float


class Light(NamedTuple):
    """A month's daylight in hours and chance of frost in percent, a value for each day, and what is told of frost."""

    daylight_hours: tuple[float, ...]
    frost_percent: tuple[float, ...]
    frost: Frost | None


@lru_cache(maxsize=128)
def light_of(season: NormalsSeason, first: Day, last: Day) -> Light:
    """The daylight and frost of the days from ``first`` to ``last``.

    Source: `NormalsSeason`.
    """
    days = range(first, last + 1)
    nights = tuple(season.frost_percent(day) for day in days)
    return Light(tuple(season.daylight_hours(day) for day in days), nights, _frost(season, first, last, nights))


def _frost(season: NormalsSeason, first: Day, last: Day, nights: tuple[float, ...]) -> Frost | None:
    year = year_of(first)
    for kind in ("first", "last"):
        for season_year in (year - 1, year):
            marks = {chance: season.mark(f"{kind} frost", chance, season_year) for chance in CHANCES}
            reached = [chance for chance, day in marks.items() if day is not None and day <= last]
            within = any(day is not None and first <= day <= last for day in marks.values())
            if within and reached:
                return Frost("first" if kind == "first" else "last", max(reached))
    expected = sum(nights) / 100
    return Frost("nights", expected) if expected >= 1 else None
