"""Dates by warmth in words."""

from datetime import date

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July",
    "August", "September", "October", "November", "December",
)  # fmt: skip


def span(first: int, last: int) -> str:
    """Two days as a person says them: "8 to 24 July", "28 June to 3 July".

    Source: none; wording.
    """
    one, other = date.fromordinal(first), date.fromordinal(last)
    end = f"{other.day} {_MONTHS[other.month - 1]}"
    if first == last:
        return f"on {end}"
    if (one.year, one.month) == (other.year, other.month):
        return f"{one.day} to {end}"
    year = f" {one.year}" if one.year != other.year else ""
    return f"{one.day} {_MONTHS[one.month - 1]}{year} to {end}{f' {other.year}' if year else ''}"


def came(day: int) -> str:
    """What is said of a sum that has come.

    Source: none; wording.
    """
    on = date.fromordinal(day)
    return f"reached on {on.day} {_MONTHS[on.month - 1]} {on.year}, by the days you have taken down"


def year_so_far(later_days: int) -> str:
    """How the days that have been moved a date: "this year so far has brought it forward 4 days".

    Source: none; wording.
    """
    if not later_days:
        return "this year so far has not moved it"
    days = f"{abs(later_days)} day{'' if abs(later_days) == 1 else 's'}"
    return f"this year so far has {'put it back' if later_days > 0 else 'brought it forward'} {days}"
