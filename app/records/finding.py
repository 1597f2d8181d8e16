"""Finding by words among batches, what was noted of them, and remarks about jobs. Each is one query."""

from typing import Any, NamedTuple

from sqlalchemy import Column, ColumnElement, func, or_, select
from sqlalchemy.orm import Session

from app.records.rows import BatchRow
from app.records.tables import TABLES
from app.rules.spans import Day

_BATCH, _FACT, _TASK, _TICK = TABLES["batch"], TABLES["lot_fact"], TABLES["task"], TABLES["tick"]
MOST_WORDS = 8


class Remark(NamedTuple):
    """Something that was said in passing: of which job (or batch), on which day, in which words.

    ``of`` is the job's key, or the batch's id; ``title`` and ``entry`` are "" where the job is no longer planned.
    """

    of: str
    on: Day
    says: str
    title: str
    entry: str


def words_of_search(text: str) -> tuple[str, ...]:
    """The words of a search, in small letters, each as a pattern of SQL's LIKE."""
    return tuple(f"%{_plain(word)}%" for word in text.lower().split()[:MOST_WORDS])


def find_batches(session: Session, text: str, limit: int = 30) -> list[BatchRow]:
    """Batches in whose number, name, variety, place or note every word stands, what is left first."""
    words = words_of_search(text)
    if not words:
        return []
    b = _BATCH.c
    query = select(_BATCH).where(*_every(words, b.number, b.what, b.variety, b.place, b.note))
    query = query.order_by(b.gone, b.keeps_until.nulls_last(), b.id).limit(limit)
    return [BatchRow._make(row) for row in session.connection().execute(query)]


def find_remarks(session: Session, text: str, limit: int = 30) -> list[Remark]:
    """What was remarked of jobs, the latest first, in which every one of the words stands."""
    words = words_of_search(text)
    if not words:
        return []
    k, t = _TICK.c, _TASK.c
    later = _TICK.alias()
    taken_back = select(later.c.id).where(later.c.answers == k.id).exists()
    query = (
        select(k.key, k.on_day, k.remark, k.reason, t.title, t.entry_name)
        .select_from(_TICK.outerjoin(_TASK, t.key == k.key))
        .where(or_(k.remark != "", k.reason != ""), *_every(words, k.remark, k.reason), ~taken_back)
        .order_by(k.on_day.desc(), k.id)
        .limit(limit)
    )
    return [
        Remark(
            row[0], row[1].toordinal(), " ".join(part for part in (row[2], row[3]) if part), row[4] or "", row[5] or ""
        )
        for row in session.connection().execute(query)
    ]


def find_said(session: Session, text: str, limit: int = 30) -> list[Remark]:
    """What was noted when something was taken from a batch or counted, the latest first."""
    words = words_of_search(text)
    if not words:
        return []
    f, b = _FACT.c, _BATCH.c
    query = (
        select(f.lot, f.on_day, f.note, b.what, b.number)
        .select_from(_FACT.join(_BATCH, b.id == f.lot))
        .where(f.note != "", f.struck.is_(False), *_every(words, f.note))
        .order_by(f.on_day.desc(), f.id)
        .limit(limit)
    )
    return [Remark(row[0], row[1].toordinal(), row[2], row[3], row[4]) for row in session.connection().execute(query)]


def _every(words: tuple[str, ...], *columns: Column[Any]) -> list[ColumnElement[bool]]:
    """Every word in one or another of the columns."""
    return [or_(*(func.lower(column).like(word, escape="\\") for column in columns)) for word in words]


def _plain(word: str) -> str:
    return word.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")
