"""Saying something about a job: done, taken back, not this year, moved. Facts are always taken down."""

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime
from typing import NamedTuple
from uuid import uuid4

from sqlalchemy.orm import Session

from app.errors import BadInput, Conflict, NotFound
from app.records import store
from app.records.store import TaskRow
from app.records.values import moment_text
from app.rules.facts import Tick, TickKind, Window
from app.rules.keys import split_key
from app.rules.moves import taken_as_done
from app.rules.spans import Day
from app.rules.tasks import Laid, Plan, window
from app.rules.terms import Value
from app.rules.ticks import in_force
from app.rules.touch import root
from app.services.book import Book
from app.services.garden.sown import settle_sowing
from app.services.jobs import bars_on
from app.services.memory import is_round_key
from app.services.project import said_of
from app.services.taken_out import settle
from app.services.today import zone

LONGEST_ID = 400


class Words(NamedTuple):
    """What is written beside a tick: ``measures`` by name, ``dates`` those of them that are days."""

    measures: Mapping[str, Value] = {}
    dates: Collection[str] = ()
    remark: str = ""
    reason: str = ""
    person: int | None = None


class Moved(NamedTuple):
    """Another job whose window is not what it was; None where it is not, or no longer, dated."""

    key: str
    was: Window | None
    now: Window | None


class First(NamedTuple):
    """Who had done it already: their name, "" where it was not said, the day, and when it was said."""

    by: str
    on: Day
    at: datetime


class Outcome(NamedTuple):
    """What came of something said about a job."""

    tick_id: str
    key: str
    kind: TickKind
    on: Day
    today: Day
    title: str
    entry_name: str
    times: int  # how many things were said about it by now: the next one's id follows
    stands: bool  # whether it can be taken back
    row: TaskRow | None  # the job as it is now
    tied: tuple[str, ...] = ()  # titles of jobs taken as done with it
    flags: tuple[str, ...] = ()  # what must be said about it: a bar that it fell into
    moved: tuple[Moved, ...] = ()
    fresh: bool = True  # False when it had been sent before
    replanned: Window | None = None  # its window, where that was no longer the one that was shown
    first: First | None = None  # somebody else had ticked it already: then nothing more was taken down


NO_WORDS = Words()


def tick(
    book: Book, key: str, today: Day, *, on: Day | None = None, tick_id: str = "", shown: Window | None = None,
    words: Words = NO_WORDS, at: datetime | None = None,
) -> Outcome:  # fmt: skip
    """A job is done. What must have come before it is taken as done with it, and goes when it is taken back.

    ``at`` is the moment at which it was said, now unless a phone kept it. A job that somebody has ticked already is
    not ticked once more, unless this says more about it: then who was first is told.

    Raises: NotFound when there is no such entry; BadInput for a day to come.
    """
    day = today if on is None else on
    if day > today:
        raise BadInput({"on": "That day has not come yet. A job is ticked on the day it was done, or later."})
    with book.writing() as session:
        said = new_tick(book, key, "done", day, tick_id, shown, at)
        return _say(book, session, said, today, words, by_other=not words.measures and not words.remark)


def let_go(
    book: Book, key: str, today: Day, *, tick_id: str = "", shown: Window | None = None, reason: str = "",
    person: int | None = None, at: datetime | None = None,
) -> Outcome:  # fmt: skip
    """A job will not be done this time.

    Raises: NotFound.
    """
    with book.writing() as session:
        said = new_tick(book, key, "let go", today, tick_id, shown, at)
        return _say(book, session, said, today, Words(reason=reason, person=person))


def undo(
    book: Book, answers: str, today: Day, *, tick_id: str = "", person: int | None = None, at: datetime | None = None
) -> Outcome:
    """Take back something that was said, and what was taken as done with it.

    Raises: NotFound when it was never said; Conflict when it was taken back already.
    """
    with book.writing() as session:
        before = store.tick(session, answers)
        if before is None:
            raise NotFound("That was never said, so there is nothing to take back.")
        old = before.tick
        if old.kind == "undone":
            raise Conflict("What was taken back can’t be taken back again; tick the job instead.")
        said = new_tick(book, old.key, "undone", today, tick_id, None, at)._replace(answers=answers)
        earlier = [t for t in store.ticks(session, [split_key(old.key).entry]) if t.answers == answers]
        if earlier and all(t.id != said.id for t in earlier):
            raise Conflict("That is taken back already.")
        return _say(book, session, said, today, Words(person=person))


