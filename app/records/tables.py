"""The tables. Facts and ticks are the truth; `PROJECTION` tables can be emptied and worked out again from them.

Days are DATE columns in facts, so that anybody can read the file, and day numbers in the projection, which is a copy
of what planning gave. A nullable text is never empty: NULL is "not said".
"""

from datetime import date, datetime
from typing import Any

from sqlalchemy import JSON, CheckConstraint
from sqlmodel import Field

from app.records.base import Base
from app.records.columns import UtcDateTime, one_of, typed
from app.records.tables_garden import BedFactRow, BedRow, LotFactRow, LotRow, NearbyRow, WayRow
from app.records.tables_larder import BatchMarkRow, KitRow
from app.records.tables_livestock import AnimalRow, HeadFactRow, MedicineRow
from app.records.tables_phones import DeviceRow
from app.records.tables_projection import BatchTable, ClashTable, LackTable, StandingTable, TaskTable
from app.records.tables_supply import SupplyRow
from app.records.tables_weather import NormalsMonthRow, WeatherFileRow, WeatherRow, WeatherToldRow
from app.rules.terms import NATIONS

FATES_ASKED = ("", "squeezed", "outside", "barred")
"""The fates of a job that is still asked for; the others are settled."""

ASPECTS = ("north", "east", "south", "west", "flat")

TICK_KINDS = ("done", "let go", "moved", "undone")


# ── Facts ─────────────────────────────────────────────────────────────────────────────────────────────────────────


class HoldingRow(Base, table=True):
    """The one place; its hemisphere follows its latitude. Frosts are days of the year, `--05-12`, by chance in %."""

    __tablename__ = "holding"
    __table_args__ = (
        CheckConstraint("id = 1", "single"),
        CheckConstraint("latitude BETWEEN -90 AND 90", "latitude"),
        CheckConstraint("longitude BETWEEN -180 AND 180", "longitude"),
        CheckConstraint("altitude_m BETWEEN -450 AND 9000", "altitude"),
        CheckConstraint("mouths >= 0", "mouths"),
        CheckConstraint("normals <> ''", "normals"),
        CheckConstraint("vet <> ''", "vet"),
        one_of("nation", NATIONS),
        one_of("units", ("metric", "imperial")),
        one_of("aspect", ASPECTS),
        *(
            CheckConstraint(f"{frost}_frost_{chance} LIKE '--__-__'", f"{frost}_frost_{chance}")
            for frost in ("last", "first")
            for chance in (10, 50, 90)
        ),
        *typed("number", "latitude", "longitude", "altitude_m", "mouths"),
    )
    id: int = Field(default=1, primary_key=True)
    name: str
    nation: str | None = None
    latitude: float
    longitude: float
    altitude_m: float
    aspect: str | None = None
    frost_hollow: bool = False
    timezone: str
    mouths: float
    units: str = "metric"
    last_frost_10: str | None = None
    last_frost_50: str | None = None
    last_frost_90: str | None = None
    first_frost_10: str | None = None
    first_frost_50: str | None = None
    first_frost_90: str | None = None
    normals: str | None = None
    created_at: datetime = Field(sa_type=UtcDateTime)
    vet: str | None = None


WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


class PersonRow(Base, table=True):
    """Somebody of the household and the minutes they give on each weekday; kept after they leave, for their ticks."""

    __tablename__ = "person"
    __table_args__ = (
        CheckConstraint("name <> ''", "named"),
        *(CheckConstraint(f"{day} BETWEEN 0 AND 1440", day) for day in WEEKDAYS),
        *typed("integer", *WEEKDAYS),
    )
    id: int | None = Field(default=None, primary_key=True)
    name: str
    monday: int = 0
    tuesday: int = 0
    wednesday: int = 0
    thursday: int = 0
    friday: int = 0
    saturday: int = 0
    sunday: int = 0
    left_on: date | None = None


class AbsenceRow(Base, table=True):
    """Days on which a person is away, both ends inclusive."""

    __tablename__ = "absence"
    __table_args__ = (CheckConstraint("first <= last", "order"), *typed("text", "first", "last"))
    id: int | None = Field(default=None, primary_key=True)
    person: int = Field(foreign_key="person.id", index=True)
    first: date
    last: date
    note: str = ""


class EntryRow(Base, table=True):
    """Something the household has put down. Never deleted: it ends, or it is struck out."""

    __tablename__ = "entry"
    __table_args__ = (
        # A key is entry.step.label, and a made entry's id has a plus: an id with either could not be taken apart.
        CheckConstraint("id <> '' AND id NOT LIKE '%.%' AND id NOT LIKE '%+%'", "plain_id"),
        CheckConstraint("sheet <> ''", "sheet"),
        *typed("text", "told"),
    )
    id: str = Field(primary_key=True)
    sheet: str
    name: str
    place: str = ""
    facts: dict[str, Any] = Field(default_factory=dict, sa_type=JSON)
    told: date
    ends: date | None = None
    struck: bool = False
    note: str = ""
    created_at: datetime = Field(sa_type=UtcDateTime)


class AmendmentRow(Base, table=True):
    """What the household adds to an entry that a tick made."""

    __tablename__ = "amendment"
    entry: str = Field(primary_key=True)
    facts: dict[str, Any] = Field(default_factory=dict, sa_type=JSON)
    name: str = ""
    place: str = ""
    ends: date | None = None
    struck: bool = False


