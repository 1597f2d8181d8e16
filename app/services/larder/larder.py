"""The larder: what to use first, what runs out when, how many meals are left, what room there is."""

from collections.abc import Collection, Iterable
from datetime import date
from typing import NamedTuple
from uuid import uuid4

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.records.packs import Stock, batch_numbered, frozen_kg, stock
from app.records.store import KIT_KINDS, BatchRow, KitRow, LotFactRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.larder.batches import store_of
from app.services.larder.lasting import Meals, RunsOut, meals_left, runs_out
from app.services.larder.lot_words import take_back
from app.services.larder.lots import Lot, kind_of, lot
from app.sheets.larder_tables import larder_tables, said_in

__all__ = ["KITCHEN", "KIT_KINDS", "BatchRow", "KitRow", "Larder", "find", "larder"]

FIRST_FEW, LOOKED_AT = 30, 200
PRESSES_DAYS = 3
"""A day of safety that is past, or comes in so many days, stands before every day of quality."""
LONG_PAST_DAYS = 365
"""What was to be used longer ago is not pressed on anybody."""
EATEN_DAYS, MOST_EATEN = 42, 60
"""How far back what is taken as eaten is shown, to be put right, and how many at most."""
KG_A_LITRE = 0.56
"""Wrapped meat in a freezer: 35 lb to the cubic foot. Source: farm freezer-space pages; common practice."""

KITCHEN = (
    "Nothing that has been through a kitchen, spoiled or not, goes to pigs, hens or any farmed animal: in the United"
    " Kingdom, Ireland and the European Union it is against the law, and anywhere it spreads swine fever."
)
"""Source: kitchen-waste of sources.toml; the caution kitchen-scraps says it in full."""


class Larder(NamedTuple):
    """The larder as it is."""

    first: tuple[BatchRow, ...]
    runs_out: tuple[RunsOut, ...]
    meals: tuple[Meals, ...]
    sums: tuple[tuple[str, str, str, int, float], ...]
    freezers: tuple[KitRow, ...]
    frozen_kg: float
    litres_free: float | None
    eaten: tuple[BatchRow, ...] = ()


def larder(book: Book, session: Session, today: Day) -> Larder:
    """The larder today; a fixed number of queries, however many batches there are.

    Raises: MissingFact while the first run is not done.
    """
    mouths = book.holding(session).mouths
    there = stock(session, today)
    freezers = [row for row in store.kit(session) if row.kind == "freezer" and stands(row, today)]
    frozen = sum(one.kg for one in there if one.store == "freezer")
    sizes = [row.litres for row in freezers if row.litres is not None]
    free = max(0.0, sum(sizes) - frozen / KG_A_LITRE) if sizes else None
    rows = store.first_to_expire(session, LOOKED_AT, today - LONG_PAST_DAYS)
    first = sorted((row for row in rows if row.store != "seed tin"), key=lambda row: not _presses(row, today))
    return Larder(
        tuple(first[:FIRST_FEW]), tuple(runs_out(session, there, today)),
        tuple(meals_left(_eatable(there), mouths)),
        tuple(one[:5] for one in there), tuple(freezers), frozen, free,
        tuple(store.taken_as_eaten(session, today - EATEN_DAYS, MOST_EATEN)),
    )  # fmt: skip


def _eatable(there: Iterable[Stock]) -> dict[str, float]:
    found: dict[str, float] = {}
    for one in there:
        if one.store != "seed tin":
            found[one.what] = found.get(one.what, 0.0) + one.eatable_kg
    return found


def overfull(session: Session, batch_id: str, today: Day) -> bool:
    """Whether a batch lies in a freezer that by the book holds more than there is room for."""
    sizes = [row.litres for row in store.kit(session) if row.kind == "freezer" and row.litres and stands(row, today)]
    frozen = sizes and find(session, batch_id).store == "freezer"
    return bool(frozen) and sum(frozen_kg(session).values()) / KG_A_LITRE > sum(sizes)


def there(
    session: Session, limit: int, store_name: str = "", place: str | None = None, *, newest: bool = False
) -> list[BatchRow]:
    """What is left, of one kind of place or one place where that is said, the first to expire first or the newest.

    The seed tin is left out: it has labels of its own.
    """
    return store.batches_there(session, limit, store_name, place, newest=newest)


def places(session: Session) -> list[tuple[str, str, int]]:
    """Where things lie: kind of place, place, how many batches."""
    return store.batch_places(session)


def home_killed(book: Book, session: Session) -> str:
    """What is advised where the holding lies of gift and sale of what was killed at home."""
    return said_in(larder_tables().home_killed, book.holding(session).nation or "").says


def find(session: Session, batch_id: str) -> BatchRow:
    """One batch.

    Raises: NotFound.
    """
    found = store.batches_by_id(session, [batch_id])
    if not found:
        raise NotFound("There is no such batch: it was struck out, or the job that made it was taken back.")
    return found[0]


def numbered(session: Session, number: str) -> BatchRow | None:
    """The batch whose number stands so on its label; None when there is none."""
    return batch_numbered(session, number)


