"""Beds and what is known of them. Every change is counted."""

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from app.errors import Conflict, NotFound
from app.records.state import facts_changed
from app.records.tables import TABLES, BedFactRow, BedRow

_BED = TABLES["bed"].c
_FACT = TABLES["bed_fact"].c


def beds(session: Session) -> list[BedRow]:
    """Every bed by name, those that are no more too (they have an end)."""
    return list(session.scalars(select(BedRow).order_by(_BED.name, _BED.id)))


def bed(session: Session, bed_id: int) -> BedRow:
    """One bed.

    Raises: NotFound.
    """
    row = session.get(BedRow, bed_id)
    if row is None:
        raise NotFound("There is no such bed.")
    return row


def put_bed(session: Session, row: BedRow) -> BedRow:
    """Write a bed; a new one gets an id. With its name, the place of every entry that stands in it changes.

    Raises: Conflict when another bed has that name; NotFound when it is to be changed and is not there.
    """
    known = session.scalars(select(_BED.id).where(_BED.name == row.name, _BED.id != (row.id or 0))).first()
    if known is not None:
        raise Conflict(f"There is already a bed called {row.name}.")
    if row.id is not None:
        before = session.scalar(select(_BED.name).where(_BED.id == row.id))
        if before is None:
            raise NotFound("There is no such bed.")
        if before != row.name:
            _move(session, str(before), row.name)
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def bed_facts(session: Session, bed_id: int | None = None) -> list[BedFactRow]:
    """What is known of the beds (or of one), the oldest first, without what was struck out."""
    query = select(BedFactRow).where(_FACT.struck.is_(False)).order_by(_FACT.on_day, _FACT.id)
    return list(session.scalars(query if bed_id is None else query.where(_FACT.bed == bed_id)))


def add_bed_fact(session: Session, row: BedFactRow) -> BedFactRow:
    """Put something down about a bed; the same id once more is a change of it.

    Raises: NotFound when there is no such bed.
    """
    bed(session, row.bed)
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def _move(session: Session, before: str, now: str) -> None:
    # Only what names the bed by itself is changed here: a made entry takes its place from the one it came of.
    for name in ("entry", "amendment"):
        table = TABLES[name]
        session.connection().execute(update(table).where(table.c.place == before).values(place=now))
