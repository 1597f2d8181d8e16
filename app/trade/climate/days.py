"""Days of a common year of 365 days, on which a climate is described, and their place in the real calendar.

Index 0 is 1 January. 29 February has the climate of the 28th. A season year is the calendar year north of the equator;
south of it, it runs from 1 July to the next 30 June and is called after the year in which it begins.
"""

from calendar import isleap
from datetime import date

MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
YEAR = 365
FIRST_JULY = 181
"""The index of 1 July: 31 + 28 + 31 + 30 + 31 + 30."""
_LEAP_AT = 59

MONTH_STARTS = tuple(sum(MONTH_DAYS[:month]) for month in range(12))


def index_of(day: int) -> int:
    """The index (0 to 364) of a day number (proleptic Gregorian ordinal) in the common year.

    Source: ISO 8601-1:2019, 4.2.1 (the Gregorian calendar); 29 February counts as the 28th.
    """
    when = date.fromordinal(day)
    index = when.timetuple().tm_yday - 1
    return index - 1 if index >= _LEAP_AT and isleap(when.year) else index


def day_of(year: int, index: int) -> int:
    """The day number of an index counted from 1 January of ``year``; below 0 and beyond 364 it runs into other years.

    Source: as `index_of`, of which it is the inverse on every day but 29 February.
    """
    year += index // YEAR
    index %= YEAR
    start = date(year, 1, 1).toordinal()
    return start + index + (1 if index >= _LEAP_AT and isleap(year) else 0)


def index_in_year(month: int, day: int) -> int:
    """The index of a day of the year; 29 February is taken as the 28th.

    Source: as `index_of`.
    """
    return MONTH_STARTS[month - 1] + min(day, MONTH_DAYS[month - 1]) - 1
