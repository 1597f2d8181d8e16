"""Months counted on the calendar: the law tells ages and terms in months, and a month is no number of days."""

from calendar import monthrange
from datetime import date


def months_after(day: int, months: int) -> int:
    """The day number so many calendar months on; the last of a shorter month where there is no such day.

    ``day`` is a proleptic Gregorian ordinal; ``months`` may be negative.
    Source: the calendar.
    """
    begun = date.fromordinal(day)
    year, month = divmod(begun.year * 12 + begun.month - 1 + months, 12)
    return date(year, month + 1, min(begun.day, monthrange(year, month + 1)[1])).toordinal()
