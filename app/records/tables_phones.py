"""The table of the phones that are let in. It is no fact of the holding: it is neither exported nor restored."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint
from sqlmodel import Field

from app.records.base import Base
from app.records.columns import UtcDateTime, typed


class DeviceRow(Base, table=True):
    """A phone, or another machine, that was let in; only a hash of its secret is kept. ``ended_at``: shown the door."""

    __tablename__ = "device"
    __table_args__ = (
        CheckConstraint("name <> ''", "named"),
        CheckConstraint("secret_hash <> ''", "secret"),
        *typed("text", "seen_on"),
    )
    id: int | None = Field(default=None, primary_key=True)
    name: str
    person: int | None = Field(default=None, foreign_key="person.id")
    secret_hash: str = Field(unique=True)
    let_in_at: datetime = Field(sa_type=UtcDateTime)
    seen_on: date
    ended_at: datetime | None = Field(default=None, sa_type=UtcDateTime)
