"""Single animals: put down, changed, gone; what is served follows the sheet of those in young."""

from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.records.store import SEXES, AnimalRow
from app.rules.facts import Entry
from app.rules.spans import Day
from app.services.book import Book
from app.services.livestock.groups import Group, find_group
from app.services.livestock.heads import Change, tell_in
from app.services.livestock.singles import WORDS, animals_of, called, kind_of
from app.services.preview import Draft
from app.services.put_once import put_once
from app.trade.livestock.served import no_service

SERVED = {
    "pig": "farrowing", "sheep": "ewes-in-lamb", "goat": "goats-in-kid", "cattle": "house-cow", "rabbit": "rabbits",
}  # fmt: skip
"""The sheet that one in young follows, by species."""
GONE = ("died", "predator", "put down", "killed", "sold", "given", "left", "moved", "not said")

__all__ = ["GONE", "SERVED", "SEXES", "WORDS", "AnimalRow", "animals_of", "called", "gone", "kind_of", "put", "serve"]


class Typed(NamedTuple):
    """An animal as it was typed."""

    tag: str
    name: str
    sex: str = ""
    born: Day | None = None
    dam: str = ""
    sire: str = ""
    marked_on: Day | None = None
    cull: bool = False
    note: str = ""


def put(book: Book, entry_id: str, typed: Typed, today: Day, ident: str, *, change: bool = False) -> None:
    """Put an animal down, or change it; the same sent twice is nothing new.

    Raises: NotFound; BadInput for a tag that another of the holding has, or a day to come.
    """
    with book.writing() as session:
        group = find_group(book, session, entry_id, today)
        known = store.has_animal(session, ident)
        if known and not change:
            return
        if change and not known:
            raise NotFound("There is no such animal in this group.")
        _check(session, group.entry, typed, today, ident)
        old = store.animal(session, ident) if known else None
        if old is not None and old.entry != entry_id:
            raise NotFound("There is no such animal in this group.")
        row = row_of(book, ident, entry_id, typed)
        if old is not None:
            row.gone_on, row.gone_why, row.created_at = old.gone_on, old.gone_why, old.created_at
        store.put_animal(session, row)
        book.replan(session, (), today)


def row_of(book: Book, ident: str, entry_id: str, typed: Typed) -> AnimalRow:
    """An animal as it is kept."""
    return AnimalRow(
        id=ident, entry=entry_id, tag=typed.tag, name=typed.name, sex=typed.sex or None, born=_date(typed.born),
        dam=typed.dam, sire=typed.sire, marked_on=_date(typed.marked_on), cull=typed.cull, note=typed.note,
        created_at=book.now(),
    )  # fmt: skip


def gone(
    book: Book, animal_id: str, why: str, on: Day, today: Day, ident: str, *, counted: bool
) -> tuple[str, ...]:  # fmt: skip
    """An animal is gone; ``counted`` takes one off the count of its group with it. Said twice, it counts once. What
    the law says of it comes back.

    Raises: NotFound; BadInput for a day to come, or where the group has none left.
    """
    if on > today:
        raise BadInput({"on": "That day has not come yet."})
    with book.writing() as session:
        row = store.animal(session, animal_id)
        if row.gone_on is not None:
            return ()
        flags: tuple[str, ...] = ()
        if counted and why in store.LOSSES and why != "moved" and store.head_fact(session, ident) is None:
            group = find_group(book, session, row.entry, today)
            change = Change(why, on, 1, note=called(row), tags=row.tag, who=called(row))
            flags = tell_in(book, session, group, change, today, ident).flags
        row.gone_on, row.gone_why = date.fromordinal(on), why
        store.put_animal(session, row)
        book.replan(session, (), today)
    return flags


def strike(book: Book, animal_id: str, today: Day, *, back: bool = False) -> None:
    """An animal was put down by mistake; or (``back``) it is not gone after all.

    Raises: NotFound.
    """
    with book.writing() as session:
        row = store.animal(session, animal_id)
        if back:
            row.gone_on, row.gone_why = None, ""
        else:
            row.struck = True
        store.put_animal(session, row)
        book.replan(session, (), today)


def serve(book: Book, animal_id: str, on: Day, today: Day, ident: str) -> str:
    """An animal was served: what follows is put down on the sheet of those in young, whose entry's id comes back.

    Raises: NotFound; BadInput for one that is not served, as a wether, or whose species has no such sheet.
    """
    with book.reading() as session:
        row = store.animal(session, animal_id)
        group = find_group(book, session, row.entry, today)
    refuse_service(group, kind_of(group.species, row.sex), called(row))
    sheet = SERVED[group.species]
    if on > today:
        raise BadInput({"served_on": "That day has not come yet."})
    asks = book.library.sheets[sheet].facts
    facts = {"date": on, **({"head": 1} if "gestation_d" in asks or group.species in ("pig", "goat") else {})}
    return put_once(book, Draft(sheet, called(row), group.entry.place, facts, f"of {group.entry.name}"), ident, today)


def refuse_service(group: Group, kind: str, name: str) -> None:
    """Say why one can't have a date of service.

    Raises: BadInput.
    """
    said = no_service(kind) or no_service(name)
    if said:
        raise BadInput({"served_on": f"{name}: {said}"})
    if group.species not in SERVED:
        raise BadInput({"served_on": "For these no date of service is kept; put eggs down when they are set."})


def _check(session: Session, entry: Entry, typed: Typed, today: Day, ident: str) -> None:
    if not typed.tag and not typed.name:
        raise BadInput({"tag": "A tag or a name is wanted, so that it can be told from the others."})
    if typed.tag:
        other = next((one for one in store.animals(session) if one.tag.casefold() == typed.tag.casefold()
                      and one.id != ident and one.gone_on is None), None)  # fmt: skip
        if other is not None:
            raise BadInput({"tag": f"Another that is here has that tag: {called(other)}."})
    for name, on in (("born", typed.born), ("marked_on", typed.marked_on)):
        if on is not None and on > today:
            raise BadInput({name: "That day has not come yet."})
    if typed.born is not None and typed.marked_on is not None and typed.marked_on < typed.born:
        raise BadInput({"marked_on": "That is before it was born."})


def _date(on: Day | None) -> date | None:
    return None if on is None else date.fromordinal(on)
