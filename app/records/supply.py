"""What is bought in by the sack or the bale, written and read."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.records.state import facts_changed
from app.records.tables import TABLES, SupplyRow

_S = TABLES["supply"].c


def supplies(session: Session) -> list[SupplyRow]:
    """Everything that was said of what is bought in, by name."""
    return list(session.scalars(select(SupplyRow).order_by(_S.what)))


def put_supply(session: Session, row: SupplyRow) -> SupplyRow:
    """Write what is so of a thing now."""
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row