class TickRow(Base, table=True):
    """Something said about a job, under the phone's own id. Never deleted; bound to no entry: made ones have ticks."""

    __tablename__ = "tick"
    __table_args__ = (
        one_of("kind", TICK_KINDS),
        CheckConstraint("id <> ''", "id"),
        CheckConstraint("(kind = 'undone') = (answers <> '')", "answers"),
        CheckConstraint(
            "(shown_opens IS NULL AND shown_best IS NULL AND shown_closes IS NULL)"
            " OR (shown_opens IS NOT NULL AND shown_best IS NOT NULL AND shown_closes IS NOT NULL"
            " AND shown_opens <= shown_best AND shown_best <= shown_closes)",
            "shown",
        ),
        *typed("text", "on_day", "at"),
    )
    id: str = Field(primary_key=True)
    key: str = Field(index=True)
    entry: str = Field(index=True)
    step: str
    kind: str
    on_day: date
    at: datetime = Field(sa_type=UtcDateTime, index=True)
    measures: dict[str, Any] = Field(default_factory=dict, sa_type=JSON)
    remark: str = ""
    reason: str = ""
    answers: str = Field(default="", index=True)
    shown_opens: date | None = None
    shown_best: date | None = None
    shown_closes: date | None = None
    tied_to: str = Field(default="", index=True)
    person: int | None = Field(default=None, foreign_key="person.id")
    digest: str


class SentRow(Base, table=True):
    """What a phone sent out of its box, under the phone's own id, so that it counts once; kept for a season."""

    __tablename__ = "sent"
    __table_args__ = (CheckConstraint("id <> ''", "id"), *typed("text", "at"))
    id: str = Field(primary_key=True)
    digest: str
    path: str
    came: str
    says: str = ""
    made_at: datetime | None = Field(default=None, sa_type=UtcDateTime)
    at: datetime = Field(sa_type=UtcDateTime, index=True)


class FeedLinkRow(Base, table=True):
    """An address of the calendar that was given out. Only a hash of its secret is kept."""

    __tablename__ = "feed_link"
    id: int | None = Field(default=None, primary_key=True)
    name: str
    secret_hash: str = Field(unique=True)
    options: dict[str, Any] = Field(default_factory=dict, sa_type=JSON)
    created_at: datetime = Field(sa_type=UtcDateTime)
    revoked_at: datetime | None = Field(default=None, sa_type=UtcDateTime)


class StampRow(Base, table=True):
    """When a job last changed as a calendar sees it; kept when the projection is dropped, so no SEQUENCE goes back."""

    __tablename__ = "stamp"
    __table_args__ = (CheckConstraint("sequence >= 0", "sequence"), *typed("integer", "sequence"))
    key: str = Field(primary_key=True)
    digest: str
    sequence: int = 0
    changed_at: datetime = Field(sa_type=UtcDateTime)
    gone_at: datetime | None = Field(default=None, sa_type=UtcDateTime, index=True)
    summary: str = ""
    opens: int | None = None
    closes: int | None = None


class StateRow(Base, table=True):
    """What the projection was worked out for and from, and the counter of facts."""

    __tablename__ = "state"
    key: str = Field(primary_key=True)
    value: str


TABLES = Base.metadata.tables
FACTS = (
    "holding", "person", "absence", "entry", "amendment", "tick", "feed_link", "stamp", "normals_month",
    "weather_file", "weather_day", "bed", "bed_fact", "lot", "lot_fact", "way", "nearby", "kit", "batch_mark",
    "weather_told",
    "animal", "medicine", "head_fact",
    "supply",
)  # fmt: skip
"""What is kept, in an order in which it can be filled."""
SINCE = {
    "0002": (
        "normals_month", "weather_file", "weather_day", "bed", "bed_fact", "lot", "lot_fact", "way", "nearby",
        "holding.aspect", "holding.frost_hollow",
    ),
    "0003": ("kit", "batch_mark"),
    "0004": ("lot.entry", "lot.pack_kg"),
    "0006": ("weather_told",),
    "0007": ("animal", "medicine", "head_fact"),
    "0008": ("supply", "holding.vet"),
}  # fmt: skip
"""The tables and columns that an older form of the records lacks, by the form in which they came."""
APART = ("device", "sent")
"""What belongs to this machine and not to the holding: it is neither exported nor restored."""
PROJECTION = ("task", "standing", "clash", "lack", "batch")
"""What can be dropped and worked out again."""

__all__ = [
    "APART", "ASPECTS", "FACTS", "FATES_ASKED", "PROJECTION", "SINCE", "TABLES", "TICK_KINDS", "WEEKDAYS", "AbsenceRow",
    "AmendmentRow", "AnimalRow", "Base", "BatchMarkRow", "BatchTable", "BedFactRow", "BedRow", "ClashTable",
    "DeviceRow", "EntryRow", "FeedLinkRow", "HeadFactRow", "HoldingRow", "KitRow", "LackTable", "LotFactRow", "LotRow",
    "MedicineRow", "NearbyRow", "NormalsMonthRow", "PersonRow", "SentRow",
    "StampRow", "StandingTable", "StateRow", "SupplyRow",
    "TaskTable", "TickRow", "WayRow", "WeatherFileRow", "WeatherRow", "WeatherToldRow",
]  # fmt: skip
