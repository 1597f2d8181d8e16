"""Lots put down by hand, and what became of any lot. Every change is counted."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.records.state import facts_changed
from app.records.tables import TABLES, LotFactRow, LotRow

_LOT = TABLES["lot"].c
_FACT = TABLES["lot_fact"].c


def given_lots(session: Session) -> list[LotRow]:
    """Lots that were put down by hand, the oldest first, without what was struck out."""
    return list(session.scalars(select(LotRow).where(_LOT.struck.is_(False)).order_by(_LOT.made_on, _LOT.id)))


def add_lot(session: Session, row: LotRow) -> LotRow:
    """Put a lot down; the same id once more is a change of it."""
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def lot_facts(session: Session, lot_id: str | None = None) -> list[LotFactRow]:
    """What became of the lots (or of one), in order of days, without what was struck out."""
    query = select(LotFactRow).where(_FACT.struck.is_(False)).order_by(_FACT.on_day, _FACT.created_at, _FACT.id)
    return list(session.scalars(query if lot_id is None else query.where(_FACT.lot == lot_id)))


def add_lot_fact(session: Session, row: LotFactRow) -> LotFactRow:
    """Put down what became of some of a lot; the same id once more is a change of it."""
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row
