"""Single animals, medicines, and how many there are of a group. Every change is counted; the same id counts once."""

from collections.abc import Collection
from typing import Any, TypeVar

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records.state import facts_changed
from app.records.tables import TABLES, AnimalRow, HeadFactRow, MedicineRow

_ANIMAL = TABLES["animal"].c
_MEDICINE = TABLES["medicine"].c
_FACT = TABLES["head_fact"].c
Row = TypeVar("Row", AnimalRow, MedicineRow, HeadFactRow)


def animals(session: Session, entries: Collection[str] | None = None) -> list[AnimalRow]:
    """Every animal that is not struck out (or those of some groups), what is gone too, by tag and name."""
    query = select(AnimalRow).where(_ANIMAL.struck.is_(False)).order_by(_ANIMAL.tag, _ANIMAL.name, _ANIMAL.id)
    return _apart(session, query if entries is None else query.where(_ANIMAL.entry.in_(list(entries))))


def animal(session: Session, animal_id: str) -> AnimalRow:
    """One animal.

    Raises: NotFound.
    """
    return _one(session, AnimalRow, animal_id, "There is no such animal.")


def has_animal(session: Session, animal_id: str) -> bool:
    """Whether an animal was put down under an id."""
    return session.get(AnimalRow, animal_id) is not None


def put_animal(session: Session, row: AnimalRow) -> AnimalRow:
    """Write an animal; the same id once more is a change of it."""
    return _put(session, row)


def medicines(session: Session) -> list[MedicineRow]:
    """Everything that was in the cupboard and is not struck out, what is finished too, by name."""
    query = select(MedicineRow).where(_MEDICINE.struck.is_(False))
    return _apart(session, query.order_by(_MEDICINE.name, _MEDICINE.batch, _MEDICINE.id))


def medicine(session: Session, medicine_id: str) -> MedicineRow:
    """One medicine.

    Raises: NotFound.
    """
    return _one(session, MedicineRow, medicine_id, "There is no such medicine in the cupboard.")


def has_medicine(session: Session, medicine_id: str) -> bool:
    """Whether a medicine was put down under an id."""
    return session.get(MedicineRow, medicine_id) is not None


def put_medicine(session: Session, row: MedicineRow) -> MedicineRow:
    """Write a medicine; the same id once more is a change of it."""
    return _put(session, row)


def head_facts(session: Session, entries: Collection[str] | None = None) -> list[HeadFactRow]:
    """What is told of the counts of all groups (or some), in order of days and of telling, without what was struck."""
    query = select(HeadFactRow).where(_FACT.struck.is_(False))
    query = query.order_by(_FACT.on_day, _FACT.created_at, _FACT.id)
    return _apart(session, query if entries is None else query.where(_FACT.entry.in_(list(entries))))


def head_fact(session: Session, fact_id: str) -> HeadFactRow | None:
    """What was told under an id, struck out or not."""
    return session.get(HeadFactRow, fact_id)


def put_head_fact(session: Session, row: HeadFactRow) -> HeadFactRow:
    """Write what is told of a count; the same id once more is a change of it."""
    return _put(session, row)


def _one(session: Session, kind: type[Row], row_id: str, missing: str) -> Row:
    row = session.get(kind, row_id)
    if row is None:
        raise NotFound(missing)
    session.expunge(row)
    return row


def _put(session: Session, row: Row) -> Row:
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def _apart(session: Session, query: Select[Any]) -> list[Any]:
    """Rows that outlive their session: what is changed of one is written by its own ``put``."""
    found = list(session.scalars(query))
    for row in found:
        session.expunge(row)
    return found
