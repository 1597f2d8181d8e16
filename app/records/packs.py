"""What lies in the larder in kilos, packs of a known weight among it, and the packs of one entry."""

from sqlalchemy import ColumnElement, and_, case, func, not_, select
from sqlalchemy.orm import Session

from app.records.rows import BatchRow
from app.records.tables import TABLES
from app.rules.spans import Day

_BATCH = TABLES["batch"]
_B = _BATCH.c


def eatable_kg(session: Session, today: Day) -> dict[str, float]:
    """What can be eaten in kg, by kind of thing: seed is not, nor what is past a day of safety."""
    past = and_(_B.basis == "safety", _B.keeps_until < today)
    return _kilos(session, _B.what, _B.store != "seed tin", not_(past))


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
    return _kilos(session, by, _B.store == "freezer")


def _kilos(session: Session, by: ColumnElement[str], *those: ColumnElement[bool]) -> dict[str, float]:
    kg = case((_B.unit == "kg", _B.left), (_B.unit == "g", _B.left / 1000), else_=_B.left * _B.pack_kg)
    query = (
        select(by, func.coalesce(func.sum(kg), 0.0))
        .where(_B.gone.is_(False), _B.left.is_not(None), *those)
        .group_by(by)
    )
    return {row[0]: float(row[1]) for row in session.connection().execute(query)}
