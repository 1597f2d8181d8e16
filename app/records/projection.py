"""Writing the projection: only what differs, with a stamp for every change that a calendar should see."""

import hashlib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import islice
from typing import Any, NamedTuple

from sqlalchemy import bindparam, delete, insert, select, update
from sqlalchemy.orm import Session

from app.records.rows import ClashRow, LackRow, StandingRow, TaskRow
from app.records.state import set_state
from app.records.tables import PROJECTION, TABLES

_TASK = TABLES["task"]
_STAMP = TABLES["stamp"]
_FEW = 500
"""So many keys are named in one statement; beyond it the whole table is read, which is then quicker."""


class Written(NamedTuple):
    """What a replacement came to."""

    changed: int
    gone: int


def replace_tasks(
    session: Session,
    entry_ids: Collection[str] | None,
    tasks: Iterable[TaskRow],
    *,
    now: datetime,
    old: Mapping[str, TaskRow] | None = None,
) -> Written:
    """Put these jobs in place of all jobs of those entries (None: of every entry).

    Rows that are the same are left alone; ``old`` are those that are there, where they are known beforehand. A job
    that changed as a calendar sees it has its SEQUENCE raised and ``now`` as its LAST-MODIFIED; one that is gone keeps
    its stamp, and carries on from it should it come back.
    """
    new = {task.key: task for task in tasks}
    old = _old(session, entry_ids) if old is None else old
    changed = [task for key, task in new.items() if old.get(key) != task]
    gone = old.keys() - new.keys()
    _delete(session, _TASK, [*gone, *(task.key for task in changed if task.key in old)])
    if changed:
        session.connection().execute(insert(_TASK), [task._asdict() for task in changed])
    if entry_ids is None:
        # After the projection was dropped the stamps alone know what there was.
        alive = set(session.scalars(select(_STAMP.c.key).where(_STAMP.c.gone_at.is_(None))))
        gone = alive - new.keys()
    _stamp(session, changed, gone, now)
    return Written(len(changed), len(gone))


def drop_projection(session: Session) -> None:
    """Empty everything that can be worked out again; stamps stay."""
    for name in PROJECTION:
        session.execute(delete(TABLES[name]))
    set_state(session, as_of="", sheets="")


def replace_standing(session: Session, entry_ids: Collection[str] | None, rows: Iterable[StandingRow]) -> None:
    """Put these rounds in place of all rounds of those entries (None: of every entry)."""
    _replace(session, "standing", entry_ids, [row._asdict() for row in rows])


def replace_lacks(session: Session, entry_ids: Collection[str] | None, rows: Iterable[LackRow]) -> None:
    """Put these lacks in place of all lacks of those entries (None: of every entry)."""
    _replace(session, "lack", entry_ids, [row._asdict() for row in rows])


def replace_clashes(session: Session, rows: Iterable[ClashRow]) -> None:
    """Put these clashes in place of all there were."""
    _replace(session, "clash", None, [row._asdict() for row in rows])


def _replace(session: Session, name: str, entry_ids: Collection[str] | None, rows: list[dict[str, Any]]) -> None:
    table = TABLES[name]
    if entry_ids is None:
        session.execute(delete(table))
    else:
        for some in _portions(entry_ids):
            session.execute(delete(table).where(table.c.entry.in_(some)))
    if rows:
        session.connection().execute(insert(table), rows)


def _old(session: Session, entry_ids: Collection[str] | None) -> dict[str, Any]:
    query = select(_TASK)
    connection = session.connection()
    if entry_ids is None:
        return {row[0]: tuple(row) for row in connection.execute(query)}
    found: dict[str, Any] = {}
    for some in _portions(entry_ids):
        found |= {row[0]: tuple(row) for row in connection.execute(query.where(_TASK.c.entry.in_(some)))}
    return found


def _delete(session: Session, table: Any, keys: Sequence[str]) -> None:
    connection = session.connection()
    for some in _portions(keys):
        connection.execute(delete(table).where(table.c.key.in_(some)))


def _stamp(session: Session, changed: Sequence[TaskRow], gone: Collection[str], now: datetime) -> None:
    before = _stamps(session, [*(task.key for task in changed), *gone])
    fresh: list[dict[str, Any]] = []
    moved: list[dict[str, Any]] = []
    for task in changed:
        digest = calendar_digest(task)
        known = before.get(task.key)
        if known is None:
            fresh.append(_shown(task, digest) | {"key": task.key, "sequence": 0, "changed_at": now, "gone_at": None})
        elif known.digest != digest or known.gone_at is not None:
            moved.append(
                _shown(task, digest)
                | {"b_key": task.key, "sequence": known.sequence + 1, "changed_at": now, "gone_at": None}
            )
    left = [
        {"b_key": key, "sequence": before[key].sequence + 1, "changed_at": now, "gone_at": now}
        for key in sorted(gone)
        if key in before
    ]
    by_key = update(_STAMP).where(_STAMP.c.key == bindparam("b_key"))
    connection = session.connection()
    if fresh:
        connection.execute(insert(_STAMP), fresh)
    if moved:
        connection.execute(by_key.values(_named("sequence", "changed_at", "gone_at", *_SHOWN)), moved)
    if left:
        connection.execute(by_key.values(_named("sequence", "changed_at", "gone_at")), left)


_SHOWN = ("digest", "summary", "opens", "closes")


def _named(*columns: str) -> dict[str, Any]:
    return {column: bindparam(column) for column in columns}


def _shown(task: TaskRow, digest: str) -> dict[str, Any]:
    return {"digest": digest, "summary": summary(task), "opens": task.opens, "closes": task.closes}


def _stamps(session: Session, keys: Sequence[str]) -> dict[str, Any]:
    query = select(_STAMP.c.key, _STAMP.c.digest, _STAMP.c.sequence, _STAMP.c.gone_at)
    connection = session.connection()
    if len(keys) > _FEW:
        return {row[0]: row for row in connection.execute(query)}
    if not keys:
        return {}
    return {row[0]: row for row in connection.execute(query.where(_STAMP.c.key.in_(keys)))}


def summary(task: TaskRow) -> str:
    """A job's title as a calendar last showed it."""
    return f"{task.title}: {task.entry_name}" if task.entry_name else task.title


def calendar_digest(task: TaskRow) -> str:
    """A digest of what a calendar shows of a job: a change of it is a revision (RFC 5545, 3.8.7.4)."""
    shown = (
        task.title, task.entry_name, task.place, task.trade, task.opens, task.best, task.closes, task.done, task.fate,
        bool(task.sure), bool(task.legal), task.cautions,
    )  # fmt: skip
    return hashlib.blake2b(repr(shown).encode(), digest_size=12).hexdigest()


def _portions(keys: Iterable[str]) -> Iterator[list[str]]:
    rest = iter(keys)
    take: Callable[[], list[str]] = lambda: list(islice(rest, _FEW))  # noqa: E731
    return iter(take, [])
