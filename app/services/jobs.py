"""Jobs as every page shows them: a row of the projection with its state today and the words of its step."""

from collections.abc import Iterable
from typing import NamedTuple, cast

from sqlalchemy.orm import Session

from app.records.store import TaskRow
from app.rules.sheet import Needs, Sheet, Step
from app.rules.spans import Day
from app.rules.state import ASKED, State, state
from app.rules.tasks import Bar, Task
from app.services.book import Book
from app.services.project import Said, said_of

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
    """Rows as jobs, in their order."""
    steps = book.steps
    found = []
    for row in rows:
        step = steps.get((row.sheet, row.step))
        what = state_of(row, today)
        note, needs = (step.note, step.needs) if step is not None else ("", Needs())
        held = _held(book, session, row, today) if what is State.WAITING else None
        found.append(Job(row, what, said_of(row.extra), note, needs, held))
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
