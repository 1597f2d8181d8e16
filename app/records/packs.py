"""What lies in the larder in kilos, packs of a known weight among it, and the packs of one entry."""

from typing import NamedTuple

from sqlalchemy import ColumnElement, and_, case, func, select
from sqlalchemy.orm import Session

from app.records.rows import BatchRow
from app.records.tables import TABLES
from app.rules.spans import Day

_BATCH = TABLES["batch"]
_B = _BATCH.c
_KG = case((_B.unit == "kg", _B.left), (_B.unit == "g", _B.left / 1000), else_=_B.left * _B.pack_kg)
"""What is left of a batch in kg; nothing for what can't be told so."""


class Stock(NamedTuple):
    """What is left of a kind of thing in one kind of place: batches, how much, the first made, and the same in kg.

    ``eatable_kg`` leaves out what is past a day of safety.
    """

    store: str
    what: str
    unit: str
    batches: int
    left: float
    made_on: Day
    kg: float
    eatable_kg: float


def stock(session: Session, today: Day) -> list[Stock]:
    """What is left, by kind of place, kind of thing and unit: all of it read once."""
    past = and_(_B.basis == "safety", _B.keeps_until < today)
    query = (
        select(
            _B.store, _B.what, _B.unit, func.count(), func.coalesce(func.sum(_B.left), 0.0), func.min(_B.made_on),
            func.coalesce(func.sum(_KG), 0.0), func.coalesce(func.sum(case((past, 0.0), else_=_KG)), 0.0),
        )
        .where(_B.gone.is_(False))
        .group_by(_B.store, _B.what, _B.unit)
    )  # fmt: skip
    return [Stock._make(row) for row in session.connection().execute(query)]


def packs_of(session: Session, entry: str) -> list[BatchRow]:
    """The batches that were put down by hand as coming of an entry, what is eaten up too, by their number."""
    query = select(_BATCH).where(_B.entry == entry, _B.key == "").order_by(_B.made_on, _B.number)
    return [BatchRow._make(row) for row in session.connection().execute(query)]


def batch_numbered(session: Session, number: str) -> BatchRow | None:
    """The batch of a number as it stands on its label, "27-001"; None when there is none."""
    row = session.connection().execute(select(_BATCH).where(_B.number == number)).first() if number else None
    return None if row is None else BatchRow._make(row)


def frozen_kg(session: Session) -> dict[str, float]:
    """What lies in the freezers, in kg, by the name of the place."""
    return _frozen(session, _B.place)


def frozen_kinds(session: Session) -> dict[str, float]:
    """The same, by kind of thing."""
    return _frozen(session, _B.what)


def _frozen(session: Session, by: ColumnElement[str]) -> dict[str, float]:
    query = (
        select(by, func.coalesce(func.sum(_KG), 0.0))
        .where(_B.gone.is_(False), _B.store == "freezer", _B.left.is_not(None))
        .group_by(by)
    )
    return {row[0]: float(row[1]) for row in session.connection().execute(query)}
