"""Groups of animals: which sheets are of them, how many are alive, what is next."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.records.store import HeadFactRow
from app.rules.facts import Entry
from app.rules.live import Live
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.state import state
from app.rules.tasks import Task
from app.services.book import Book
from app.services.what_there_is import OPEN, is_over
from app.trade.livestock.head_counts import Said, after_each

KINDS = ("flock", "herd", "pen", "litter", "colony", "cow", "birth", "swarm")
"""The kinds of sheet whose entries are animals that are here."""
ON_THEIR_WAY = ("clutch", "tupping")
"""The kinds from which animals come: eggs set, ewes at the tup."""
STANDS_STILL = ("cattle", "sheep", "goat", "pig")
"""The species whose coming and going is reported and lays a standstill. Source: livestock-law.toml."""
LAYERS = ("hen", "duck", "goose", "turkey", "quail", "guinea fowl")
EFFECT: Mapping[str, str] = {
    **dict.fromkeys(("began", "came", "counted"), "count"),
    **dict.fromkeys(("born", "joined"), "more"),
    **dict.fromkeys(store.LOSSES, "fewer"),
}
"""What each kind of thing that is told does to a count."""
MOST_NEXT = 3


class Group(NamedTuple):
    """A group: how many are alive today, its open jobs (the next first), and how many were told at the beginning."""

    entry: Entry
    sheet: Sheet
    alive: int
    next: tuple[Task, ...]
    coming: bool  # only planned, or its day has not come
    facts: tuple[HeadFactRow, ...] = ()

    @property
    def species(self) -> str:
        """Of which species; "" where the sheet is of none."""
        return self.sheet.species


class Herd(NamedTuple):
    """All groups that are here, what is on its way, and how many are over."""

    here: tuple[Group, ...]
    coming: tuple[Group, ...]
    over: int


def is_group(sheet: Sheet | None) -> bool:
    """Whether a sheet is one of animals, or of eggs and ewes from which they come."""
    return sheet is not None and sheet.trade == "livestock" and sheet.kind in (*KINDS, *ON_THEIR_WAY)


def herd(book: Book, session: Session, today: Day) -> Herd:
    """Every group there is.

    Raises: MissingFact while the first run is not done.
    """
    live = book.live(session, today)
    facts = by_entry(store.head_facts(session))
    here: list[Group] = []
    coming: list[Group] = []
    over = 0
    for laid in list(live.laid.values()):
        sheet = book.library.sheets.get(laid.entry.sheet)
        if sheet is None or not is_group(sheet) or not laid.entry.sure:
            continue
        if is_over(laid.entry, today):
            over += 1
            continue
        one = group_of(live, laid.entry, sheet, facts.get(laid.entry.id, ()), today)
        (coming if one.coming else here).append(one)
    order = {name: at for at, name in enumerate((*STANDS_STILL[::-1], *LAYERS, "rabbit", "bees"))}
    here.sort(key=lambda one: (order.get(one.species, 99), one.entry.name.casefold(), one.entry.id))
    coming.sort(key=lambda one: (date_of(one.entry), one.entry.id))
    return Herd(tuple(here), tuple(coming), over)


def find_group(book: Book, session: Session, entry_id: str, today: Day) -> Group:
    """One group, also one that is over.

    Raises: NotFound when there is no such entry, or it is of no animals.
    """
    live = book.live(session, today)
    laid = live.laid.get(entry_id)
    sheet = book.library.sheets.get(laid.entry.sheet) if laid is not None else None
    if laid is None or sheet is None or not is_group(sheet):
        raise NotFound("There is no such group of animals.")
    return group_of(live, laid.entry, sheet, store.head_facts(session, [entry_id]), today)


def group_of(live: Live, entry: Entry, sheet: Sheet, facts: Sequence[HeadFactRow], today: Day) -> Group:
    """An entry as a group."""
    tasks = [task for task in live.laid[entry.id].tasks if task.best is not None and state(task, today) in OPEN]
    tasks.sort(key=lambda task: (task.closes or 0, task.key))
    seen: dict[str, Task] = {}
    for task in tasks:
        seen.setdefault(task.step, task)
    coming = sheet.kind in ON_THEIR_WAY or date_of(entry) > today
    return Group(entry, sheet, alive(entry, facts), tuple(seen.values())[:MOST_NEXT], coming, tuple(facts))


def alive(entry: Entry, facts: Sequence[HeadFactRow]) -> int:
    """How many are alive by what was told: the entry's own count, or what its history comes to where that says none.

    An entry's count is never below one, since a sheet reckons with it: the last one gone ends the entry.
    """
    last = after_each(said_of(facts))[-1] if facts else None
    return 0 if last == 0 else head_of(entry)


def said_of(facts: Sequence[HeadFactRow]) -> list[Said]:
    """What was told, as counting reads it, in its order."""
    return [Said(one.on_day.toordinal(), EFFECT[one.kind], one.number) for one in facts]  # type: ignore[arg-type]


def head_of(entry: Entry) -> int:
    """The count that stands on an entry; one where its sheet asks none (a house cow)."""
    head = entry.facts.get("head", 1)
    return int(head) if isinstance(head, int | float) else 1


def date_of(entry: Entry) -> Day:
    """The day of an entry."""
    date = entry.facts.get("date")
    return date if isinstance(date, int) else entry.told


def by_entry(facts: Sequence[HeadFactRow]) -> dict[str, list[HeadFactRow]]:
    """What was told, by group."""
    found: dict[str, list[HeadFactRow]] = {}
    for one in facts:
        found.setdefault(one.entry, []).append(one)
    return found


def offered(book: Book) -> tuple[Sheet, ...]:
    """The sheets that a group can be put down on, by title."""
    sheets = [one for one in book.library.sheets.values() if is_group(one) and not one.found]
    return tuple(sorted(sheets, key=lambda one: one.title.casefold()))
