"""Yearly days: the season's marks and fixed days of the year, found from any day on, and remembered."""

from calendar import monthrange
from collections.abc import Iterable
from datetime import date
from functools import lru_cache

from app.rules.spans import Day
from app.trade.climate.season import Season, Spread, Tells

_REACH = 3
"""How many seasons ahead a mark is looked for before it is said never to come."""


@lru_cache(maxsize=65536)
def year_of(day: Day) -> int:
    """The calendar year of a day number.

    Source: the proleptic Gregorian calendar, ISO 8601-1:2019, 4.2.1.
    """
    return date.fromordinal(day).year


@lru_cache(maxsize=16384)
def day_in_year(year: int, month: int, day: int) -> Day:
    """A day of the year; 29 February falls on the 28th in common years.

    Source: XML Schema 1.1 part 2, 3.3.13 (gMonthDay), clamped as python-dateutil does.
    """
    return date(year, month, min(day, monthrange(year, month)[1])).toordinal()


Question = tuple[str, float, int] | tuple[float, float, Day] | tuple[()]
"""What was asked of a season: a mark (name, value, year), a warmth (total, base, since), or all of it ()."""


class Almanac:
    """One place's season, with its answers remembered: ask it for the same mark as often as you like.

    ``asked`` are the questions that came this way: while their answers stand, so does what was reckoned from them.
    """

    __slots__ = ("_marks", "_season", "_warmth", "asked")

    def __init__(self, season: Season) -> None:
        self._season = season
        self._marks: dict[tuple[str, float, int], Day | None] = {}
        self._warmth: dict[tuple[float, float, Day], Spread | None] = {}
        self.asked: set[Question] = set()

    def listening(self) -> "Almanac":
        """The same almanac, answers and all, that has heard no question yet.

        Source: none; for one entry's laying.
        """
        other = Almanac.__new__(Almanac)
        other._season, other._marks, other._warmth, other.asked = self._season, self._marks, self._warmth, set()
        return other

    def answered_otherwise(self, before: "Almanac", asked: Iterable[Question]) -> frozenset[Question]:
        """Those of some questions to which this almanac has another answer than one before.

        Source: none; who asked for all of the season is always among them.
        """
        return frozenset(one for one in asked if not one or self._answer(one) != before._answer(one))

    def _answer(self, question: Question) -> Spread | Day | None:
        first, second, third = question  # type: ignore[misc]  # not (): that has no single answer
        if isinstance(first, str):
            return self.mark(first, second, third)
        return self.warmth(first, second, third)

    def mark(self, name: str, value: float, year: int) -> Day | None:
        """The day of a season mark in the season of ``year``, or None where it never comes.

        Source: the season's own.
        """
        asked = (name, value, year)
        self.asked.add(asked)
        if asked not in self._marks:
            self._marks[asked] = self._season.mark(name, value, year)
        return self._marks[asked]

    def warmth(self, total: float, base: float, since: Day) -> Spread | None:
        """When so many degree-days above ``base`` °C have come since a day.

        Source: the season's own.
        """
        asked = (total, base, since)
        self.asked.add(asked)
        if asked not in self._warmth:
            self._warmth[asked] = self._season.warmth(total, base, since)
        return self._warmth[asked]

    def why_warmth(self, total: float, base: float, since: Day) -> str:
        """What a date by warmth rests on, where the season can say so.

        Source: the season's own.
        """
        return self._season.why_warmth(total, base, since) if isinstance(self._season, Tells) else ""

    @property
    def season(self) -> Season:
        """The season itself, for computations that ask for it: they may ask it anything."""
        self.asked.add(())
        return self._season


class Yearly:
    """A day that comes once a year: a mark of the season, or a fixed day of the calendar."""

    __slots__ = ("day", "month", "name", "value")

    def __init__(self, name: str, value: float, month: int = 0, day: int = 0) -> None:
        self.name = name
        self.value = value
        self.month = month
        self.day = day

    def in_year(self, almanac: Almanac, year: int) -> Day | None:
        """The day it falls on in the season of ``year``; None where it does not come.

        Source: `Almanac.mark` or `day_in_year`.
        """
        if self.month:
            return day_in_year(year, self.month, self.day)
        return almanac.mark(self.name, self.value, year)

    def on_or_after(self, almanac: Almanac, day: Day) -> tuple[int, Day] | None:
        """The first (season year, day) on or after ``day``.

        Source: the definition of "the first one on or after".
        """
        start = year_of(day) - 1
        for year in range(start, start + 2 + _REACH):
            found = self.in_year(almanac, year)
            if found is not None and found >= day:
                return year, found
        return None

    def on_or_before(self, almanac: Almanac, day: Day) -> tuple[int, Day] | None:
        """The last (season year, day) on or before ``day``.

        Source: the definition of "the last one on or before".
        """
        start = year_of(day) + 1
        for year in range(start, start - 2 - _REACH, -1):
            found = self.in_year(almanac, year)
            if found is not None and found <= day:
                return year, found
        return None
