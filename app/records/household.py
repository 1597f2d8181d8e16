"""The holding, its people, who is away, and the calendar's links."""

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records.state import facts_changed
from app.records.tables import TABLES, AbsenceRow, FeedLinkRow, HoldingRow, PersonRow
from app.records.values import to_date
from app.rules.spans import Day

_PERSON = TABLES["person"].c
_ABSENCE = TABLES["absence"].c
_LINK = TABLES["feed_link"].c


def holding(session: Session) -> HoldingRow | None:
    """The holding, or None before the first run is over."""
    return session.get(HoldingRow, 1)


def put_holding(session: Session, row: HoldingRow) -> HoldingRow:
    """Write the holding's facts."""
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def people(session: Session, *, left: bool = False) -> list[PersonRow]:
    """Who is of the household; with ``left``, those who are no longer too."""
    query = select(PersonRow).order_by(_PERSON.id)
    return list(session.scalars(query if left else query.where(_PERSON.left_on.is_(None))))


def put_person(session: Session, row: PersonRow) -> PersonRow:
    """Write somebody's name and hours; a new one gets an id."""
    row = session.merge(row)
    session.flush()
    facts_changed(session)
    return row


def person_leaves(session: Session, person_id: int, on: Day) -> None:
    """Somebody is no longer of the household; what they ticked stays theirs.

    Raises: NotFound.
    """
    row = session.get(PersonRow, person_id)
    if row is None:
        raise NotFound("There is no such person.")
    row.left_on = to_date(on)
    session.flush()
    facts_changed(session)


def absences(session: Session, first: Day | None = None, last: Day | None = None) -> list[AbsenceRow]:
    """Who is away, in order; ``first`` and ``last`` narrow it to absences that touch those days."""
    query = select(AbsenceRow).order_by(_ABSENCE.first, _ABSENCE.id)
    if first is not None:
        query = query.where(_ABSENCE.last >= to_date(first))
    if last is not None:
        query = query.where(_ABSENCE.first <= to_date(last))
    return list(session.scalars(query))


def add_absence(session: Session, person_id: int, first: Day, last: Day, note: str = "") -> AbsenceRow:
    """Somebody will be away, both days inclusive.

    Raises: NotFound.
    """
    if session.get(PersonRow, person_id) is None:
        raise NotFound("There is no such person.")
    row = AbsenceRow(person=person_id, first=to_date(first), last=to_date(last), note=note)
    session.add(row)
    session.flush()
    facts_changed(session)
    return row


def remove_absence(session: Session, absence_id: int) -> None:
    """They will not be away after all.

    Raises: NotFound.
    """
    row = session.get(AbsenceRow, absence_id)
    if row is None:
        raise NotFound("That absence is already taken back.")
    session.delete(row)
    session.flush()
    facts_changed(session)


def feed_links(session: Session) -> list[FeedLinkRow]:
    """The calendar links that hold."""
    return list(session.scalars(select(FeedLinkRow).where(_LINK.revoked_at.is_(None)).order_by(_LINK.id)))


def feed_link(session: Session, secret_hash: str) -> FeedLinkRow | None:
    """The link whose secret has this hash, unless it was revoked."""
    query = select(FeedLinkRow).where(_LINK.secret_hash == secret_hash, _LINK.revoked_at.is_(None))
    return session.scalars(query).first()


def add_feed_link(
    session: Session, name: str, secret_hash: str, options: dict[str, object], now: datetime
) -> FeedLinkRow:
    """Give out a calendar link."""
    row = FeedLinkRow(name=name, secret_hash=secret_hash, options=dict(options), created_at=now)
    session.add(row)
    session.flush()
    return row


def feed_link_read(session: Session, link_id: int, on: Day) -> None:
    """A calendar read its link on that day; nothing that is planned hangs on it."""
    row = session.get(FeedLinkRow, link_id)
    if row is not None:
        row.options = {**row.options, "read": to_date(on).isoformat()}
        session.flush()


def revoke_feed_link(session: Session, link_id: int, now: datetime) -> None:
    """Take a calendar link back; it answers nothing from now on.

    Raises: NotFound.
    """
    row = session.get(FeedLinkRow, link_id)
    if row is None or row.revoked_at is not None:
        raise NotFound("That link is already taken back.")
    row.revoked_at = now
    session.flush()
