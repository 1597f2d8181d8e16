"""Entries and amendments: rows and the values that the rules read. Every change is counted."""

from collections.abc import Collection, Iterable
from datetime import datetime
from typing import Any

from sqlalchemy import Select, delete, insert, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from app.errors import Conflict, NotFound
from app.records.state import facts_changed
from app.records.tables import TABLES
from app.records.values import from_json, maybe_date, maybe_day, to_date, to_json
from app.rules.facts import Amendment, Entry

_ENTRY = TABLES["entry"]
_AMENDMENT = TABLES["amendment"]

_ENTRIES = select(
    _ENTRY.c.id,
    _ENTRY.c.sheet,
    _ENTRY.c.name,
    _ENTRY.c.facts,
    _ENTRY.c.told,
    _ENTRY.c.place,
    _ENTRY.c.ends,
    _ENTRY.c.struck,
)


def entries(session: Session, ids: Collection[str] | None = None) -> list[Entry]:
    """Entries in the order of their ids, struck ones too; ``ids`` narrows them."""
    query = _ENTRIES.order_by(_ENTRY.c.id)
    return [_entry(row) for row in session.execute(_narrowed(query, ids))]


def entry(session: Session, entry_id: str) -> Entry:
    """One entry.

    Raises: NotFound.
    """
    row = session.execute(_ENTRIES.where(_ENTRY.c.id == entry_id)).first()
    if row is None:
        raise NotFound("There is no such entry.")
    return _entry(row)


def entry_note(session: Session, entry_id: str) -> str:
    """What was written beside an entry."""
    return str(session.scalar(select(_ENTRY.c.note).where(_ENTRY.c.id == entry_id)) or "")


def entry_notes(session: Session, entry_ids: Collection[str]) -> dict[str, str]:
    """What was written beside some entries, of those of which something was."""
    query = select(_ENTRY.c.id, _ENTRY.c.note).where(_ENTRY.c.id.in_(list(entry_ids)), _ENTRY.c.note != "")
    return {row.id: row.note for row in session.execute(query)}


def free_id(session: Session, wanted: str) -> str:
    """``wanted``, or with the first number that makes it new: ids are never used twice, not even a struck one's.

    ``wanted`` is reduced to small letters, digits and hyphens.
    """
    clean = "-".join("".join(c if c.isascii() and c.isalnum() else " " for c in wanted.lower()).split()) or "entry"
    taken = set(session.scalars(select(_ENTRY.c.id).where(_ENTRY.c.id.like(f"{clean}%"))))
    number = 2
    name = clean
    while name in taken:
        name = f"{clean}-{number}"
        number += 1
    return name


def add_entry(
    session: Session, entry: Entry, *, now: datetime, dates: Collection[str] = ("date",), note: str = ""
) -> None:
    """Put an entry down; ``dates`` names the facts that are days.

    Raises: Conflict when its id is taken.
    """
    values = _columns(entry, dates) | {"id": entry.id, "told": to_date(entry.told), "note": note, "created_at": now}
    try:
        with session.begin_nested():
            session.execute(insert(_ENTRY), [values])
    except IntegrityError as error:
        if session.scalar(select(_ENTRY.c.id).where(_ENTRY.c.id == entry.id)) is None:
            raise
        raise Conflict(f"There is already an entry called {entry.id}.") from error
    facts_changed(session)


def change_entry(
    session: Session, entry: Entry, *, dates: Collection[str] = ("date",), note: str | None = None
) -> None:
    """Write an entry's name, place, facts, end and struck mark; its sheet and the day it was told stay.

    Raises: NotFound.
    """
    values = _columns(entry, dates)
    del values["sheet"]
    if note is not None:
        values["note"] = note
    _update_entry(session, entry.id, values)


def strike(session: Session, entry_id: str, struck: bool = True) -> None:
    """Take an entry out of the plan (or back in); its ticks are kept.

    Raises: NotFound.
    """
    _update_entry(session, entry_id, {"struck": struck})


def amendments(session: Session, ids: Collection[str] | None = None) -> list[Amendment]:
    """What was added to entries that ticks made."""
    query = select(_AMENDMENT).order_by(_AMENDMENT.c.entry)
    return [
        Amendment(row.entry, from_json(row.facts), row.name, row.place, maybe_day(row.ends), row.struck)
        for row in session.execute(_narrowed(query, ids, _AMENDMENT.c.entry))
    ]


def amend(session: Session, amendment: Amendment, *, dates: Collection[str] = ()) -> None:
    """Write what the household adds to an entry that a tick made, in place of what it said before."""
    session.execute(delete(_AMENDMENT).where(_AMENDMENT.c.entry == amendment.entry))
    values = {
        "entry": amendment.entry,
        "facts": to_json(amendment.facts, dates),
        "name": amendment.name,
        "place": amendment.place,
        "ends": maybe_date(amendment.ends),
        "struck": amendment.struck,
    }
    session.execute(insert(_AMENDMENT), [values])
    facts_changed(session)


def _update_entry(session: Session, entry_id: str, values: dict[str, Any]) -> None:
    changed = session.connection().execute(update(_ENTRY).where(_ENTRY.c.id == entry_id).values(values))
    if not changed.rowcount:
        raise NotFound("There is no such entry.")
    facts_changed(session)


def _columns(entry: Entry, dates: Collection[str]) -> dict[str, Any]:
    if entry.made_by:
        raise ValueError(f"{entry.id!r} was made by a tick: it is worked out, and only an amendment to it is kept")
    return {
        "sheet": entry.sheet,
        "name": entry.name,
        "place": entry.place,
        "facts": to_json(entry.facts, dates),
        "ends": maybe_date(entry.ends),
        "struck": entry.struck,
    }


def _entry(row: Any) -> Entry:
    ident, sheet, name, facts, told, place, ends, struck = row
    return Entry(ident, sheet, name, from_json(facts), told.toordinal(), place, maybe_day(ends), struck)


def _narrowed(query: Select[Any], ids: Iterable[str] | None, column: Any = _ENTRY.c.id) -> Select[Any]:
    return query if ids is None else query.where(column.in_(list(ids)))
