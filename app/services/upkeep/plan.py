"""The upkeep of the place planned alone, fifteen years ahead; kept, and brought up to date entry by entry."""

from collections.abc import Callable, Mapping
from threading import Lock
from typing import Any, NamedTuple, TypeVar
from weakref import WeakKeyDictionary

from sqlalchemy.orm import Session

from app.rules.facts import Amendment, Entry, Tick
from app.rules.live import Live
from app.rules.plan import Planner
from app.rules.spans import Day
from app.rules.tasks import Laid
from app.rules.touch import root
from app.services.book import Book

YEARS_AHEAD = 15
AHEAD = round(YEARS_AHEAD * 365.25)

T = TypeVar("T")
_Facts = tuple[Entry | None, tuple[Amendment, ...], tuple[Tick, ...]]


class Far:
    """What follows from the upkeep entries up to ``last``: ``laid`` by entry id, ``ticks`` by entry id.

    ``kept`` holds what pages have worked out of all of it, and goes when a fact of upkeep changes; ``of`` what they
    have worked out of one entry, beside its `Laid`, by kind and entry id: it serves while that stays the same.
    """

    def __init__(
        self, laid: Mapping[str, Laid], ticks: Mapping[str, tuple[Tick, ...]], as_of: Day, last: Day,
        of: dict[tuple[str, str], tuple[Laid, Any]] | None = None,
    ) -> None:  # fmt: skip
        self.laid, self.ticks, self.as_of, self.last = laid, ticks, as_of, last
        self.kept: dict[str, Any] = {}
        self.of = {} if of is None else of

    def each(self, kind: str, laid: Laid, work: Callable[[], T]) -> T:
        """What is worked out of one entry, once for as long as it is laid the same."""
        known = self.of.get((kind, laid.entry.id))
        if known is None or known[0] is not laid:
            known = self.of[kind, laid.entry.id] = (laid, work())
        found: T = known[1]
        return found


class _Known(NamedTuple):
    planner: Planner
    live: Live
    facts: dict[str, _Facts]
    far: Far


_known: WeakKeyDictionary[Book, _Known] = WeakKeyDictionary()
_lock = Lock()


def upkeep_plan(book: Book, session: Session, today: Day) -> Far:
    """The upkeep entries and all that follows from them in fifteen years; only what was changed is laid again.

    Nothing else is planned so far ahead: no entry of another trade moves a wall.
    Raises: MissingFact while the first run is not done.
    """
    near = book.live(session, today)
    facts = _facts(book, near)
    with _lock:
        known = _known.get(book)
        if known is None or known.planner is not near.planner or known.live.as_of != today:
            live, of = Live(near.planner, *_apart(facts), today, today + AHEAD), None
        elif known.facts == facts:
            return known.far
        else:
            live, of = _changed(known.live, known.facts, facts), known.far.of
        ticks = {name: one[2] for name, one in facts.items()}
        far = Far(dict(live.laid), ticks, today, live.last, of)
        _known[book] = _Known(near.planner, live, facts, far)
        return far


def is_upkeep(book: Book, entry: Entry) -> bool:
    """Whether an entry is one of upkeep."""
    sheet = book.library.sheets.get(entry.sheet)
    return sheet is not None and sheet.trade == "upkeep"


def _facts(book: Book, near: Live) -> dict[str, _Facts]:
    """The facts of upkeep by entry id, those of entries that its jobs make (logs of felled trees) among them."""
    mine = {name: entry for name, entry in near.facts.entries.items() if is_upkeep(book, entry)}
    said = (*near.facts.ticks, *near.facts.amendments)
    made = {name for name in said if name not in mine and root(name) in mine}
    return {
        name: (
            mine.get(name),
            tuple(one for one in (near.facts.amendments.get(name),) if one is not None),
            tuple(near.facts.ticks.get(name, ())),
        )
        for name in (*mine, *made)
    }


def _apart(facts: Mapping[str, _Facts]) -> tuple[list[Entry], list[Amendment], list[Tick]]:
    entries = [one[0] for one in facts.values() if one[0] is not None]
    return entries, [a for one in facts.values() for a in one[1]], [t for one in facts.values() for t in one[2]]


def _changed(live: Live, before: Mapping[str, _Facts], now: Mapping[str, _Facts]) -> Live:
    """The plan after the facts of some entries changed."""
    names = {name for name in before.keys() | now.keys() if before.get(name) != now.get(name)}
    for name in names:
        entry, amendments, ticks = now.get(name, (None, (), ()))
        live.facts.entries.pop(name, None)
        live.facts.amendments.pop(name, None)
        live.facts.ticks.pop(name, None)
        if entry is not None:
            live.facts.entries[name] = entry
        if amendments:
            live.facts.amendments[name] = amendments[0]
        if ticks:
            live.facts.ticks[name] = list(ticks)
    live.change(names)
    return live