def some(session: Session, ids: Collection[str]) -> list[BatchRow]:
    """Some batches by their ids; those that are not there are left out."""
    return store.batches_by_id(session, ids)


def history(book: Book, session: Session, batch_id: str, today: Day) -> Lot:
    """One batch with all that was said of it.

    Raises: NotFound.
    """
    return lot(book, session, batch_id, today)


def put_back(book: Book, batch_id: str, amount: float, on: Day, today: Day, note: str = "", ident: str = "") -> None:
    """Some that was taken out went back; the same ``ident`` once more counts once.

    Raises: NotFound; BadInput for a day to come, or one before the batch was made.
    """
    if on > today:
        raise BadInput({"on": "That day has not come yet."})
    with book.writing() as session:
        found = find(session, batch_id)
        if on < found.made_on:
            raise BadInput({"on": "That is before it was made."})
        if ident in {one.id for one in store.lot_facts(session, batch_id)}:
            return
        row = LotFactRow(
            id=ident or uuid4().hex, lot=batch_id, kind="counted", on_day=date.fromordinal(on),
            measures={"back": amount}, note=note, created_at=book.now(),
        )  # fmt: skip
        store.add_lot_fact(session, row)
        book.replan_lots(session, [batch_id], today)


def mark(
    book: Book, batch_id: str, today: Day, *, killed: str | None = None, place: str | None = None, ident: str = ""
) -> bool:
    """How a batch was killed, or where it lies now; that it went to another kind of place is taken down with the day.

    Gives whether it did. Raises: NotFound.
    """
    said = {"killed": killed, "place": place}
    with book.writing() as session:
        row = find(session, batch_id)
        to = store_of(place or row.place, row.store == "seed tin")
        if to != row.store:
            moved = LotFactRow(
                id=ident or uuid4().hex, lot=batch_id, kind="counted", on_day=date.fromordinal(today), amount=row.left,
                measures={"to": to, "was": row.place}, created_at=book.now(),
            )  # fmt: skip
            store.add_lot_fact(session, moved)
        store.mark_batch(session, batch_id, {name: value for name, value in said.items() if value is not None})
        book.replan_lots(session, [batch_id], today)
    return to != row.store


def put_right(
    book: Book, batch_id: str, today: Day, name: str = "", until: Day | None = None, note: str = "", ident: str = ""
) -> bool:
    """What a batch is called, when it was put down by hand, and until which day it keeps: one fact, to be taken back.

    Gives whether a day of safety was put off. Raises: NotFound; BadInput for what can't be, or changes nothing.
    """
    with book.writing() as session:
        row = find(session, batch_id)
        said: dict[str, str] = {}
        if name and name != row.what and not row.key:
            if kind_of(name) == "seed":
                raise BadInput({"name": "Seed lies in the seed tin: put it down there."})
            said |= {"name": name, "name_was": row.what}
        if until is not None and until != row.keeps_until:
            if until < row.made_on:
                raise BadInput({"keeps_until": "That is before it was made."})
            was = "" if row.keeps_until is None else date.fromordinal(row.keeps_until).isoformat()
            said |= {"until": date.fromordinal(until).isoformat(), "until_was": was}
        if any(one.id == ident for one in store.lot_facts(session, batch_id)):
            return False
        if not said:
            raise BadInput({"": "That is how it stands already, so nothing was changed."})
        fact = LotFactRow(
            id=ident or uuid4().hex, lot=batch_id, kind="counted", on_day=date.fromordinal(today), amount=row.left,
            measures=said, note=note, created_at=book.now(),
        )  # fmt: skip
        store.add_lot_fact(session, fact)
        book.replan_lots(session, [batch_id], today)
    off = until is not None and row.keeps_until is not None and until > row.keeps_until
    return off and row.basis == "safety"


def unsay(book: Book, batch_id: str, fact_id: str, today: Day) -> None:
    """Something that was said of a batch was not so; what was not moved lies where it lay.

    Raises: NotFound.
    """
    with book.reading() as session:
        said = next((one.measures for one in store.lot_facts(session, batch_id) if one.id == fact_id), {})
    take_back(book, batch_id, fact_id, today)
    if said.get("to"):
        with book.writing() as session:
            store.mark_batch(session, batch_id, {"place": str(said.get("was") or "") or None})
            book.replan_lots(session, [batch_id], today)


def put_kit(book: Book, row: KitRow, today: Day) -> None:
    """Put down a piece of kit, or what is so of it now; the same once more is nothing new.

    Raises: Conflict when another has that name; NotFound when it is to be changed and is not there.
    """
    with book.writing() as session:
        known = store.kit(session)
        if row.id is None and any(_alike(row, one) for one in known):
            return
        store.put_kit(session, row)
        book.replan(session, (), today)


def _alike(row: KitRow, other: KitRow) -> bool:
    return row.model_dump(exclude={"id"}) == other.model_dump(exclude={"id"})


def _presses(row: BatchRow, today: Day) -> bool:
    return row.basis == "safety" and row.keeps_until is not None and row.keeps_until <= today + PRESSES_DAYS


def stands(row: KitRow, today: Day) -> bool:
    """Whether a piece of kit is there still."""
    return row.ends is None or row.ends.toordinal() >= today
