"""Lots: what ticks made and what was put down by hand, and how much of each is left. Facts are always taken down."""

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.rules.keys import split_key
from app.rules.spans import Day
from app.services.book import Book
from app.services.larder.lot_parts import (
    SLACK,
    TAKES,
    FactKind,
    Kind,
    Lot,
    LotFact,
    counted,
    fact_of,
    given_lot,
    kind_of,
    left_of,
    made_lots,
    words_of,
)

__all__ = ["SLACK", "TAKES", "FactKind", "Kind", "Lot", "LotFact", "kind_of", "left_of", "lot", "lots", "words_of"]

# ── Looking ───────────────────────────────────────────────────────────────────────────────────────────────────────


def lots(book: Book, session: Session, today: Day, kind: Kind | None = None) -> list[Lot]:
    """Every lot there has been, the newest first; of one ``kind`` where that is given.

    Raises: MissingFact while the first run is not done.
    """
    said: dict[str, list[LotFact]] = {}
    for row in store.lot_facts(session):
        said.setdefault(row.lot, []).append(fact_of(row))
    found = [*_made(book, session, today), *(given_lot(row) for row in store.given_lots(session))]
    reckoned = [counted(one, said.get(one.id, ())) for one in found if kind is None or one.kind == kind]
    return sorted(reckoned, key=lambda one: (-one.made_on, one.what, one.id))


def lot(book: Book, session: Session, lot_id: str, today: Day) -> Lot:
    """One lot.

    Raises: NotFound; MissingFact while the first run is not done.
    """
    found = next((one for one in _alone(book, session, lot_id, today) if one.id == lot_id), None)
    if found is None:
        raise NotFound("There is no such lot: it was struck out, or the job that made it was taken back.")
    return counted(found, [fact_of(row) for row in store.lot_facts(session, lot_id)])


def _alone(book: Book, session: Session, lot_id: str, today: Day) -> list[Lot]:
    """The lots among which one is: those of the entry that made it, else the one put down by hand."""
    key, made, _ = lot_id.partition("#")
    if not made:
        return [given_lot(row) for row in store.given_lots_of(session, [lot_id])]
    live = book.live(session, today)
    try:
        laid = live.laid.get(split_key(key).entry)  # a made entry's own id has dots and is not to be cut at the first
    except ValueError:
        return []
    return made_lots(live, laid) if laid is not None else []


def _made(book: Book, session: Session, today: Day) -> list[Lot]:
    """The lots that jobs made: one for each thing that a ticked job makes, under the job's key and its place there."""
    live = book.live(session, today)
    found: list[Lot] = []
    for laid in list(live.laid.values()):
        found += made_lots(live, laid)
    return found
