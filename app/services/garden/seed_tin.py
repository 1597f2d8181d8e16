"""The seed tin: every lot of seed there is, and for each kind whether there is enough of it."""

from collections.abc import Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.rules.spans import Day
from app.services.book import Book
from app.services.garden.seed_lot import SeedLot, Store, seed_lot, store_of
from app.services.garden.seed_supply import Supply, supplies
from app.services.larder.lots import lots


class Tin(NamedTuple):
    """The tin as it is: what is left, what is used up, and for each kind of seed whether there is enough."""

    lots: tuple[SeedLot, ...]
    gone: tuple[SeedLot, ...]
    supplies: Mapping[str, Supply]
    store: Store | None


def tin(book: Book, session: Session, today: Day) -> Tin:
    """The seed tin.

    Raises: MissingFact while the first run is not done.
    """
    laid = book.live(session, today).laid
    kept = store_of(session)
    found = [seed_lot(book, session, one, today, laid, kept) for one in lots(book, session, today, "seed")]
    there = [one for one in found if not one.lot.over]
    return Tin(
        tuple(sorted(there, key=lambda one: (one.lot.what.casefold(), -one.lot.made_on, one.lot.id))),
        tuple(one for one in found if one.lot.over),
        supplies(book, there, laid.values(), today),
        kept,
    )


def find(book: Book, session: Session, lot_id: str, today: Day) -> SeedLot:
    """One lot of the tin.

    Raises: NotFound; MissingFact while the first run is not done.
    """
    one = next((one for one in lots(book, session, today, "seed") if one.id == lot_id), None)
    if one is None:
        raise NotFound("There is no such seed in the tin: it was struck out, or the job that made it was taken back.")
    return seed_lot(book, session, one, today, book.live(session, today).laid, store_of(session))
