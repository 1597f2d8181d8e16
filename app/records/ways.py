"""This holding's own ways, what flowers next door, and striking a row out. Every change is counted."""

from typing import cast

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.records import facts
from app.records.state import facts_changed
from app.records.tables import TABLES, BedFactRow, LotFactRow, LotRow, NearbyRow, WayRow
from app.rules.facts import Way, WayKind, WayScope

_WAY = TABLES["way"].c
_NEARBY = TABLES["nearby"].c


def ways(session: Session) -> list[WayRow]:
    """How this holding differs from the sheets, in the order it was told, without what was struck out."""
    return list(session.scalars(select(WayRow).where(_WAY.struck.is_(False)).order_by(_WAY.told, _WAY.id)))


def own_ways(session: Session) -> list[Way]:
    """The same as the rules read them."""
    return [own_way(row) for row in ways(session)]


def own_way(row: WayRow) -> Way:
    """A way as the rules read it."""
    return Way(
        cast(WayScope, row.scope), row.sheet, cast(WayKind, row.what), row.amount, row.step, row.entry, row.variety,
        row.note, row.id or 0,
    )  # fmt: skip


def add_way(session: Session, row: WayRow) -> WayRow:
    """Put an own way down; one with an id is a change of it."""
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def nearby(session: Session) -> list[NearbyRow]:
    """What flowers next door, the nearest first, without what was struck out."""
    query = select(NearbyRow).where(_NEARBY.struck.is_(False))
    return list(session.scalars(query.order_by(_NEARBY.species, _NEARBY.distance_m, _NEARBY.id)))


def add_nearby(session: Session, row: NearbyRow) -> NearbyRow:
    """Put down what flowers next door; one with an id is a change of it."""
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def strike(
    session: Session, row: str | BedFactRow | LotRow | LotFactRow | WayRow | NearbyRow, struck: bool = True
) -> None:
    """Take an entry (by its id) or a row out of what counts, or back in; nothing is deleted.

    Raises: NotFound when there is no entry of that id.
    """
    if isinstance(row, str):
        facts.strike(session, row, struck)
        return
    row.struck = struck
    session.merge(row)
    session.flush()
    facts_changed(session)
