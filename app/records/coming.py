"""What is coming, told narrowly: minutes that jobs want, days on which some jobs fall, pickings by entry."""

from collections.abc import Collection
from typing import NamedTuple

from sqlalchemy import ColumnElement, and_, func, select
from sqlalchemy.orm import Session

from app.records.tables import FATES_ASKED, TABLES
from app.rules.spans import Day

Steps = Collection[tuple[str, str]]
"""Steps as (sheet, step)."""

_T = TABLES["task"].c
_OPEN = and_(_T.done.is_(None), _T.fate.in_(FATES_ASKED))


def minutes_closing(session: Session, first: Day, last: Day) -> int:
    """The minutes of the open jobs whose last day is one of these, both inclusive."""
    query = select(func.coalesce(func.sum(_T.minutes), 0)).where(_OPEN, _T.closes.between(first, last))
    return int(session.connection().execute(query).scalar_one())


def best_days(session: Session, steps: Steps, first: Day, last: Day) -> list[tuple[str, str, Day]]:
    """Entry, its name and best day of the open jobs of some steps, between two days."""
    if not steps:
        return []
    query = select(_T.sheet, _T.step, _T.entry, _T.entry_name, _T.best)
    query = query.where(_OPEN, _T.closes >= first, _T.opens <= last, _T.best.between(first, last), *_of(steps))
    found = session.connection().execute(query)
    return [(row[2], row[3], row[4]) for row in found if (row[0], row[1]) in steps]


class Wanted(NamedTuple):
    """An open job and its window."""

    sheet: str
    step: str
    key: str
    title: str
    entry_name: str
    opens: Day
    closes: Day


def windows_of(session: Session, steps: Steps, first: Day, last: Day) -> list[Wanted]:
    """The open jobs of some steps whose windows touch these days, both inclusive."""
    if not steps:
        return []
    query = select(*(_T[name] for name in Wanted._fields))
    query = query.where(_OPEN, _T.closes >= first, _T.opens <= last, *_of(steps))
    found = (Wanted._make(row) for row in session.connection().execute(query))
    return [one for one in found if (one.sheet, one.step) in steps]


def pickings(session: Session, steps: Steps, first: Day, last: Day) -> list[tuple[str, str, Day, int]]:
    """Sheet, entry, first best day and number of the open jobs of some steps whose windows touch these days."""
    if not steps:
        return []
    query = select(_T.sheet, _T.step, _T.entry, func.min(_T.best), func.count())
    query = query.where(_OPEN, _T.closes >= first, _T.opens <= last, *_of(steps))
    found = session.connection().execute(query.group_by(_T.sheet, _T.step, _T.entry))
    return [(row[0], row[2], row[3], row[4]) for row in found if (row[0], row[1]) in steps]


def _of(steps: Steps) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    sheets, names = sorted({sheet for sheet, _ in steps}), sorted({step for _, step in steps})
    return _T.sheet.in_(sheets), _T.step.in_(names)
