"""Jobs as every page shows them: a row of the projection with its state today and the words of its step."""

from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple, cast

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import TaskRow
from app.rules.keys import split_key
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.state import ASKED, State, state
from app.rules.step import Needs, Step
from app.rules.tasks import Bar, Task
from app.rules.terms import Ask
from app.services.book import Book
from app.services.project import Said, said_of

MOST_KEPT = 5000

OPEN = frozenset({*ASKED, State.TO_COME, State.WAITING})
"""The states of a job that is still to be done."""


class Held(NamedTuple):
    """Why a job without days waits: the bar's sentence, and the last day it holds; None until something is said."""

    says: str
    last: Day | None


class Job(NamedTuple):
    """A job on a day: its row, its state, what was said of it, and what its step adds."""

    row: TaskRow
    state: State
    said: Said
    note: str = ""
    needs: Needs = Needs()
    held: Held | None = None
    asks: tuple[Ask, ...] = ()

    @property
    def open(self) -> bool:
        """Whether it is still to be done."""
        return self.state in OPEN

    @property
    def pressing(self) -> bool:
        """Whether it can't wait."""
        return self.state is State.CLOSING or self.state is State.LATE


def state_of(row: TaskRow, today: Day) -> State:
    """What a job is on a day; a row carries all that a task's state is worked out from."""
    return state(cast(Task, row), today)


def jobs_of(book: Book, session: Session, rows: Iterable[TaskRow], today: Day) -> list[Job]:
    """Rows as jobs, in their order; one whose row is what it was a moment ago is the same job again."""
    steps = book.steps
    known, fresh = book.jobs, dict[str, Any]()
    found = []
    for row in rows:
        before = known.get(row.key)
        if before is not None and before[0] == today and before[1].row == row:
            found.append(before[1])
            continue
        step = steps.get((row.sheet, row.step))
        what = state_of(row, today)
        note, needs, asks = (step.note, step.needs, step.asks) if step is not None else ("", Needs(), ())
        held = _held(book, session, row, today) if what is State.WAITING else None
        job = Job(row, what, said_of(row.extra), note, needs, held, asks)
        if held is None:
            fresh[row.key] = (today, job)
        found.append(job)
    if len(known) + len(fresh) > MOST_KEPT:
        known.clear()
    known.update(fresh)
    return found


def _held(book: Book, session: Session, row: TaskRow, today: Day) -> Held:
    bars = bars_on(book, session, row.entry, row.act, today)
    if not bars:
        return Held("", None)
    last = bars[0].last
    return Held(bars[0].says, last)


def bars_on(book: Book, session: Session, entry: str, act: str, day: Day) -> list[Bar]:
    """The bars that hold an act of an entry on a day, the longest first."""
    live = book.live(session, book.today().toordinal())
    laid = live.laid.get(entry)
    if not act or laid is None:
        return []
    sheet = book.library.sheets.get(laid.entry.sheet)
    found = live.bars().on(act, laid.entry, sheet.species if sheet else "", day)
    return sorted(found, key=lambda bar: -(bar.last or 10**8))


def step_of(book: Book, row: TaskRow) -> tuple[Sheet, Step] | None:
    """The sheet and step of a job; None when the sheet has it no longer."""
    sheet, step = book.library.sheets.get(row.sheet), book.steps.get((row.sheet, row.step))
    return (sheet, step) if sheet is not None and step is not None else None


def jobs_named(book: Book, session: Session, keys: Sequence[str], today: Day) -> list[Job]:
    """Some jobs by their keys, in order of their windows; keys that are no job's are left out."""
    return jobs_of(book, session, store.task_rows(session, keys), today) if keys else []


def asks_of(book: Book, key: str) -> tuple[Ask, ...]:
    """What is asked when a job is ticked; all of it may stay unsaid, since what happened is taken down anyhow.

    A job that has no day (no rule covers it, or it was over before it was put down) is asked the same.
    """
    with book.reading() as session:
        row = store.task_row(session, key)
        step = _undated(book, session, key) if row is None else None
    found = step_of(book, row) if row is not None else None
    asks = found[1].asks if found is not None else step.asks if step is not None else ()
    return tuple(ask._replace(optional=True) for ask in asks)


def _undated(book: Book, session: Session, key: str) -> Step | None:
    """The step that a key names, of an entry that there is."""
    try:
        named = split_key(key)
    except ValueError:
        return None
    laid = book.live(session, book.today().toordinal()).laid.get(named.entry)
    return book.steps.get((laid.entry.sheet, named.step)) if laid is not None else None
