"""What is said of lots: put down, taken from, counted again, tested, taken back. Facts are always taken down."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple
from uuid import uuid4

from app.errors import BadInput, NotFound
from app.records import store
from app.records.store import LotFactRow, LotRow
from app.rules.spans import Day
from app.rules.terms import Value
from app.services.book import Book
from app.services.larder.lots import SLACK, FactKind, lot


class NewLot(NamedTuple):
    """A lot as it was typed."""

    what: str
    made_on: Day
    amount: float
    unit: str
    variety: str = ""
    sheet: str = ""
    keeps_until: Day | None = None
    place: str = ""
    note: str = ""
    entry: str = ""
    pack_kg: float | None = None


class Taken(NamedTuple):
    """What came of something said of a lot: what there was by the book before, and what is left now."""

    was: float | None
    left: float | None
    short: bool


def put_lot(book: Book, new: NewLot, today: Day, ident: str = "") -> str:
    """Put a lot down by hand; its id comes back. The same ``ident`` once more is the same lot.

    Raises: BadInput for a day to come.
    """
    _not_to_come(new.made_on, today, "made_on")
    row = LotRow(
        id=ident or uuid4().hex,
        what=new.what,
        sheet=new.sheet,
        variety=new.variety,
        made_on=date.fromordinal(new.made_on),
        amount=new.amount,
        unit=new.unit,
        keeps_until=date.fromordinal(new.keeps_until) if new.keeps_until is not None else None,
        place=new.place,
        note=new.note,
        told=date.fromordinal(today),
        entry=new.entry or None,
        pack_kg=new.pack_kg,
    )
    with book.writing() as session:
        store.add_lot(session, row)
        book.replan_lots(session, [row.id], today)
    return row.id


def take(
    book: Book,
    lot_id: str,
    kind: FactKind,
    amount: float,
    on: Day,
    today: Day,
    note: str = "",
    ident: str = "",
    measures: Mapping[str, Value] | None = None,
) -> Taken:
    """Some of a lot was used, given away or thrown out; more than there was is taken down too, and said.

    Raises: NotFound; BadInput for a day to come, or one before the lot was made.
    """
    return _say(book, lot_id, kind, on, today, note, ident, amount, measures)


def count(book: Book, lot_id: str, amount: float, on: Day, today: Day, note: str = "", ident: str = "") -> Taken:
    """A lot was counted or weighed again: what was found stands, and what the book had is kept beside it.

    Raises: NotFound; BadInput for a day to come, or one before the lot was made.
    """
    return _say(book, lot_id, "counted", on, today, note, ident, amount)


def put_test(
    book: Book, lot_id: str, came_up: int, tried: int, on: Day, today: Day, note: str = "", ident: str = ""
) -> Taken:
    """So many of so many seeds came up.

    Raises: NotFound; BadInput for more up than were tried, a day to come, or one before the lot was made.
    """
    if came_up > tried:
        raise BadInput({"up": f"{came_up} can’t have come up of {tried}; one of the two is mistyped."})
    return _say(book, lot_id, "tested", on, today, note, ident, measures={"tried": tried, "up": came_up})


def take_back(book: Book, lot_id: str, fact_id: str, today: Day) -> None:
    """Something that was said of a lot was not so.

    Raises: NotFound.
    """
    with book.writing() as session:
        row = next((row for row in store.lot_facts(session, lot_id) if row.id == fact_id), None)
        if row is None:
            raise NotFound("That was never said of this lot, or it is taken back already.")
        store.strike(session, row)
        book.replan_lots(session, [lot_id], today)


def strike(book: Book, lot_id: str, today: Day) -> None:
    """A lot was put down by mistake; one that a job made goes when that job is taken back.

    Raises: NotFound.
    """
    with book.writing() as session:
        row = next((row for row in store.given_lots(session) if row.id == lot_id), None)
        if row is None:
            raise NotFound("There is no lot of that name that was put down by hand.")
        store.strike(session, row)
        book.replan_lots(session, [lot_id], today)


def _say(
    book: Book,
    lot_id: str,
    kind: FactKind,
    on: Day,
    today: Day,
    note: str,
    ident: str,
    amount: float | None = None,
    measures: Mapping[str, Value] | None = None,
) -> Taken:
    _not_to_come(on, today, "on")
    with book.writing() as session:
        before = lot(book, session, lot_id, today)
        if on < before.made_on:
            made = date.fromordinal(before.made_on)
            raise BadInput({"on": f"That is before it was made, on {made.day}/{made.month}/{made.year}."})
        said = dict(measures or {})
        if kind == "counted" and before.left is not None and not _same(before.left, amount):
            said["was"] = before.left
            note = note or "count put right"
        row = LotFactRow(
            id=ident or uuid4().hex, lot=lot_id, kind=kind, on_day=date.fromordinal(on), amount=amount,
            measures=said, note=note, created_at=book.now(),
        )  # fmt: skip
        known = {fact.id for fact in before.facts}
        if row.id not in known:
            store.add_lot_fact(session, row)
            book.replan_lots(session, [lot_id], today)
        after = lot(book, session, lot_id, today)
    return Taken(before.left, after.left, after.short)


def _same(one: float, other: float | None) -> bool:
    return other is not None and abs(one - other) <= SLACK * max(1.0, abs(one))


def _not_to_come(on: Day, today: Day, field: str) -> None:
    if on > today:
        raise BadInput({field: "That day has not come yet."})
