"""The tables of the projection: what planning gave, in day numbers. All of it can be worked out again."""

from sqlalchemy import CheckConstraint, Index
from sqlmodel import Field

from app.records.base import Base


class TaskTable(Base, table=True):
    """A job as planned. Columns stand in the order of `app.records.rows.TaskRow`."""

    __tablename__ = "task"
    __table_args__ = (
        CheckConstraint("opens <= best AND best <= closes", "window"),
        Index(None, "done", "closes", "opens"),
    )
    key: str = Field(primary_key=True)
    entry: str = Field(index=True)
    step: str
    label: str
    sheet: str
    trade: str
    title: str
    entry_name: str
    place: str
    opens: int | None
    best: int | None
    closes: int | None
    done: int | None
    fate: str
    missed: str
    minutes: int
    sure: bool
    legal: bool
    act: str
    cautions: str
    extra: str


class StandingTable(Base, table=True):
    """A daily round of an entry."""

    __tablename__ = "standing"
    entry: str = Field(primary_key=True)
    step: str = Field(primary_key=True)
    first: int = Field(primary_key=True)
    last: int | None
    minutes_a_day: int
    part: str
    sheet: str
    trade: str
    title: str
    entry_name: str
    place: str


class ClashTable(Base, table=True):
    """Two claims on one thing at one time."""

    __tablename__ = "clash"
    id: int | None = Field(default=None, primary_key=True)
    on_what: str
    subject: str
    one: str = Field(index=True)
    other: str = Field(index=True)
    first: int
    last: int
    says: str


class LackTable(Base, table=True):
    """Why a step could not be dated."""

    __tablename__ = "lack"
    id: int | None = Field(default=None, primary_key=True)
    entry: str = Field(index=True)
    step: str
    fact: str
    reason: str


class BatchTable(Base, table=True):
    """A batch with what is left of it. Columns stand in the order of `app.records.rows.BatchRow`."""

    __tablename__ = "batch"
    __table_args__ = (Index(None, "gone", "keeps_until"),)
    id: str = Field(primary_key=True)
    number: str
    store: str
    what: str
    variety: str
    sheet: str
    trade: str
    entry: str = Field(index=True)
    key: str
    made_on: int
    amount: float | None
    unit: str
    left: float | None
    short: bool
    gone: bool
    keeps_until: int | None
    basis: str
    source: str
    killed: str
    place: str
    note: str
    pack_kg: float | None
