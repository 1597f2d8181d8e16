"""The tables of the larder: kit put down, and what is known of a batch besides what made it."""

from datetime import date

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field

from app.records.base import Base
from app.records.columns import one_of

KIT_KINDS = ("freezer", "fridge", "curing fridge", "dryer", "smoker", "pan", "canner", "propagator")
KILLED = ("home", "abattoir", "bought")


class KitRow(Base, table=True):
    """A freezer, a dryer, a smoker: what jobs are done in, and how much it holds."""

    __tablename__ = "kit"
    __table_args__ = (
        CheckConstraint("name <> ''", "named"),
        one_of("kind", KIT_KINDS),
        CheckConstraint("litres > 0 AND litres <= 100000", "litres"),
        CheckConstraint("trays > 0 AND trays <= 1000", "trays"),
        CheckConstraint("tray_m2 > 0 AND tray_m2 <= 100", "tray_m2"),
        CheckConstraint("watts > 0 AND watts <= 100000", "watts"),
    )
    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    kind: str
    litres: float | None = None
    trays: int | None = None
    tray_m2: float | None = None
    watts: float | None = None
    ends: date | None = None
    note: str = ""


class BatchMarkRow(Base, table=True):
    """A batch's number, which it keeps for good, and what the household says of it: how killed, where it lies now."""

    __tablename__ = "batch_mark"
    __table_args__ = (
        CheckConstraint("lot <> ''", "lot"),
        CheckConstraint("year BETWEEN 0 AND 9999", "year"),
        CheckConstraint("number > 0", "number"),
        one_of("killed", KILLED),
        CheckConstraint("place <> ''", "place"),
        UniqueConstraint("year", "number"),
    )
    lot: str = Field(primary_key=True)
    year: int
    number: int
    killed: str | None = None
    place: str | None = None
