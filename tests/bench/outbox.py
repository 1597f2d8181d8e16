"""A box of 200 ticks taken in at once, beside the same rows inserted bare and one planning anew of what they touch."""

import gc
import tempfile
import time
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

from app.records import store
from app.rules.facts import Tick
from app.services.book import Book
from app.services.outbox import Operation, take_in
from app.web.box_acts import acts
from tests.bench import pages

TICKS = 200


def ratios() -> Iterator[tuple[str, float, float]]:
    """Name, ratio, limit."""
    spent, bare = [], []
    for _ in range(3):
        with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
            seconds, said = box(Path(one))
            spent.append(seconds)
            bare.append(floor(Path(other), said))
    print(f"  {TICKS} ticks out of a box: {min(spent) * 1e3:.0f} ms; bare, planned once: {min(bare) * 1e3:.0f} ms")
    yield "outbox-200-ticks", min(spent) / min(bare), 2.0


def box(folder: Path) -> tuple[float, list[Tick]]:
    """Seconds for a box of ticks on as many open jobs; and all that was taken down for it."""
    app = pages.holding(folder, pages.ENTRIES)
    book: Book = app.state.book
    today = book.today().toordinal()
    at = pages.NOW - timedelta(minutes=5)
    ops = [Operation(f"{n:032x}", "/tick", (("key", key),), today, at) for n, key in enumerate(_keys(book))]
    act = acts(pages.request(app, "/outbox"), book)
    gc.collect()
    begun = time.perf_counter()
    came = take_in(book, ops, act)
    spent = time.perf_counter() - begun
    assert {one.came for one in came} <= {"done", "first"}
    with book.reading() as session:
        said = store.ticks(session)
    book.close()
    return spent, said


def floor(folder: Path, said: list[Tick]) -> float:
    """Seconds for the same rows in one transaction, and the entries laid again and projected once."""
    book: Book = pages.holding(folder, pages.ENTRIES).state.book
    today = book.today().toordinal()
    _keys(book)
    gc.collect()
    begun = time.perf_counter()
    with book.writing() as session:
        for one in said:
            store.add_tick(session, one)
        book.replan_ticks(session, said, today)
    spent = time.perf_counter() - begun
    book.close()
    return spent


def _keys(book: Book) -> list[str]:
    """Open jobs of about now, one of each entry first; the plan is in memory afterwards."""
    today = book.today().toordinal()
    with book.reading() as session:
        book.live(session, today)
        rows = [row for row in store.month_rows(session, today - 30, today + 30, today) if row.done is None]
    first = {row.entry: row.key for row in rows}
    keys = [*first.values(), *(row.key for row in rows if row.key not in set(first.values()))]
    assert len(keys) >= TICKS
    return keys[:TICKS]
