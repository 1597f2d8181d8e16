"""The made-up weather of the demonstration: its years stand so many years ago, so that the record always ends today."""

import csv
from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple


class Weathered(NamedTuple):
    """One day: lowest and highest air temperature in °C, rain in mm."""

    day: date
    min_c: float
    max_c: float
    rain_mm: float


def weather_until(text: str, today: date) -> Iterator[Weathered]:
    """The days before ``today`` of a file that counts its years back from it.

    A day that has not come is left out, and so is 29 February in a year that has none.
    """
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    for row in rows:
        day = _day(today.year - int(row["years_ago"]), int(row["month"]), int(row["day"]))
        if day is not None and day < today:
            yield Weathered(day, float(row["min_c"]), float(row["max_c"]), float(row["rain_mm"]))


def _day(year: int, month: int, day: int) -> date | None:
    if (month, day) == (2, 29):
        last = date(year, 3, 1) - timedelta(1)
        return last if last.day == day else None
    return date(year, month, day)
