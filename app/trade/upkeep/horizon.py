"""The long view: when a part of a building comes to its end, and what falls in each year to come."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from app.errors import OutOfRange


class Due(NamedTuple):
    """One thing to be done: the year, what, its hours and its cost in the household's money."""

    year: int
    what: str
    hours: float = 0.0
    cost: float = 0.0


class YearAhead(NamedTuple):
    """What one year asks."""

    year: int
    hours: float
    cost: float
    what: tuple[str, ...]


def turns(last_year: int, years: float, first: int, end: int) -> tuple[int, ...]:
    """The years from ``first`` to ``end`` in which something comes round that takes ``years``; once, when overdue.

    What should have been done before ``first`` is due in ``first``, and is reckoned on from there.
    Source: arithmetic; a year is a year here, a window is for the page of the thing itself.
    Raises: OutOfRange for a life that is not above 0, or an end before the beginning.
    """
    if years <= 0 or end < first:
        raise OutOfRange("A life in years", years, "above 0, and an end after the beginning")
    found: list[int] = []
    due = last_year + years
    while round(due) <= end:
        year = max(round(due), first)
        found.append(year)
        due = max(due, float(first)) + max(years, 1.0)
    return tuple(found)


def by_year(dues: Iterable[Due], first: int, end: int) -> Sequence[YearAhead]:
    """Hours, money and what there is to do in each year from ``first`` to ``end``, empty years among them.

    Source: arithmetic.
    """
    years: dict[int, list[Due]] = {year: [] for year in range(first, end + 1)}
    for due in dues:
        if due.year in years:
            years[due.year].append(due)
    return [
        YearAhead(year, sum(one.hours for one in all_), sum(one.cost for one in all_), tuple(one.what for one in all_))
        for year, all_ in years.items()
    ]
