"""What the household says of its beds: new ones, changes, what grew or was found there, what fed and watered them."""

from datetime import date
from uuid import uuid4

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.records.store import BedFactRow, BedRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.garden.ground import Bed, Fact, same_place


def keep_bed(book: Book, bed: Bed, today: Day) -> int:
    """Put a new bed down (``id`` 0), or change one; entries that stand in it follow its new name. Gives its id.

    Raises: NotFound; BadInput for a name that another bed has.
    """
    with book.writing() as session:
        rows = store.beds(session)
        if any(same_place(row.name, bed.name) and row.id != bed.id for row in rows):
            raise BadInput({"name": f"There is a bed called {bed.name} already; give this one another name."})
        row = (
            next((row for row in rows if row.id == bed.id), None) if bed.id else BedRow(name="", length_m=1, width_m=1)
        )
        if row is None:
            raise NotFound("There is no such bed.")
        fresh = BedRow(
            id=row.id, name=bed.name, length_m=bed.length_m, width_m=bed.width_m, cover=bed.cover, soil=bed.soil,
            trays=bed.trays, ends=date.fromordinal(bed.ends) if bed.ends is not None else None, note=bed.note,
        )  # fmt: skip
        old = row.name
        kept = store.put_bed(session, fresh)
        _gather(book, session, {old, bed.name} - {""}, bed.name)
        book.replan(session, None, today)
        return kept.id or 0


def _gather(book: Book, session: Session, names: set[str], now: str) -> None:
    """Entries whose place is a bed's name in other letters stand in it: their place is spelt as the bed is."""
    for one in store.entries(session):
        if one.place != now and any(same_place(one.place, name) for name in names):
            sheet = book.library.sheets.get(one.sheet)
            asked = sheet.facts.values() if sheet is not None else ()
            dates = {"date", *(ask.name for ask in asked if ask.kind == "date")}
            store.change_entry(session, one._replace(place=now), dates=dates & one.facts.keys())


def bed_names(session: Session) -> list[str]:
    """The beds that are not given up, by name."""
    return [row.name for row in store.beds(session) if row.ends is None]


def bed_spelt(session: Session, place: str) -> str:
    """A place as the bed of that name spells it, so that one bed is one place; as it is where it is no bed."""
    return next((row.name for row in store.beds(session) if same_place(row.name, place)), place)


def say(book: Book, fact: Fact, today: Day) -> str:
    """Take down something about a bed; gives its id.

    Raises: NotFound; BadInput for a day to come.
    """
    if fact.on > today:
        raise BadInput({"on": "That day has not come yet; what is planned is put down as an entry."})
    with book.writing() as session:
        if all(row.id != fact.bed for row in store.beds(session)):
            raise NotFound("There is no such bed.")
        ident = uuid4().hex
        store.add_bed_fact(
            session,
            BedFactRow(
                id=ident, bed=fact.bed, kind=fact.kind, what=fact.what, on_day=date.fromordinal(fact.on),
                amount=fact.amount, unit=fact.unit, note=fact.note,
            ),
        )  # fmt: skip
        book.replan(session, (), today)
        return ident


def unsay(book: Book, bed_id: int, fact_id: str, today: Day) -> None:
    """Take something back that was said of a bed.

    Raises: NotFound when it was not said, or is taken back already.
    """
    with book.writing() as session:
        row = next((row for row in store.bed_facts(session) if row.id == fact_id and row.bed == bed_id), None)
        if row is None or row.struck:
            raise NotFound("That is taken back already.")
        store.strike(session, row)
        book.replan(session, (), today)
