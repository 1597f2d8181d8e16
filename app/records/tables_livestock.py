"""The tables of livestock: single animals, the medicine cupboard, and how many there are of a group over time."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint
from sqlmodel import Field

from app.records.base import Base
from app.records.columns import UtcDateTime, one_of, typed

SEXES = ("female", "male", "castrated")
GAINS = ("came", "born", "joined")
LOSSES = ("died", "predator", "put down", "killed", "sold", "given", "left", "moved")
HEAD_KINDS = ("began", *GAINS, *LOSSES, "counted")
MEDICINE_UNITS = ("ml", "l", "g", "kg", "tablets", "doses")
FIGURES = ("meat_days", "milk_hours", "eggs_days", "vet_meat_days", "vet_milk_hours", "vet_eggs_days")


class AnimalRow(Base, table=True):
    """One animal of a group. ``gone_on`` is the last day it was there."""

    __tablename__ = "animal"
    __table_args__ = (
        CheckConstraint("id <> ''", "id"),
        CheckConstraint("entry <> ''", "entry"),
        CheckConstraint("tag <> '' OR name <> ''", "called"),
        one_of("sex", SEXES),
    )
    id: str = Field(primary_key=True)
    entry: str = Field(index=True)
    tag: str = ""
    name: str = ""
    sex: str | None = None
    born: date | None = None
    dam: str = ""
    sire: str = ""
    marked_on: date | None = None
    cull: bool = False
    gone_on: date | None = None
    gone_why: str = ""
    note: str = ""
    struck: bool = False
    created_at: datetime = Field(sa_type=UtcDateTime)


class MedicineRow(Base, table=True):
    """A bottle or box in the medicine cupboard.

    ``meat_days`` .. are the label's withdrawal periods, ``vet_meat_days`` .. those that a vet set off the label; None
    is "not said", and never clears. ``open_days`` is how long it is good once opened.
    """

    __tablename__ = "medicine"
    __table_args__ = (
        CheckConstraint("id <> ''", "id"),
        CheckConstraint("name <> ''", "named"),
        CheckConstraint("open_days BETWEEN 1 AND 3650", "open_days"),
        *(CheckConstraint(f"{name} BETWEEN 0 AND 20000", name) for name in FIGURES),
        CheckConstraint("amount_left BETWEEN 0 AND 1000000", "amount_left"),
        one_of("unit", MEDICINE_UNITS),
        CheckConstraint("bought BETWEEN 0 AND 1000000", "bought"),
    )
    id: str = Field(primary_key=True)
    name: str
    batch: str = ""
    expires: date | None = None
    opened_on: date | None = None
    open_days: int | None = None
    meat_days: float | None = None
    milk_hours: float | None = None
    eggs_days: float | None = None
    vet_meat_days: float | None = None
    vet_milk_hours: float | None = None
    vet_eggs_days: float | None = None
    supplier: str = ""
    bought_on: date | None = None
    bought: float | None = None
    amount_left: float | None = None
    unit: str | None = None
    finished_on: date | None = None
    finished_how: str = ""
    note: str = ""
    struck: bool = False
    created_at: datetime = Field(sa_type=UtcDateTime)


class HeadFactRow(Base, table=True):
    """How many came, were born, lost or counted of a group on a day, under an id made at the tap.

    Of a movement: ``other`` is the holding it came from or went to, ``tags`` and ``paper`` what stood on its paper.
    """

    __tablename__ = "head_fact"
    __table_args__ = (
        CheckConstraint("id <> ''", "id"),
        CheckConstraint("entry <> ''", "entry"),
        one_of("kind", HEAD_KINDS),
        CheckConstraint("number BETWEEN 0 AND 1000000", "number"),
        *typed("integer", "number"),
        *typed("text", "on_day"),
    )
    id: str = Field(primary_key=True)
    entry: str = Field(index=True)
    kind: str
    on_day: date
    number: int
    other: str = ""
    tags: str = ""
    paper: str = ""
    note: str = ""
    struck: bool = False
    created_at: datetime = Field(sa_type=UtcDateTime)
