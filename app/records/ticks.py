"""Ticks: taken down once each, never changed, never deleted."""

import hashlib
import json
from collections.abc import Collection
from typing import Any, NamedTuple

from sqlalchemy import Row, insert, or_, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from app.errors import Conflict
from app.records.state import facts_changed
from app.records.tables import TABLES
from app.records.values import from_json, moment_text, read_moment, to_date, to_json
from app.rules.facts import Tick, Window
from app.rules.keys import split_key

_TICK = TABLES["tick"]


class Told(NamedTuple):
    """A tick with what was written beside it."""

    tick: Tick
    remark: str
    reason: str
    person: int | None


def ticks(session: Session, entry_ids: Collection[str] | None = None) -> list[Tick]:
    """Ticks in the order in which they were said; ``entry_ids`` narrows them to those entries."""
    query = select(_TICK).order_by(_TICK.c.at, _TICK.c.id)
    if entry_ids is not None:
        query = query.where(_TICK.c.entry.in_(list(entry_ids)))
    return [_tick(row) for row in session.execute(query)]


def told(session: Session, *, key: str = "", entry: str = "") -> list[Told]:
    """All that was ever said about a job or an entry, newest first."""
    query = select(_TICK).order_by(_TICK.c.at.desc(), _TICK.c.id.desc())
    query = query.where(_TICK.c.key == key) if key else query.where(_TICK.c.entry == entry)
    return [_told(row) for row in session.execute(query)]


def remarked(session: Session, entry_ids: Collection[str]) -> list[Told]:
    """What was said of some entries with a remark or a reason, newest first."""
    query = select(_TICK).where(_TICK.c.entry.in_(list(entry_ids)), or_(_TICK.c.remark != "", _TICK.c.reason != ""))
    return [_told(row) for row in session.execute(query.order_by(_TICK.c.on_day.desc(), _TICK.c.at.desc()))]


def tick(session: Session, tick_id: str) -> Told | None:
    """One tick by its id."""
    row = session.execute(select(_TICK).where(_TICK.c.id == tick_id)).first()
    return None if row is None else _told(row)


def tied(session: Session, tick_id: str) -> list[Tick]:
    """The ticks that were implied by one, with which they are undone."""
    return [_tick(row) for row in session.execute(select(_TICK).where(_TICK.c.tied_to == tick_id).order_by(_TICK.c.id))]


def ticks_on(session: Session, first: int, last: int) -> list[Told]:
    """What was said to have happened from one day to another, both inclusive, with the undos of it."""
    on = select(_TICK.c.id).where(_TICK.c.on_day.between(to_date(first), to_date(last)))
    query = select(_TICK).where(or_(_TICK.c.id.in_(on), _TICK.c.answers.in_(on))).order_by(_TICK.c.at, _TICK.c.id)
    return [_told(row) for row in session.execute(query)]


def done_by(session: Session, first: int, last: int) -> dict[str, int | None]:
    """Who did each job that was done from one day to another: the person of the last tick that stands."""
    said = ticks_on(session, first, last)
    undone = {one.tick.answers for one in said if one.tick.kind == "undone"}
    return {one.tick.key: one.person for one in said if one.tick.kind == "done" and one.tick.id not in undone}


def add_tick(
    session: Session,
    tick: Tick,
    *,
    dates: Collection[str] = (),
    remark: str = "",
    reason: str = "",
    person: int | None = None,
) -> bool:
    """Take a tick down; False when it was already, and then nothing is changed. ``dates`` names measures that are days.

    What counts as the same is what was said: job, kind, day, measures, words, and what it answers. The window that
    was shown, the moment and the person may have been filled in on arrival, and are left out of it.

    Raises: Conflict when the same id said something else before.
    """
    digest = tick_digest(tick, remark, reason)
    before = session.scalar(select(_TICK.c.digest).where(_TICK.c.id == tick.id))
    if before is None:
        try:
            with session.begin_nested():
                session.execute(insert(_TICK), [_columns(tick, dates, remark, reason, person, digest)])
        except IntegrityError:  # two senders at once, where the database does not keep writers apart
            before = session.scalar(select(_TICK.c.digest).where(_TICK.c.id == tick.id))
            if before is None:
                raise
    if before is None:
        facts_changed(session)
        return True
    if before != digest:
        raise Conflict("This tick was sent before and said something else then; what was said first is kept.")
    return False


def add_tied(session: Session, ticks: Collection[Tick]) -> None:
    """Take down what a tick implied, all at once: their ids follow from its own, so that none was there before."""
    if ticks:
        session.execute(insert(_TICK), [_columns(one, (), "", "", None, tick_digest(one)) for one in ticks])
        facts_changed(session)


def tick_digest(tick: Tick, remark: str = "", reason: str = "") -> str:
    """A digest of what a tick says."""
    said = [tick.key, tick.kind, tick.on, dict(tick.measures), tick.answers, remark, reason]
    return hashlib.sha256(json.dumps(said, sort_keys=True, ensure_ascii=False).encode()).hexdigest()


def _columns(
    tick: Tick, dates: Collection[str], remark: str, reason: str, person: int | None, digest: str
) -> dict[str, Any]:
    entry, step, _ = split_key(tick.key)
    opens, best, closes = (None, None, None) if tick.shown is None else map(to_date, tick.shown)
    return {
        "id": tick.id,
        "key": tick.key,
        "entry": entry,
        "step": step,
        "kind": tick.kind,
        "on_day": to_date(tick.on),
        "at": read_moment(tick.at),
        "measures": to_json(tick.measures, dates),
        "remark": remark,
        "reason": reason,
        "answers": tick.answers,
        "shown_opens": opens,
        "shown_best": best,
        "shown_closes": closes,
        "tied_to": tick.tied_to,
        "person": person,
        "digest": digest,
    }


def _tick(row: Row[Any]) -> Tick:
    shown = row.shown_opens and Window(
        row.shown_opens.toordinal(), row.shown_best.toordinal(), row.shown_closes.toordinal()
    )
    return Tick(
        row.id,
        row.key,
        row.kind,
        row.on_day.toordinal(),
        moment_text(row.at),
        from_json(row.measures),
        row.answers,
        shown,
        row.tied_to,
    )


def _told(row: Row[Any]) -> Told:
    return Told(_tick(row), row.remark, row.reason, row.person)
