"""Reading the projection. Each is a fixed number of queries, however many jobs there are."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Select, and_, bindparam, func, or_, select, true
from sqlalchemy.orm import Session

from app.records.rows import ClashRow, FeedRow, Found, GoneRow, LackRow, Measure, StandingRow, TaskRow
from app.records.tables import FATES_ASKED, TABLES
from app.records.values import moment_text
from app.rules.spans import Day

_TASK = TABLES["task"]
_T = _TASK.c
_STAMP = TABLES["stamp"].c
_STANDING = TABLES["standing"]
_CLASH = TABLES["clash"]
_LACK = TABLES["lack"]
_ENTRY = TABLES["entry"].c

_TASKS = select(_TASK)
_IN_ORDER = (_T.opens.nulls_last(), _T.best, _T.closes, _T.key)
_OPEN = and_(_T.done.is_(None), _T.fate.in_(FATES_ASKED))
_COLUMNS = len(TaskRow._fields)

# Made once: to put such a query together takes as long as to answer it.
_FIRST: Any = bindparam("first")
_LAST: Any = bindparam("last")
_INSIDE = [and_(_T.done.is_(None), _T.closes >= _FIRST, _T.opens <= _LAST), _T.done.between(_FIRST, _LAST)]
_OWED = [and_(_OPEN, _T.closes < _FIRST, _T.missed != "passes"), and_(_OPEN, _T.opens.is_(None))]
_MONTH = _TASKS.where(or_(*_INSIDE)).order_by(*_IN_ORDER)
_MONTH_NOW = _TASKS.where(or_(*_INSIDE, *_OWED)).order_by(*_IN_ORDER)
_ONE = _TASKS.where(_T.key == bindparam("key"))


def month_rows(session: Session, first: Day, last: Day, today: Day) -> list[TaskRow]:
    """The jobs of the days from ``first`` to ``last``, both inclusive.

    They are those not done whose windows touch these days, and those done in them. When today is one of the days,
    also what is carried over (open, and its window went by before ``first``; nothing is owed of one that passes) and
    what is barred until something is said, which has no days.
    """
    query = _MONTH_NOW if first <= today <= last else _MONTH
    return [TaskRow._make(row) for row in session.connection().execute(query, {"first": first, "last": last})]


def open_rows(session: Session, today: Day) -> list[TaskRow]:
    """The jobs that are open today: their windows have opened and they are still asked for, late ones too."""
    late = or_(_T.closes >= today, _T.missed != "passes")
    return _rows(session, _TASKS.where(_OPEN, _T.opens <= today, late))


def coming_rows(session: Session, first: Day, last: Day) -> list[TaskRow]:
    """The open jobs whose windows touch these days, both inclusive."""
    return _rows(session, _TASKS.where(_OPEN, _T.closes >= first, _T.opens <= last))


def rows_for_entry(session: Session, entry: str) -> list[TaskRow]:
    """All jobs of an entry, past and to come."""
    return _rows(session, _TASKS.where(_T.entry == entry))


def task_row(session: Session, key: str) -> TaskRow | None:
    """One job by its key."""
    row = session.connection().execute(_ONE, {"key": key}).first()
    return None if row is None else TaskRow._make(row)


def task_rows(session: Session, keys: Sequence[str]) -> list[TaskRow]:
    """Some jobs by their keys, in order of their windows; keys that are no job's are left out."""
    return _rows(session, _TASKS.where(_T.key.in_(keys)))


