"""The winters of the place: on which days hay is fed, and which of them is next."""

from datetime import date

from sqlalchemy.orm import Session

from app.rules.spans import Day
from app.services.book import Book
from app.trade.climate.season import Season
from app.trade.livestock.winter import Winter, winter_feeding

AHEAD_DAYS = 366


class Winters:
    """Winter feeding by the season of a place."""

    def __init__(self, season: Season) -> None:
        self._season = season
        self._known: dict[int, Winter | None] = {}

    def at(self, day: Day) -> Winter | None:
        """The winter that a day lies in."""
        year = date.fromordinal(day).year
        return next((one for one in self._about(year) if one.first <= day <= one.last), None)

    def next(self, day: Day) -> Winter | None:
        """The winter that is, or the next one within a year; None where hay is never fed."""
        year = date.fromordinal(day).year
        found = [one for one in self._about(year) if one.last >= day and one.first <= day + AHEAD_DAYS]
        return min(found, default=None)

    def _about(self, year: int) -> list[Winter]:
        """Those of the seasons that may touch a year: one that began the year before lasts into this one."""
        for one in range(year - 2, year + 2):
            if one not in self._known:
                self._known[one] = winter_feeding(self._season.mark, one)
        return [found for one in range(year - 2, year + 2) if (found := self._known[one]) is not None]


def winters(book: Book, session: Session) -> Winters:
    """The winters of the holding.

    Raises: MissingFact while the first run is not done.
    """
    return Winters(book.season(session))
