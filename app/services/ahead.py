"""The next days in a few lines: what opens, what is best done, what is arranged for a firm day."""

from typing import Literal, NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import TaskRow
from app.rules.spans import Day
from app.services.book import Book

DAYS = 3
MOST = 6
"""So many lines a day; the month has the others."""

Kind = Literal["appointment", "best", "opens"]
_ORDER: dict[Kind, int] = {"appointment": 0, "best": 1, "opens": 2}


class Line(NamedTuple):
    """A job of a day ahead, and why it stands there."""

    row: TaskRow
    kind: Kind


class Ahead(NamedTuple):
    """A day ahead: its lines, appointments first, and how many more there are."""

    day: Day
    lines: tuple[Line, ...]
    more: int


def ahead(book: Book, session: Session, today: Day) -> tuple[Ahead, ...]:
    """The three days after today."""
    rows = store.coming_rows(session, today + 1, today + DAYS)
    return tuple(_day(book, rows, day) for day in range(today + 1, today + DAYS + 1))


def _day(book: Book, rows: list[TaskRow], day: Day) -> Ahead:
    lines = [Line(row, kind) for row in rows if (kind := _kind(book, row, day)) is not None]
    lines.sort(key=lambda line: (_ORDER[line.kind], line.row.closes or 0, line.row.key))
    return Ahead(day, tuple(lines[:MOST]), max(0, len(lines) - MOST))


def _kind(book: Book, row: TaskRow, day: Day) -> Kind | None:
    if row.best == day:
        step = book.steps.get((row.sheet, row.step))
        return "appointment" if step is not None and step.firm else "best"
    return "opens" if row.opens == day else None