def search(session: Session, words: str, limit: int = 50) -> list[Found]:
    """Entries, then open jobs by their windows, in whose name, place or note every one of the words stands."""
    patterns = [f"%{_plain(word)}%" for word in words.lower().split()[:8]]
    if not patterns:
        return []
    named = (_ENTRY.name, _ENTRY.place, _ENTRY.sheet, _ENTRY.note)
    entries = select(_ENTRY.id, _ENTRY.name, _ENTRY.place).where(
        _ENTRY.struck.is_not(true()), *(_has(pattern, *named) for pattern in patterns)
    )
    tasks = select(_T.entry, _T.key, _T.title, _T.entry_name, _T.place, _T.best).where(
        _OPEN, *(_has(pattern, _T.title, _T.entry_name, _T.place) for pattern in patterns)
    )
    found = [
        Found(ident, "", name, place, None)
        for ident, name, place in session.execute(entries.order_by(_ENTRY.name, _ENTRY.id).limit(limit))
    ]
    found += [
        Found(entry, key, f"{title}: {name}", place, best)
        for entry, key, title, name, place, best in session.execute(tasks.order_by(*_IN_ORDER).limit(limit))
    ]
    return found[:limit]


def feed_rows(session: Session, first: Day, last: Day) -> list[FeedRow]:
    """The dated jobs whose windows touch these days, with their stamps."""
    query = (
        select(*_TASK.columns, _STAMP.sequence, _STAMP.changed_at)
        .join(TABLES["stamp"], _STAMP.key == _T.key)
        .where(_T.closes >= first, _T.opens <= last)
        .order_by(*_IN_ORDER)
    )
    return [
        FeedRow(TaskRow._make(row[:_COLUMNS]), row.sequence, moment_text(row.changed_at))
        for row in session.connection().execute(query)
    ]


def gone_rows(session: Session, first: Day, last: Day) -> list[GoneRow]:
    """Jobs that follow from the facts no longer, whose windows touched these days: a feed says so for a while."""
    query = (
        select(TABLES["stamp"])
        .where(_STAMP.gone_at.is_not(None), _STAMP.closes >= first, _STAMP.opens <= last)
        .order_by(_STAMP.key)
    )
    return [
        GoneRow(
            row.key, row.sequence, moment_text(row.changed_at), moment_text(row.gone_at),
            row.summary, row.opens, row.closes,
        )
        for row in session.connection().execute(query)
    ]  # fmt: skip


def standing_rows(session: Session, first: Day, last: Day) -> list[StandingRow]:
    """The daily rounds that are walked on any of these days."""
    s = _STANDING.c
    query = select(_STANDING).where(s.first <= last, or_(s.last.is_(None), s.last >= first))
    rows = session.connection().execute(query.order_by(s.part.desc(), s.entry, s.step, s.first))
    return [StandingRow._make(row) for row in rows]


def clash_rows(session: Session, entry: str = "", kit_since: Day | None = None) -> list[ClashRow]:
    """The clashes, of one entry or all; those of kit alone that last to ``kit_since`` or longer."""
    c = _CLASH.c
    query = select(*(c[name] for name in ClashRow._fields)).order_by(c.first, c.id)
    if entry:
        query = query.where(or_(c.one == entry, c.other == entry))
    if kit_since is not None:
        query = query.where(c.on_what == "kit", c.last >= kit_since)
    return [ClashRow._make(row) for row in session.connection().execute(query)]


def lack_rows(session: Session, entry: str = "") -> list[LackRow]:
    """What is wanted before a step can be dated, of one entry or all."""
    c = _LACK.c
    query = select(*(c[name] for name in LackRow._fields)).order_by(c.entry, c.id)
    if entry:
        query = query.where(c.entry == entry)
    return [LackRow._make(row) for row in session.connection().execute(query)]


def measure(session: Session) -> Measure:
    """How much there is on record."""
    return Measure(
        *(session.scalar(select(func.count()).select_from(TABLES[n])) or 0 for n in ("entry", "tick", "task"))
    )


def _rows(session: Session, query: Select[Any]) -> list[TaskRow]:
    return [TaskRow._make(row) for row in session.connection().execute(query.order_by(*_IN_ORDER))]


def _has(pattern: str, *columns: Any) -> Any:
    return or_(*(func.lower(column).like(pattern, escape="\\") for column in columns))


def _plain(word: str) -> str:
    return word.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")
