"""The weather as the household tells it, and what it means for a day's jobs: what it puts off, what it calls for."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.rules.spans import Day
from app.rules.step import Needs
from app.services.book import Book

SKIES = ("dry", "showers", "wet")
NIGHT_AND_WIND = ("frost", "wind")
WHAT = (*SKIES, *NIGHT_AND_WIND)
"""What can be told of a day: one of the skies, a frost in the night after it, wind."""

AHEAD = 2
"""So many days beyond today can be told: a forecast is worth little beyond. Our own choice."""

BACK = 7
"""What was told on a phone without signal may come in so many days late, and is taken down all the same."""

INDOORS = frozenset({"kitchen", "larder", "shed", "smoker", "store", "under cover", "workshop"})
"""Places with a roof over them, as sheets and households name them, in small letters."""

FROST_BRINGS_DAYS = 14
"""A job that guards against frost is brought forward by a frost told for tonight when it opens within so many days."""


class Told(NamedTuple):
    """The weather of a day as it was told; ``sky`` is "dry", "showers", "wet" or "" while nothing was said of it."""

    day: Day
    sky: str = ""
    frost: bool = False
    wind: bool = False

    def holds(self, what: str) -> bool:
        """Whether one of `WHAT` is told of the day."""
        return {"frost": self.frost, "wind": self.wind}.get(what, what == self.sky)

    @property
    def rain(self) -> bool:
        """Whether a job that wants a dry day can't be done."""
        return self.sky in ("showers", "wet")


def told(session: Session, first: Day, last: Day) -> tuple[Told, ...]:
    """The days from ``first`` to ``last``, both inclusive, those of which nothing is told too."""
    rows = {row.day.toordinal(): row for row in store.weather_told(session, first, last)}
    return tuple(
        Told(day, row.sky or "", row.frost, row.wind) if (row := rows.get(day)) is not None else Told(day)
        for day in range(first, last + 1)
    )


def tell(book: Book, day: Day, what: str, holds: bool, today: Day) -> Told:
    """Say of a day that something holds, or holds no longer; saying it twice is saying it once.

    Raises: BadInput for a day out of reach, and for what is no weather.
    """
    if what not in WHAT:
        raise BadInput({"what": "That is not one of the kinds of weather that can be told."})
    if not today - BACK <= day <= today + AHEAD:
        raise BadInput({"day": "The weather is told for today and the two days after it."})
    with book.writing() as session:
        now = _said(told(session, day, day)[0], what, holds)
        store.tell_weather(session, day, sky=now.sky, frost=now.frost, wind=now.wind, at=book.now())
        book.replan(session, (), today)
    return now


def _said(was: Told, what: str, holds: bool) -> Told:
    match what:
        case "frost":
            return was._replace(frost=holds)
        case "wind":
            return was._replace(wind=holds)
        case _ if holds:
            return was._replace(sky=what)
        case _:
            return was._replace(sky="") if was.sky == what else was


def unmet(needs: Needs, weather: Told) -> str:
    """Which need of a job the weather told does not meet: "dry", "still", "no frost", "warm", or "" when it meets all.

    What needs warmth is put off by a frost told for the night: it falls to 0 °C before morning.
    """
    if needs.dry and weather.rain:
        return "dry"
    if needs.still and weather.wind:
        return "still"
    if needs.no_frost and weather.frost:
        return "no frost"
    if needs.above_c is not None and needs.above_c > 0 and weather.frost:
        return "warm"
    return ""


def under_cover(place: str, needs: Needs) -> bool:
    """Whether a job can be done with a roof over it while it is wet."""
    return place.casefold() in INDOORS and not needs.dry
