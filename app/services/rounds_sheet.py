"""What stands on the round besides its jobs: what each group gets, birds out and in by the sun, frost, the vet."""

from datetime import datetime
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.spans import Day
from app.services.almanac import light_of
from app.services.book import Book
from app.services.livestock.feed_groups import eaters, needs
from app.services.livestock.winters import winters
from app.services.today import zone
from app.trade.livestock.dusk import HenDay, hen_day

BEDDING = ("straw", "shavings")
NOT_FED = ("water", "grit", "grass, dry matter", *BEDDING)
BIRDS = ("hen", "duck", "goose", "turkey", "quail", "guinea fowl")
FROST_PERCENT = 20.0
"""The chance of a frost in the night from which water is looked to. Source: common practice."""


class Gets(NamedTuple):
    """What a group gets in a day, by thing and unit."""

    entry: str
    name: str
    place: str
    head: int
    a_day: tuple[tuple[str, str, float], ...]

    @property
    def feed(self) -> tuple[tuple[str, str, float], ...]:
        """What is carried to it: neither water, nor bedding, nor the grass it stands on."""
        return tuple(one for one in self.a_day if one[0] not in NOT_FED)


class RoundDay(NamedTuple):
    """The first and the last of some days: sun for the birds (None without any), frost in %, and whom to call."""

    gets: tuple[Gets, ...]
    first: HenDay | None
    last: HenDay | None
    frost_percent: float
    vet: str


def round_day(book: Book, session: Session, first: Day, last: Day, today: Day) -> RoundDay:
    """What the sheet for these days must say; amounts are those of the first day.

    Raises: MissingFact while the first run is not done.
    """
    home, season, cold = book.holding(session), book.season(session), winters(book, session)
    here = [one for one in eaters(book, session, today) if one.first <= last]
    gets = []
    for one in here:
        day = max(first, one.first)
        head = one.heads(day, day)[0]
        rows = needs(one, day, day, cold) if head and day >= one.born else {}
        amounts = tuple((what, unit, row[0]) for (what, unit), row in rows.items() if row[0])
        if head:
            gets.append(Gets(one.entry.id, one.entry.name, one.entry.place, head, amounts))
    birds = any(one.sheet.species in BIRDS for one in here)
    local = zone(home.timezone)
    sun = [hen_day(home.latitude, home.longitude, local, day) for day in (first, last)] if birds else [None, None]
    frost = max(light_of(season, first, last).frost_percent, default=0.0)
    return RoundDay(tuple(gets), sun[0], sun[1], frost, home.vet or "")


def minutes_of(at: datetime | None) -> int | None:
    """A moment as minutes after midnight."""
    return None if at is None else at.hour * 60 + at.minute


def shut_at(found: RoundDay) -> tuple[int, int] | None:
    """When birds are shut up on the first and the last day, in minutes after midnight; None without birds, or sun."""
    ends = [minutes_of(day.shut) if day is not None else None for day in (found.first, found.last)]
    return None if ends[0] is None or ends[1] is None else (ends[0], ends[1])


def out_at(found: RoundDay) -> tuple[int, int] | None:
    """When they are let out, likewise: at sunrise."""
    ends = [minutes_of(day.out) if day is not None else None for day in (found.first, found.last)]
    return None if ends[0] is None or ends[1] is None else (ends[0], ends[1])