def new_tick(
    book: Book, key: str, kind: TickKind, on: Day, tick_id: str, shown: Window | None, at: datetime | None = None
) -> Tick:
    """A tick to be taken down, said now unless ``at`` tells when.

    Raises: BadInput for an id that is none; NotFound for a key that is none.
    """
    if len(tick_id) > LONGEST_ID or not tick_id.isprintable():
        raise BadInput({"id": "The tick’s own id is not one that this program gave."})
    try:
        split_key(key)
    except ValueError:
        raise NotFound("There is no such job.") from None
    return Tick(tick_id or uuid4().hex, key, kind, on, moment_text(at or book.now()), shown=shown)


def _done_before(book: Book, session: Session, row: TaskRow, said: Tick, today: Day) -> Outcome | None:
    """What is answered where somebody else has ticked the job already."""
    held = store.tick(session, said_of(row.extra).stands) if row.done is not None else None
    if held is None or held.tick.kind != "done" or held.tick.tied_to or store.tick(session, said.id) is not None:
        return None
    name = next((one.name for one in store.people(session, left=True) if one.id == held.person), "")
    at = datetime.fromisoformat(held.tick.at).astimezone(zone(book.holding(session).timezone))
    came = _outcome(book, session, said, today, row)
    return came._replace(tick_id=held.tick.id, stands=True, fresh=False, first=First(name, held.tick.on, at))


def say(book: Book, session: Session, said: Tick, today: Day, words: Words) -> Outcome:
    """Take a tick down and plan on from it."""
    return _say(book, session, said, today, words)


def _say(book: Book, session: Session, said: Tick, today: Day, words: Words, *, by_other: bool = False) -> Outcome:
    entry = split_key(said.key).entry
    row = store.task_row(session, said.key)
    first = _done_before(book, session, row, said, today) if by_other and row is not None else None
    if first is not None:
        return first
    if row is None and not store.entries(session, [root(entry)]):
        raise NotFound("There is no such job: nothing of that name was ever put down.")
    if words.person is not None and all(p.id != words.person for p in book.house(session).people):
        raise BadInput({"person": "There is nobody of that name in the household."})
    said = said._replace(measures=words.measures)
    before = book.live(session, today).laid
    flags = _flags(book, session, row, said) if said.kind == "done" else ()
    fresh = store.add_tick(
        session, said, dates=words.dates, remark=words.remark, reason=words.reason, person=words.person
    )
    tied: list[tuple[Tick, str]] = []
    moved: tuple[Moved, ...] = ()
    if fresh:
        if said.kind == "done" and row is not None:
            tied = _taken_as_done(book, session, before, row, said)
        touched = book.replan_ticks(session, [said, *(each for each, _ in tied)], today)
        settle(book, session, {entry}, today)
        settle_sowing(book, session, said.key, today)
        moved = _moved(before, book.live(session, today).laid, touched, said.key)
    now = store.task_row(session, said.key)
    return _outcome(book, session, said, today, now)._replace(
        tied=tuple(title for _, title in tied), flags=flags, moved=moved, fresh=fresh,
        replanned=_replanned(row, said) if fresh else None,
    )  # fmt: skip


def _replanned(row: TaskRow | None, said: Tick) -> Window | None:
    if row is None or said.shown is None or row.opens is None or row.best is None or row.closes is None:
        return None
    now = Window(row.opens, row.best, row.closes)
    return None if now == said.shown else now


def _taken_as_done(
    book: Book, session: Session, before: Mapping[str, Laid], row: TaskRow, said: Tick
) -> list[tuple[Tick, str]]:
    """Take down what this tick implies, tied to it; gives those ticks with their titles."""
    laid, sheet = before.get(row.entry), book.library.sheets.get(row.sheet)
    if laid is None or sheet is None or row.step not in {step.id for step in sheet.steps}:
        return []
    alone = Plan((), (), (), (), (), {row.entry: laid}, said.on, said.on)
    by_key = {task.key: task for task in laid.tasks}
    said_with = []
    for key in taken_as_done(sheet, alone, said.key):
        task = by_key[key]
        on = said.on if task.best is None else min(said.on, task.best)
        tied = Tick(f"{said.id}+{key}", key, "done", on, said.at, shown=window(task), tied_to=said.id)
        said_with.append((tied, book.steps[row.sheet, task.step].title))
    store.add_tied(session, [each for each, _ in said_with])
    return said_with


