"""On which half of the earth a place lies, read from its own days."""

from datetime import date

from app.trade.climate.season import Season

EQUAL_DAY_H = 12.0


def is_south(season: Season | None, year: int) -> bool:
    """Whether days grow past twelve hours in the second half of the year; no, where that never happens or is not known.

    Source: astronomy: they do so near the March equinox in the north and the September one in the south.
    """
    day = season.mark("day longer than", EQUAL_DAY_H, year) if season is not None else None
    return day is not None and date.fromordinal(day).month > 6
