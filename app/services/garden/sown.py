"""What a sowing takes out of the seed tin: ticked, its seed is gone; taken back, it lies there again."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple
from uuid import uuid4

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import LotFactRow
from app.rules.facts import Entry
from app.rules.keys import split_key
from app.rules.made import with_defaults
from app.rules.spans import Day
from app.rules.step import Use
from app.services.book import Book
from app.services.garden.seed_lot import SEEDS, SeedLot, seed_lot
from app.services.larder.lots import lots

FOREVER = 10**7
LATELY_DAYS = 31
"""A sowing put down later than this is history: the tin was counted since, or its seed put down as what is left."""


class _Taken(NamedTuple):
    """So much of a lot, as the lot is counted."""

    lot: str
    amount: float


def settle_sowing(book: Book, session: Session, key: str, today: Day) -> None:
    """Bring the tin in line with one job: what it was sown with is taken out while it is done, and lies there else.

    Only of lots that were in the tin by that day, and never more than there is: other seed may have been bought. A
    sowing of long ago takes nothing. Raises: MissingFact while the first run is not done.
    """
    uses = _uses(book, session, key, today)
    if not uses:
        return
    known = [row for row in store.lot_facts(session) if row.measures.get("job") == key]
    for row in known:
        store.strike(session, row)
    if known:
        book.replan_lots(session, {row.lot for row in known}, today)
    laid = book.live(session, today).laid[split_key(key).entry]
    done = next((task.done for task in laid.tasks if task.key == key and task.done is not None), None)
    lately = done is not None and done >= today - LATELY_DAYS
    taken = _taken(book, session, uses, laid.entry, done, today) if done is not None and lately else []
    for one in taken:
        row = LotFactRow(
            id=uuid4().hex, lot=one.lot, kind="used", on_day=date.fromordinal(done or today), amount=one.amount,
            measures={"job": key}, note=laid.entry.name, created_at=book.now(),
        )  # fmt: skip
        store.add_lot_fact(session, row)
    if taken:
        book.replan_lots(session, {one.lot for one in taken}, today)


def _uses(book: Book, session: Session, key: str, today: Day) -> list[Use]:
    """The seed that a job uses up, as its sheet says."""
    entry, step, _ = split_key(key)
    laid = book.live(session, today).laid.get(entry)
    found = book.steps.get((laid.entry.sheet, step)) if laid is not None else None
    return [use for use in found.uses if use.what.endswith(" seed")] if found is not None else []


def _taken(book: Book, session: Session, uses: Sequence[Use], entry: Entry, done: Day, today: Day) -> list[_Taken]:
    """Of which lots how much: those to be sown soonest that are still good, those past their day last of all."""
    sheet = book.library.sheets[entry.sheet]
    facts = with_defaults(entry, sheet).facts
    there = lots(book, session, today, "seed")
    taken = []
    for use in uses:
        many = facts.get(use.per, 1) if use.per else 1
        wanted = use.amount * many if isinstance(many, int | float) else 0.0
        kind = [one for one in there if one.what == use.what and one.left and one.made_on <= done]
        own = [one for one in kind if one.variety == (entry.facts.get("variety") or "")]
        for lot in sorted(own or kind, key=lambda one: _turn(one.keeps_until, done)):
            part = _part(seed_lot(book, session, lot, today, {}, None), wanted, use.unit)
            if part is None:
                continue
            amount, wanted = part
            taken.append(_Taken(lot.id, amount))
            if wanted <= 0:
                break
    return taken


def _turn(keeps_until: Day | None, done: Day) -> tuple[bool, Day]:
    until = FOREVER if keeps_until is None else keeps_until
    return until < done, until


def _part(lot: SeedLot, wanted: float, unit: str) -> tuple[float, float] | None:
    """How much of a lot goes, as it is counted, and how much is wanted still; None where they can't be compared."""
    own = lot.lot.unit
    times = 1.0
    if own != unit:
        if not lot.a_gram or {own, unit} != {SEEDS, "g"}:
            return None
        times = lot.a_gram if own == SEEDS else 1.0 / lot.a_gram
    part = min(lot.lot.left or 0.0, wanted * times)
    amount = float(round(part)) if own == SEEDS else round(part, 2)
    return (amount, wanted - part / times) if amount > 0 else None
