"""What is said of many batches at once: counted by the shelf, spoiled together, still here."""

from collections.abc import Iterable, Mapping
from datetime import date
from hashlib import blake2b
from typing import Any
from uuid import uuid4

from app.errors import BadInput, NotFound
from app.records import store
from app.records.store import BatchRow, LotFactRow
from app.rules.spans import Day
from app.services.book import Book

_SLACK = 1e-6


def count_many(book: Book, found: Mapping[str, float], on: Day, today: Day, ident: str = "") -> int:
    """Batches were counted or weighed, by their ids: what was found stands, and what the book had is kept beside it.

    Gives how many the book had otherwise. The same ``ident`` once more counts once.
    Raises: NotFound; BadInput for a day to come, or, under the batch's id, for one before it was made.
    """
    if on > today:
        raise BadInput({"on": "That day has not come yet."})
    other = 0

    def fact(row: BatchRow) -> dict[str, Any]:
        nonlocal other
        if row.left is not None and abs(row.left - found[row.id]) <= _SLACK:
            return {"kind": "counted", "amount": found[row.id]}
        other += 1
        measures = {} if row.left is None else {"was": row.left}
        return {"kind": "counted", "amount": found[row.id], "measures": measures, "note": "count put right"}

    def check(rows: Iterable[BatchRow]) -> None:
        early = {row.id: "That is before it was made." for row in rows if row.made_on > on}
        if early:
            raise BadInput(early)

    _say(book, found, on, today, ident, fact, check)
    return other


def throw_many(book: Book, ids: Iterable[str], today: Day, note: str = "", ident: str = "") -> int:
    """All that is left of some batches was spoiled and thrown out; gives of how many there was anything left.

    The same ``ident`` once more counts once. Raises: NotFound.
    """
    thrown = 0

    def fact(row: BatchRow) -> dict[str, Any] | None:
        nonlocal thrown
        if row.left is not None and row.left <= _SLACK:
            return None
        thrown += 1
        if row.left is None:  # nobody weighed it, so nobody can say how much went
            return {"kind": "counted", "amount": 0.0, "note": note or "spoiled, thrown out"}
        return {"kind": "thrown", "amount": row.left, "note": note}

    _say(book, dict.fromkeys(ids), today, today, ident, fact)
    return thrown


def still_here(book: Book, batch_id: str, today: Day, ident: str = "") -> None:
    """What was taken as eaten is there: the count of today says what the book had.

    Raises: NotFound.
    """
    _say(book, {batch_id: None}, today, today, ident, lambda row: {"kind": "counted", "amount": row.left})


def _say(book: Book, ids: Mapping[str, object], on: Day, today: Day, ident: str, fact: Any, check: Any = None) -> None:
    """Put down what ``fact`` says of each batch; facts that this form has put down already are left alone."""
    form = ident or uuid4().hex
    with book.writing() as session:
        rows = store.batches_by_id(session, tuple(ids))
        if len(rows) != len(ids):
            raise NotFound("One of these batches is no longer there: look again.")
        if check is not None:
            check(rows)
        known = {row.id for row in store.lot_facts_of(session, tuple(ids))}
        touched = []
        for row in rows:
            name = blake2b(f"{form}|{row.id}".encode(), digest_size=16).hexdigest()
            said = None if name in known else fact(row)
            if said is None:
                continue
            on_day = date.fromordinal(on)
            store.add_lot_fact(session, LotFactRow(id=name, lot=row.id, on_day=on_day, created_at=book.now(), **said))
            touched.append(row.id)
        if touched:
            book.replan_lots(session, touched, today)
