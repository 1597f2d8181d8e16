"""Phones that were let in, and shown the door."""

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records.tables import TABLES, DeviceRow
from app.records.values import to_date
from app.rules.spans import Day

_DEVICE = TABLES["device"].c


def devices(session: Session) -> list[DeviceRow]:
    """Those that are let in, in the order in which they were."""
    return list(session.scalars(select(DeviceRow).where(_DEVICE.ended_at.is_(None)).order_by(_DEVICE.id)))


def device(session: Session, secret_hash: str) -> DeviceRow | None:
    """The one whose secret has this hash, unless it was shown the door. A phone outlives its owner's leaving."""
    found = select(DeviceRow).where(_DEVICE.secret_hash == secret_hash, _DEVICE.ended_at.is_(None))
    return session.scalars(found).first()


def let_device_in(
    session: Session, name: str, person: int | None, secret_hash: str, now: datetime, on: Day
) -> DeviceRow:
    """Take a phone down as let in."""
    row = DeviceRow(name=name, person=person, secret_hash=secret_hash, let_in_at=now, seen_on=to_date(on))
    session.add(row)
    session.flush()
    return row


def device_seen(session: Session, device_id: int, on: Day) -> None:
    """It was used on that day; nothing that is planned hangs on it."""
    row = session.get(DeviceRow, device_id)
    if row is not None:
        row.seen_on = to_date(on)
        session.flush()


def show_device_out(session: Session, device_id: int, now: datetime) -> DeviceRow:
    """It is not let in from now on.

    Raises: NotFound when it is gone already.
    """
    row = session.get(DeviceRow, device_id)
    if row is None or row.ended_at is not None:
        raise NotFound("That phone was shown the door already.")
    row.ended_at = now
    session.flush()
    return row
