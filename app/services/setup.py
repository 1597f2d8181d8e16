"""The first run: where the holding is, when it freezes, what there is."""

import secrets
from collections.abc import Sequence
from datetime import UTC, date, datetime
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import Conflict
from app.records import store
from app.records.store import HoldingRow, NormalsMonthRow
from app.rules.facts import Entry
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.services.book import Book
from app.services.entries import add_all
from app.services.preview import Copy, Draft, as_it_would_be
from app.services.weather.season import season_of
from app.sheets.places import places

ZONES = {"ireland": "Europe/Dublin", "elsewhere": "UTC"}
A_YEAR = 365


class Where(NamedTuple):
    """Where the holding is and how it lies. ``climate`` is the id of the place whose weather is most like it.

    ``aspect`` is the side it slopes to, "" where that was not said; ``frost_hollow`` whether cold air gathers there.
    """

    name: str
    nation: str
    latitude: float
    longitude: float
    altitude_m: float
    climate: str
    aspect: str = ""
    frost_hollow: bool = False


class House(NamedTuple):
    """When it freezes there (days of the year, "--05-12"; None: as estimated), who eats, and how it is measured.

    ``vet`` is whom to call for an animal, with the number.
    """

    last_frost: str | None
    first_frost: str | None
    mouths: float
    units: str
    timezone: str
    vet: str = ""


class Estimate(NamedTuple):
    """The middle dates of the frosts that a place's weather gives; None where it never comes to that."""

    last_frost: date | None
    first_frost: date | None


class Offered(NamedTuple):
    """A sheet that can be ticked in one go: everything on it has a usual answer."""

    sheet: str
    title: str
    trade: str
    about: str


def is_set_up(session: Session) -> bool:
    """Whether the first run is over."""
    return store.holding(session) is not None


def climates() -> list[tuple[str, str]]:
    """The places with weather on record, by id and name."""
    return [(one.id, one.name) for one in places().normals.values()]


ASPECTS = store.ASPECTS
"""The sides a holding may slope to, and flat."""


def estimate(where: Where, year: int, months: Sequence[NormalsMonthRow] = ()) -> Estimate:
    """When the last and the first frost come in the middle year of ``year``'s season.

    Source: `NormalsSeason` over the monthly means of the place named, or of the household's own ``months``.
    """
    unasked = House(None, None, 0.0, "metric", "UTC")
    season = season_of(holding_row(where, unasked, datetime.fromtimestamp(0, UTC)), months=months)
    last, first = (season.mark(name, 50, year) for name in ("last frost", "first frost"))
    return Estimate(date.fromordinal(last) if last else None, date.fromordinal(first) if first else None)


def usual_zone(nation: str) -> str:
    """The time zone that most of a nation's clocks show."""
    return ZONES.get(nation, "Europe/London")


def offered(book: Book) -> list[Offered]:
    """The sheets to tick at first run: those that want no fact without a usual answer, and that nothing else makes."""
    made = {m.sheet for s in book.library.sheets.values() for step in s.steps for m in step.makes if m.kind == "entry"}
    return [
        Offered(sheet.id, sheet.title, sheet.trade, sheet.about)
        for sheet in sorted(book.library.sheets.values(), key=lambda one: one.title)
        if sheet.id not in made and not sheet.found and _is_plain(sheet)
    ]


def begin(book: Book, where: Where, house: House, sheets: Sequence[str], today: Day) -> None:
    """Take the holding down and put in what there is, each at the date on which its year is seen best.

    Raises: Conflict when there is a holding already.
    """
    with book.writing() as session:
        if is_set_up(session):
            raise Conflict("The holding is set up already; it is changed on the Household page.")
        made = book.now().replace(microsecond=secrets.randbelow(1_000_000))
        store.put_holding(session, holding_row(where, house, made))
        book.replan(session, None, today)
        known = {one.sheet for one in offered(book)}
        there = [book.library.sheets[name] for name in dict.fromkeys(sheets) if name in known]
        # The dates first, while the plan is empty: with every entry already there each next one would take longer.
        add_all(
            book, session, [Draft(s.id, "", "", {"date": likely_date(book, session, s, today)}) for s in there], today
        )


def likely_date(book: Book, session: Session, sheet: Sheet, today: Day) -> Day:
    """The date to offer for an entry that is put down today.

    What is begun in its season begins on that step's next best day, and never today, since that would say that it was
    done; what is kept up (a wall, a gutter) was last done a year ago, so that its year is ahead; everything else is
    here since today, work that is to be done once (trees to be felled, a bonfire) among it.
    """
    if not sheet.begins:
        return today - A_YEAR if is_kept_up(sheet) else today
    day = today + 1
    for _ in range(3):
        best = _best_of_beginning(book, session, sheet, day, today)
        if best is None or best == day:
            break
        day = best
    return day


def is_kept_up(sheet: Sheet) -> bool:
    """Whether an entry of this sheet is dated by when it was last done: one that comes round, of buildings and land."""
    return sheet.trade == "upkeep" and any(
        step.again is not None and (step.again.kind == "yearly" or step.again.last is not None) for step in sheet.steps
    )


def asks_last_done(sheet: Sheet) -> bool:
    """Whether its date is a day gone by: "Last painted on", and not "Put up on", which may be planned."""
    return is_kept_up(sheet) and "last" in sheet.facts["date"].label.casefold()


def _best_of_beginning(book: Book, session: Session, sheet: Sheet, day: Day, today: Day) -> Day | None:
    """When the step that begins an entry of this date would best be done; None when that is not known or is over."""
    ident = store.free_id(session, sheet.id)
    entry = Entry(ident, sheet.id, sheet.title, {"date": day}, today)
    after = as_it_would_be(book, session, ident, Copy(entry), today)
    every = after.laid[ident].tasks
    tasks = [t for t in every if t.step == sheet.begins and t.closes is not None and t.closes >= today]
    first = min(tasks, key=lambda task: task.label, default=None)
    return None if first is None or first.best is None else max(first.best, today + 1)


def _is_plain(sheet: Sheet) -> bool:
    return all(ask.default is not None or ask.optional for name, ask in sheet.facts.items() if name != "date")


def holding_row(where: Where, house: House, made: datetime) -> HoldingRow:
    """The holding's row. Its calendar's identifiers grow from the moment it was ``made``, to the microsecond."""
    return HoldingRow(
        id=1,
        name=where.name,
        nation=where.nation or None,
        latitude=where.latitude,
        longitude=where.longitude,
        altitude_m=where.altitude_m,
        aspect=where.aspect or None,
        frost_hollow=where.frost_hollow,
        normals=where.climate or None,
        timezone=house.timezone,
        mouths=house.mouths,
        units=house.units,
        last_frost_50=house.last_frost,
        first_frost_50=house.first_frost,
        created_at=made,
        vet=house.vet or None,
    )
