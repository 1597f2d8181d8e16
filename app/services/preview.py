"""What would follow: the planner on a copy of the facts, before anything is saved."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.records.values import moment_text
from app.rules.bars import Bars
from app.rules.facts import Amendment, Entry, Tick
from app.rules.keys import split_key
from app.rules.looking import Beside, beside
from app.rules.moves import Move
from app.rules.plan import Planner
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Bar, Clash, Lack, Laid, Task
from app.rules.terms import Value
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.garden.beds import sowing_advice
from app.services.garden.flowering import near_warnings
from app.services.garden.seed_lines import warnings
from app.services.larder.kit_claims import FreezerShort, KitClash, freezer_short, kit_clashes, of_kit
from app.services.preserving.drying import dryer_hours
from app.services.work_of import Work, work_of

KEEPING = ("meat", "preserving")


class Draft(NamedTuple):
    """An entry as it was typed, not yet put down."""

    sheet: str
    name: str
    place: str
    facts: Mapping[str, Value]
    note: str = ""


class Copy(NamedTuple):
    """The facts as they would be: what is put in place of what, and the ticks said with it."""

    entry: Entry | None = None
    amendment: Amendment | None = None
    ticks: tuple[Tick, ...] = ()


class Looked(NamedTuple):
    """What would follow. ``seen`` is a digest of the dates, so that only dates that were seen are saved.

    ``moves`` are all jobs that would be dated otherwise, in the entry itself and elsewhere; ``bars`` and ``clashes``
    are those that concern the entry; ``warnings`` are sentences about what it is sown with, ``advice`` about its bed.
    """

    laid: Laid
    moves: tuple[Move, ...]
    titles: Mapping[str, str]
    clashes: tuple[Clash, ...]
    bars: tuple[Bar, ...]
    lacks: tuple[Lack, ...]
    seen: str
    warnings: tuple[str, ...] = ()
    advice: tuple[str, ...] = ()
    kit: tuple[KitClash, ...] = ()  # kit that others have then, and the way out
    room: FreezerShort | None = None
    work: Work | None = None  # of what is kept: hands-on and waiting told apart


def sheet_of(book: Book, sheet_id: str) -> Sheet:
    """A sheet by its id.

    Raises: NotFound.
    """
    found = book.library.sheets.get(sheet_id)
    if found is None:
        raise NotFound(f"There is no sheet called {sheet_id[:60]!r}.")
    return found


def look(book: Book, session: Session, entry_id: str, copy: Copy, today: Day) -> Looked:
    """What would follow for an entry, and what would move, if the facts were as in ``copy``.

    Raises: MissingFact while the first run is not done.
    """
    after = as_it_would_be(book, session, entry_id, copy, today)
    laid = after.laid[entry_id]
    moved = tuple(after.moves())
    sheet = book.library.sheets.get(laid.entry.sheet)
    grows = sheet is not None and sheet.trade == "garden"  # seed and beds are asked of nothing else
    return Looked(
        laid,
        moved,
        titles(book, [*after.before, *after.laid.values()], moved),
        tuple(of_kit(book, session, after.clashes(entry_id), today)),
        bars_of(book, book.live(session, today).planner, after.bars(), today, laid),
        laid.lacks,
        _seen(laid, moved),
        (*warnings(book, session, laid, today), *near_warnings(book, session, laid, today)) if grows else (),
        sowing_advice(book, session, laid, today) if copy.entry is not None and grows else (),
        *_kept(book, session, laid, today),
    )


def _kept(
    book: Book, session: Session, laid: Laid, today: Day
) -> tuple[tuple[KitClash, ...], FreezerShort | None, Work | None]:
    """What keeping asks of the house: kit that is taken, a freezer that is full, hours with hands and without."""
    sheet = book.library.sheets.get(laid.entry.sheet)
    if sheet is None or sheet.trade not in KEEPING:
        return (), None, None
    room = freezer_short(book, session, laid, sheet)
    work = work_of(laid, sheet, dryer_hours(book, laid.entry))
    return kit_clashes(book, session, laid, today), room, work


def as_it_would_be(book: Book, session: Session, entry_id: str, copy: Copy, today: Day) -> Beside:
    """The plan as it would be; what is in memory stays as it is."""
    return beside(book.live(session, today), {entry_id}, copy.entry, copy.amendment, copy.ticks)


def titles(book: Book, shares: Iterable[Laid], moved: Iterable[Move]) -> Mapping[str, str]:
    """What the jobs that move are called: "Plant out: leeks"."""
    wanted = {move.key for move in moved}
    return {
        task.key: f"{title(book, laid.entry, task)}: {laid.entry.name}"
        for laid in shares for task in laid.tasks if task.key in wanted
    }  # fmt: skip


def title(book: Book, entry: Entry, task: Task) -> str:
    """What a job is called on its sheet."""
    sheet = book.library.sheets.get(entry.sheet)
    steps = sheet.steps if sheet is not None else ()
    return next((step.title for step in steps if step.id == task.step), task.step.replace("-", " ").capitalize())


def bars_of(book: Book, planner: Planner, laid_bars: Iterable[Bar], today: Day, laid: Laid) -> tuple[Bar, ...]:
    """The bars that others, the law among them, lay on what this entry has still to do; of each sentence the next.

    ``laid_bars`` are those of every entry; the law of the land is added.
    """
    entry = laid.entry
    sheet = book.library.sheets.get(entry.sheet)
    days = [task.closes for task in laid.tasks if task.done is None and task.closes is not None]
    if sheet is None or not days or entry.struck:
        return ()
    land = planner.land(today, max(days))
    theirs = (bar for bar in laid_bars if bar.kind != "clash" and (bar.by != entry.id or bar.kind == "law"))
    every = Bars([*land, *theirs])
    found: dict[str, Bar] = {}
    for act in sorted({step.act for step in sheet.steps if step.act}):
        for bar in (bar for row in every.rows(act, entry, sheet.species) for bar in row.bars):
            if bar.first <= max(days) and (bar.last is None or bar.last >= today):
                known = found.get(bar.says)
                found[bar.says] = bar if known is None or bar.first < known.first else known
    return tuple(sorted(found.values(), key=lambda bar: (bar.first, bar.says)))


def begun(book: Book, session: Session, entry: Entry, today: Day, now: str, before: Entry | None = None) -> list[Tick]:
    """What an entry's date says of its first step: done on that day, once the day has come.

    ``before`` is the entry as it was: when its date is put right, a first step that was done on the old one goes with
    it. A step that the household ticked on another day stays as it was said.
    """
    sheet = book.library.sheets.get(entry.sheet)
    date = entry.facts.get("date")
    if sheet is None or not sheet.begins or not isinstance(date, int) or entry.made_by:
        return []
    said = ticks_of(session, entry.id) if before is not None else []
    done = [t for t in in_force(said) if t.kind == "done" and split_key(t.key).step == sheet.begins]
    old = next((t for t in done if before is not None and t.on == before.facts.get("date")), None)
    if done and old is None:
        return []
    number = len([t for t in said if t.id.startswith(_begin(entry.id))])
    found: list[Tick] = []
    if old is not None:
        found.append(Tick(f"{_begin(entry.id)}{number}", old.key, "undone", today, now, answers=old.id))
        number += 1
    if date <= today:
        key = old.key if old is not None else _first_key(book, session, entry, sheet, today)
        measures = old.measures if old is not None else {}
        found += [Tick(f"{_begin(entry.id)}{number}", key, "done", date, now, measures)] if key else []
    return found


def _begin(entry_id: str) -> str:
    return f"begins:{entry_id}:"


def _first_key(book: Book, session: Session, entry: Entry, sheet: Sheet, today: Day) -> str:
    """The key of the first doing of the step that begins an entry; "" when it can't be dated."""
    after = as_it_would_be(book, session, entry.id, Copy(entry), today)
    tasks = [task for task in after.laid[entry.id].tasks if task.step == sheet.begins]
    return min(tasks, key=lambda task: task.label).key if tasks else ""


def moment(book: Book) -> str:
    """Now, as ticks have it."""
    return moment_text(book.now())


def ticks_of(session: Session, entry_id: str) -> list[Tick]:
    """All that was said about an entry."""
    return store.ticks(session, [entry_id])


def _seen(laid: Laid, moved: Sequence[Move]) -> str:
    dates = [(task.key, task.opens, task.best, task.closes, task.done) for task in laid.tasks]
    return hashlib.blake2b(repr((dates, list(moved))).encode(), digest_size=9).hexdigest()
