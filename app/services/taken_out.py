"""What a job takes out of the larder: ticked, the joint leaves its batch; taken back, it is in the freezer again."""

import math
from collections.abc import Collection
from datetime import date
from uuid import uuid4

from sqlalchemy.orm import Session

from app.records import store
from app.records.packs import batch_numbered
from app.records.store import BatchRow, LotFactRow
from app.rules.facts import Entry
from app.rules.keys import key as key_of
from app.rules.spans import Day
from app.services.book import Book

TAKES = dict.fromkeys(("joint-to-thaw", "packs-to-thaw", "bird-to-thaw", "bird-pieces-to-thaw"), "out")
"""The step at which an entry of a sheet leaves the batch that its fact ``batch`` names by number."""


def settle(book: Book, session: Session, entries: Collection[str], today: Day) -> None:
    """Bring the larder in line with the jobs of some entries: one fact for each that is done, none for others.

    More taken than there is, is a fact too.
    """
    live = book.live(session, today)
    if any(name in live.laid and live.laid[name].entry.sheet in TAKES for name in entries):
        book.settle()  # what was said together with other things is planned only now
        live = book.live(session, today)
    for name in sorted(entries):
        laid = live.laid.get(name)
        step = TAKES.get(laid.entry.sheet) if laid is not None else None
        batch = batch_numbered(session, str(laid.entry.facts.get("batch", ""))) if laid is not None and step else None
        if laid is None or step is None or batch is None:
            continue
        key = key_of(name, step)
        done = next((task.done for task in laid.tasks if task.key == key and task.done is not None), None)
        on = None if done is None else max(done, batch.made_on)
        known = [row for row in store.lot_facts(session, batch.id) if row.measures.get("job") == key]
        if on is not None and any(row.on_day.toordinal() == on for row in known):
            continue
        for row in known:
            store.strike(session, row)
        if on is not None:
            store.add_lot_fact(session, _fact(book, batch, key, on, laid.entry))
        if known or on is not None:
            book.replan_lots(session, [batch.id], today)


def amount_of(batch: BatchRow, entry: Entry) -> float:
    """How much of a batch a meal takes, as the batch is counted: kilos, whole packs of a known weight, else one."""
    kg = entry.facts.get("kg")
    if not isinstance(kg, int | float) or kg <= 0:
        return 1.0
    if batch.unit in ("kg", "g"):
        return float(kg) if batch.unit == "kg" else 1000.0 * kg
    return float(math.ceil(kg / batch.pack_kg - 0.05)) if batch.pack_kg and kg > batch.pack_kg else 1.0


def _fact(book: Book, batch: BatchRow, key: str, on: Day, entry: Entry) -> LotFactRow:
    return LotFactRow(
        id=uuid4().hex, lot=batch.id, kind="used", on_day=date.fromordinal(on), amount=amount_of(batch, entry),
        measures={"job": key}, note=entry.name, created_at=book.now(),
    )  # fmt: skip
