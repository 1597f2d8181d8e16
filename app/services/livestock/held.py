"""What may not be done with animals today: withdrawal periods that run, and the standstill of the holding."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.bars import holds_in
from app.rules.facts import Entry
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.tasks import Bar
from app.rules.terms import NATIONS, Nation
from app.services.book import Book
from app.services.livestock.groups import STANDS_STILL, Group, date_of
from app.sheets.livestock_law import Told, standstill
from app.trade.livestock.standstill import Arrival, held_until

EATEN = ("eat", "sell", "slaughter")
MOVED = "move off"


class Held(NamedTuple):
    """A bar of law on a group: which acts, until which day (None: until something is said), why, and laid by whom."""

    group: Entry
    acts: tuple[str, ...]
    first: Day
    last: Day | None
    says: str
    by: Entry | None
    bar: Bar


class Still(NamedTuple):
    """The standstill by species: the last day on which each may not leave; from which arrivals, and by which rows."""

    nation: Nation | None
    known: bool  # whether any row of the nation's law covers today
    until: Mapping[str, Day]
    arrivals: tuple[tuple[Entry, str], ...]
    rows: tuple[tuple[str, str, int, Told], ...]  # came, held, days


def held(live: Live, groups: Iterable[Group], today: Day) -> list[Held]:
    """Every bar of law that holds what a group may be eaten, sold or killed for, the longest of each sentence."""
    found: dict[tuple[str, str, str], Held] = {}
    for group in groups:
        for act in EATEN:
            for bar in live.bars().on(act, group.entry, group.species, today):
                if bar.kind != "law" or not bar.by:
                    continue
                name = (group.entry.id, bar.by, bar.says)
                known = found.get(name)
                acts = tuple(dict.fromkeys((*(known.acts if known else ()), act)))
                last = _later(known.last, bar.last) if known else bar.last
                laid = live.laid.get(bar.by)
                found[name] = Held(group.entry, acts, bar.first, last, bar.says, laid.entry if laid else None, bar)
    return sorted(found.values(), key=lambda one: (one.group.name.casefold(), one.last or 10**8, one.says))


def until_of(rows: Iterable[Held | Bar]) -> Day | None:
    """The last day of several bars together; None where one has no end yet.

    Source: each bar's own; the longest holds.
    """
    ends = [one.last for one in rows]
    return None if None in ends or not ends else max(end for end in ends if end is not None)


def still(book: Book, session: Session, today: Day) -> Still:
    """The standstill of the holding today, from what really arrived; without a nation there is none, and no date.

    Source: each row's own.
    """
    row = book.holding(session)
    nation: Nation | None = next((name for name in NATIONS if name == row.nation), None)
    rows = standstill(nation, today)
    came = arrivals(book, book.live(session, today), nation, today)
    found = [Arrival(date_of(entry), species) for entry, species in came]
    holds = [hold for hold, _ in rows or ()]
    longest = {one: max((hold.days for hold in holds if one in hold.came), default=0) for one in STANDS_STILL}
    came = tuple((entry, species) for entry, species in came if date_of(entry) + longest[species] >= today)
    until = held_until(found, [hold for hold, _ in rows or ()])
    cells = tuple(
        (species, other, hold.days, told)
        for hold, told in rows or () for species in hold.came for other in hold.held
    )  # fmt: skip
    return Still(nation, rows is not None, {name: day for name, day in until.items() if day >= today}, came, cells)


def arrivals(book: Book, live: Live, nation: Nation | None, today: Day) -> tuple[tuple[Entry, str], ...]:
    """What came and lays a standstill that may run still: entries whose sheet has one in this nation, by species."""
    found = []
    for laid in list(live.laid.values()):
        entry, sheet = laid.entry, book.library.sheets.get(laid.entry.sheet)
        if sheet is None or entry.struck or not entry.sure or sheet.species not in STANDS_STILL:
            continue
        lays = any(
            bar.on == "holding" and MOVED in bar.acts and bar.kind == "law" and holds_in(bar, nation)
            for bar in sheet.bars
        )
        if lays and today - 60 <= date_of(entry) <= today:
            found.append((entry, sheet.species))
    return tuple(sorted(found, key=lambda one: (date_of(one[0]), one[0].id)))


def _later(one: Day | None, other: Day | None) -> Day | None:
    return None if one is None or other is None else max(one, other)
