"""The larder page, and a take, at 5 000 batches, beside the month page's bare floor."""

import tempfile
import time
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from app.records import store
from app.services.book import Book
from app.services.larder import lot_words
from app.web.routes.larder import show
from app.web.routes.larder_labels import labels
from app.web.routes.larder_many import counting, off
from app.web.routes.search import find
from tests.bench import pages

BATCHES = 5000


def ratios(bare: float) -> Iterator[tuple[str, float, float]]:
    """Name, ratio, limit."""
    with tempfile.TemporaryDirectory() as name:
        app = pages.holding(Path(name), 20)
        book: Book = app.state.book
        today = book.today().toordinal()
        with book.writing() as session:
            session.add_all(_lot(n) for n in range(BATCHES))
            session.flush()
            store.put_kit(session, store.KitRow(name="chest", kind="freezer", litres=300))
            book.replan(session, None, today)
        spent = pages.least(lambda: show(pages.request(app, "/larder"), book), 5)
        others = {
            "power": lambda: off(pages.request(app, "/larder/power"), book),
            "count": lambda: counting(pages.request(app, "/larder/count"), book, "shelf"),
            "labels": lambda: labels(pages.request(app, "/larder/labels"), book, [f"bench-{n}" for n in range(24)]),
            "search": lambda: find(pages.request(app, "/search"), book, "thing 17"),
        }
        for page, run in others.items():
            yield f"larder-{page}-5000", pages.least(run, 3) / bare, 2.5
        begun = time.perf_counter()
        lot_words.take(book, "bench-7", "used", 1, today, today)
        took = time.perf_counter() - begun
        print(f"  larder: {BATCHES} batches: {spent * 1e3:.1f} ms; a take: {took * 1e3:.1f} ms")
        yield "larder-page-5000", spent / bare, 2.5
        book.close()


def _lot(n: int) -> store.LotRow:
    return store.LotRow(
        id=f"bench-{n}", what=f"thing {n % 60}", made_on=date(2026, 1 + n % 12, 1), amount=3, unit="kg",
        keeps_until=date(2028, 1 + n % 12, 1 + n % 28), place=("freezer", "shelf", "clamp")[n % 3],
        told=date(2027, 1, 1),
    )  # fmt: skip