def _flags(book: Book, session: Session, row: TaskRow | None, said: Tick) -> tuple[str, ...]:
    """What must be said of a doing: that it fell inside a bar of law, or past a legal last day."""
    if row is None:
        return ("It is taken down, though it no longer follows from what is put down here.",)
    bars = [bar for bar in bars_on(book, session, row.entry, row.act, said.on) if bar.kind == "law"]
    found = [f"{bar.says} It is taken down all the same, since it is what happened." for bar in bars]
    if row.legal and row.closes is not None and said.on > row.closes:
        found.append("That was after the last day that the law allows. It is taken down all the same.")
    return tuple(dict.fromkeys(found))


def _moved(
    before: Mapping[str, Laid], after: Mapping[str, Laid], touched: Collection[str], key: str
) -> tuple[Moved, ...]:
    """The other open jobs of the entries laid again whose windows differ, in the order in which they open now."""
    was = {task.key: task for name in touched if name in before for task in before[name].tasks}
    now = {task.key: task for name in touched if name in after for task in after[name].tasks}
    found = [
        Moved(name, window(was[name]) if name in was else None, window(task))
        for name, task in now.items()
        if task.done is None and (name not in was or was[name][4:7] != task[4:7])
    ]
    found += [Moved(name, window(task), None) for name, task in was.items() if name not in now and task.done is None]
    found = [each for each in found if each.key != key]
    return tuple(sorted(found, key=lambda each: (each.now or each.was or Window(0, 0, 0), each.key)))


# ── What is told afterwards ───────────────────────────────────────────────────────────────────────────────────────


def outcome(book: Book, session: Session, tick_id: str) -> Outcome | None:
    """What a tick said and what it implied, as a page tells it once more; None when there is none of that id."""
    found = store.tick(session, tick_id)
    if found is None:
        return None
    said = found.tick
    today = book.today().toordinal()
    row = store.task_row(session, said.key)
    titles = [t.key for t in store.tied(session, tick_id)] if not is_round_key(said.key) else []
    rows = {each.key: each.title for each in store.task_rows(session, titles)} if titles else {}
    flags = _flags(book, session, row, said) if said.kind == "done" and not is_round_key(said.key) else ()
    return _outcome(book, session, said, today, row)._replace(
        tied=tuple(rows.get(key, key) for key in titles), flags=flags
    )


def _outcome(book: Book, session: Session, said: Tick, today: Day, row: TaskRow | None) -> Outcome:
    ticks = store.ticks(session, [split_key(said.key).entry]) if row is None else []
    mine = [t for t in ticks if t.key == said.key]
    if row is not None:
        kept = said_of(row.extra)
        times, stands = kept.times, kept.stands == said.id
    else:
        times, stands = len(mine), any(t.id == said.id for t in in_force(mine))
    title, name = named(book, session, said.key, row)
    return Outcome(said.id, said.key, said.kind, said.on, today, title, name, times, stands, row)


def named(book: Book, session: Session, key: str, row: TaskRow | None) -> tuple[str, str]:
    """What a job and its entry are called, also when it follows from the facts no longer."""
    if row is not None:
        return row.title, row.entry_name
    parts = split_key(key)
    if is_round_key(key):
        part = next((r.part for r in _standing(session, key) if r.step == parts.step), "")
        return (f"{part.capitalize()} round" if part else "Round"), ""
    entries = store.entries(session, [root(parts.entry)])
    step = book.steps.get((entries[0].sheet, parts.step)) if entries and parts.entry == entries[0].id else None
    title = step.title if step is not None else parts.step.replace("-", " ").capitalize()
    return title, entries[0].name if entries else ""


def _standing(session: Session, key: str) -> Sequence[store.StandingRow]:
    entry = split_key(key).entry
    return [row for row in store.standing_rows(session, 0, 10**7) if row.entry == entry]
