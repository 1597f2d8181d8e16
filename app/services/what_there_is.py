"""What there is: every entry with its next job, and one entry with all that follows from it."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.records.store import ClashRow
from app.rules.facts import Entry
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.state import ASKED, State, state
from app.rules.tasks import Bar, Laid, Task
from app.rules.terms import TRADES
from app.services.book import Book
from app.services.entries import find
from app.services.larder.kit_claims import of_kit
from app.services.preview import bars_of

OPEN = frozenset({*ASKED, State.TO_COME, State.WAITING})
_FIRST = {State.LATE: 0, State.CLOSING: 1, State.OPEN: 2, State.TO_COME: 3, State.WAITING: 4}


class Thing(NamedTuple):
    """An entry in the list, with its next job and what that is today."""

    entry: Entry
    sheet: Sheet | None
    next: Task | None
    state: State | None


class Things(NamedTuple):
    """What the list shows; ``over`` counts what is struck out or has ended."""

    shown: tuple[Thing, ...]
    there: int
    over: int


class Whole(NamedTuple):
    """One entry with all that follows.

    ``made`` came of it; ``names`` are those of every entry, for the others it clashes with; ``maker`` is what the job
    that made it is called, "" when it was put down.
    """

    entry: Entry
    sheet: Sheet | None
    laid: Laid
    note: str
    bars: tuple[Bar, ...]
    clashes: tuple[ClashRow, ...]
    made: tuple[Entry, ...]
    names: dict[str, str]
    maker: str = ""
    own: tuple[tuple[str, str], ...] = ()  # what is done otherwise than the sheet says: the job, and how


def what_there_is(
    book: Book, session: Session, today: Day, *, words: str = "", trade: str = "", over: bool = False
) -> Things:
    """The entries in whose name, place, kind or open jobs all the words stand.

    Raises: MissingFact while the first run is not done.
    """
    live = book.live(session, today)
    wanted = words.casefold().split()
    found, there, gone = [], 0, 0
    for laid in list(live.laid.values()):
        entry, sheet = laid.entry, book.library.sheets.get(laid.entry.sheet)
        if not entry.sure:
            continue
        ended = is_over(entry, today)
        gone, there = gone + ended, there + (not ended)
        if (ended and not over) or (trade and (sheet is None or sheet.trade != trade)):
            continue
        if _has(laid, sheet, wanted, today):
            following = next_job(laid.tasks, today)
            found.append(Thing(entry, sheet, following, state(following, today) if following else None))
    found.sort(key=_order)
    return Things(tuple(found), there, gone)


def all_entries(book: Book, session: Session, today: Day) -> list[Entry]:
    """Every entry, made ones among them, over and struck out or not."""
    return [laid.entry for laid in list(book.live(session, today).laid.values())]


def whole(book: Book, session: Session, entry_id: str, today: Day) -> Whole:
    """One entry and its chain.

    Raises: NotFound when there is no such entry.
    """
    entry = find(book, session, entry_id, today)
    live = book.live(session, today)
    laid = live.laid.get(entry_id)
    if laid is None:
        raise NotFound("There is no such entry.")
    bars = bars_of(book, live.planner, _bars(live, entry), today, laid)
    others = list(live.laid.values())
    return Whole(
        entry,
        book.library.sheets.get(entry.sheet),
        laid,
        store.entry_note(session, entry_id),
        bars,
        tuple(of_kit(book, session, store.clash_rows(session, entry_id), today)),
        tuple(one.entry for one in others if one.entry.made_by and split_key(one.entry.made_by).entry == entry_id),
        {one.entry.id: one.entry.name for one in others},
        _maker(book, live, entry),
        _own(live, entry),
    )


def is_over(entry: Entry, today: Day) -> bool:
    """Whether an entry is struck out or has ended."""
    return entry.struck or (entry.ends is not None and entry.ends < today)


def next_job(tasks: Iterable[Task], today: Day) -> Task | None:
    """The job that is next: what is asked now before what is to come, the soonest to close first."""
    still = [(state(task, today), task) for task in tasks]
    best = [(_FIRST[what], task.closes or 10**8, task.key, task) for what, task in still if what in OPEN]
    return min(best)[3] if best else None


def _has(laid: Laid, sheet: Sheet | None, words: Sequence[str], today: Day) -> bool:
    if not words:
        return True
    entry = laid.entry
    titles = {step.id: step.title for step in sheet.steps} if sheet is not None else {}
    open_steps = {task.step for task in laid.tasks if state(task, today) in OPEN}
    parts = [entry.name, entry.place, entry.sheet, *(titles.get(step, "") for step in sorted(open_steps))]
    if sheet is not None:
        parts += [sheet.title, sheet.kind]
    text = " ".join(parts).casefold()
    return all(word in text for word in words)


def _order(thing: Thing) -> tuple[int, str, str]:
    trade = TRADES.index(thing.sheet.trade) if thing.sheet is not None else len(TRADES)
    return trade, thing.entry.name.casefold(), thing.entry.id


def _maker(book: Book, live: Live, entry: Entry) -> str:
    if not entry.made_by:
        return ""
    made_by = split_key(entry.made_by)
    maker = live.laid.get(made_by.entry)
    sheet = book.library.sheets.get(maker.entry.sheet) if maker is not None else None
    steps = sheet.steps if sheet is not None else ()
    return next((step.title for step in steps if step.id == made_by.step), made_by.step)


def _own(live: Live, entry: Entry) -> tuple[tuple[str, str], ...]:
    sheet = live.planner.sheet_of(entry)
    if sheet is None or not sheet.own:
        return ()
    titles = {step.id: step.title for step in sheet.steps}
    return tuple((titles[name], said) for name, some in sheet.own.items() for said in some)


def _bars(live: Live, entry: Entry) -> list[Bar]:
    return [*live.law(), *(bar for one in list(live.laid.values()) if one.entry.id != entry.id for bar in one.bars)]
