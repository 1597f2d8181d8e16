"""The tables of the garden: beds and what is known of them, lots put down by hand, own ways, what flowers next door."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import JSON, CheckConstraint
from sqlmodel import Field

from app.records.base import Base
from app.records.columns import UtcDateTime, one_of, typed

COVERS = ("open", "tunnel", "frame", "propagator", "sill")
SOILS = ("sand", "sandy loam", "loam", "silt loam", "clay")
BED_FACT_KINDS = ("grew", "trouble", "fed", "watered")
LOT_FACT_KINDS = ("used", "counted", "given", "thrown", "tested")
WAY_SCOPES = ("entry", "variety", "holding")
WAY_KINDS = ("days", "keeps_days", "minutes_percent", "yield_percent")


class BedRow(Base, table=True):
    """A bed, or a place under cover. An entry stands in it when the entry's place is its name."""

    __tablename__ = "bed"
    __table_args__ = (
        CheckConstraint("name <> ''", "named"),
        CheckConstraint("length_m > 0 AND length_m <= 10000", "length_m"),
        CheckConstraint("width_m > 0 AND width_m <= 10000", "width_m"),
        CheckConstraint("trays > 0 AND trays <= 10000", "trays"),
        one_of("cover", COVERS),
        one_of("soil", SOILS),
    )
    id: int | None = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    length_m: float
    width_m: float
    cover: str = "open"
    soil: str | None = None
    trays: int | None = None
    ends: date | None = None
    note: str = ""


class BedFactRow(Base, table=True):
    """What grew in a bed before the plan knew it, what went wrong there, what it was fed, how it was watered."""

    __tablename__ = "bed_fact"
    __table_args__ = (
        CheckConstraint("id <> ''", "id"),
        one_of("kind", BED_FACT_KINDS),
        CheckConstraint("amount >= 0 AND amount <= 1000000", "amount"),
        *typed("text", "on_day"),
    )
    id: str = Field(primary_key=True)
    bed: int = Field(foreign_key="bed.id", index=True)
    kind: str
    what: str = ""
    on_day: date
    amount: float | None = None
    unit: str = ""
    note: str = ""
    struck: bool = False


class LotRow(Base, table=True):
    """A lot put down by hand; lots that ticks make are worked out and not kept here."""

    __tablename__ = "lot"
    __table_args__ = (
        # The id of a lot that a tick made has a hash: one put down by hand could be taken for it.
        CheckConstraint("id <> '' AND id NOT LIKE '%#%'", "plain_id"),
        CheckConstraint("what <> ''", "what"),
        CheckConstraint("amount >= 0 AND amount <= 1000000000", "amount"),
        CheckConstraint("entry <> ''", "entry"),
        CheckConstraint("pack_kg > 0 AND pack_kg <= 1000", "pack_kg"),
        *typed("number", "amount"),
        *typed("text", "made_on", "told"),
    )
    id: str = Field(primary_key=True)
    what: str
    sheet: str = ""
    variety: str = ""
    made_on: date
    amount: float
    unit: str
    keeps_until: date | None = None
    place: str = ""
    note: str = ""
    told: date
    struck: bool = False
    entry: str | None = None
    pack_kg: float | None = None


class LotFactRow(Base, table=True):
    """What became of some of a lot, or was found when it was counted or tested; ``lot`` may be a worked out one."""

    __tablename__ = "lot_fact"
    __table_args__ = (
        CheckConstraint("id <> ''", "id"),
        CheckConstraint("lot <> ''", "lot"),
        one_of("kind", LOT_FACT_KINDS),
        CheckConstraint("amount >= 0 AND amount <= 1000000000", "amount"),
        *typed("text", "on_day"),
    )
    id: str = Field(primary_key=True)
    lot: str = Field(index=True)
    kind: str
    on_day: date
    amount: float | None = None
    measures: dict[str, Any] = Field(default_factory=dict, sa_type=JSON)
    note: str = ""
    created_at: datetime = Field(sa_type=UtcDateTime)
    struck: bool = False


class WayRow(Base, table=True):
    """How an entry, a variety or the whole holding differs from the sheet."""

    __tablename__ = "way"
    __table_args__ = (
        one_of("scope", WAY_SCOPES),
        one_of("what", WAY_KINDS),
        CheckConstraint("scope <> 'entry' OR entry <> ''", "entry"),
        CheckConstraint("scope <> 'variety' OR variety <> ''", "variety"),
        CheckConstraint("amount BETWEEN -100000 AND 100000", "amount"),
        *typed("number", "amount"),
        *typed("text", "told"),
    )
    id: int | None = Field(default=None, primary_key=True)
    scope: str
    entry: str = ""
    sheet: str = ""
    variety: str = ""
    step: str = ""
    what: str
    amount: float
    note: str = ""
    told: date
    struck: bool = False


class NearbyRow(Base, table=True):
    """What flowers next door: how far off, and from when until when where that is known."""

    __tablename__ = "nearby"
    __table_args__ = (
        CheckConstraint("species <> ''", "species"),
        CheckConstraint("distance_m >= 0 AND distance_m <= 100000", "distance_m"),
        CheckConstraint("first <= last", "order"),
        *typed("number", "distance_m"),
    )
    id: int | None = Field(default=None, primary_key=True)
    species: str
    what: str = ""
    distance_m: float
    first: date | None = None
    last: date | None = None
    note: str = ""
    struck: bool = False
