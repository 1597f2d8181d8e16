"""Fifteen years of upkeep for 300 elements: planned beside the bare floor, its pages beside the month page's."""

import gc
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from app.records import store
from app.rules.facts import Holding
from app.rules.plan import Planner
from app.services import ticking
from app.services.book import Book
from app.services.upkeep.plan import AHEAD, upkeep_plan
from app.web.routes.upkeep import show
from app.web.routes.upkeep_plan import winter, years
from tests.bench import pages, planning

ELEMENTS = 300
MIX = (
    "rendered-wall", "gutters", "timber-windows", "limewash", "fence", "hedge", "roof", "chimney-sweep",
    "weatherboard", "pipes-before-frost", "timber-gate", "smoke-alarms",
)  # fmt: skip
"""What a place with many buildings has, as many of each; walls, the slowest, among them."""


def planned() -> Iterator[tuple[str, float, float]]:
    """Name, ratio, limit: all of it planned anew."""
    known = planning.library()
    planner = Planner(Holding("england", planning.season()), known.sheets, known.law)
    today = planning.AS_OF.toordinal()
    put = planning.entries(known.sheets, ELEMENTS, MIX)
    windows = len(planner.plan(put, [], [], today, today + AHEAD).tasks)
    gc.collect()
    gc.freeze()
    spent = bare = 1e9
    for _ in range(3):
        bare = min(bare, planning.best(lambda: planning.floor(windows), 1))
        spent = min(spent, planning.best(lambda: planner.plan(put, [], [], today, today + AHEAD), 1))
    print(f"  upkeep: {ELEMENTS} elements, {windows} windows: {spent * 1e3:.0f} ms, floor {bare * 1e3:.0f} ms")
    yield "plan-upkeep-15-years", spent / bare, 5.0


def ratios(bare: float) -> Iterator[tuple[str, float, float]]:
    """Name, ratio, limit: the pages, once the years are planned; and what a tick costs the next look."""
    with tempfile.TemporaryDirectory() as name:
        app = pages.holding(Path(name), 0)
        book: Book = app.state.book
        today = book.today().toordinal()
        with book.writing() as session:
            for n, entry in enumerate(planning.entries(book.library.sheets, ELEMENTS, MIX)):
                asks = book.library.sheets[entry.sheet].facts.values()
                dates = [ask.name for ask in asks if ask.kind == "date" and ask.name in entry.facts]
                put = entry._replace(place=f"building {n % 9}")
                store.add_entry(session, put, now=pages.NOW, dates=dates)
            book.replan(session, None, today)
        begun = time.perf_counter()
        years(pages.request(app, "/upkeep/years"), book)
        first = time.perf_counter() - begun
        yield "upkeep-years-300", pages.least(lambda: years(pages.request(app, "/upkeep/years"), book), 7) / bare, 2.5
        yield (
            "upkeep-winter-300",
            pages.least(lambda: winter(pages.request(app, "/upkeep/winter"), book), 7) / bare,
            2.5,
        )
        there = pages.least(lambda: show(pages.request(app, "/upkeep"), book), 3)
        with book.reading() as session:
            key = next(task.key for laid in upkeep_plan(book, session, today).laid.values() for task in laid.tasks
                       if task.done is None and task.best is not None)  # fmt: skip
        ticking.tick(book, key, today, tick_id="bench-upkeep")
        begun = time.perf_counter()
        years(pages.request(app, "/upkeep/years"), book)
        again = time.perf_counter() - begun
        print(
            f"  upkeep: the first look {first * 1e3:.0f} ms, after a tick {again * 1e3:.0f} ms,"
            f" what there is {there * 1e3:.0f} ms; month's floor {bare * 1e3:.1f} ms"
        )
        book.close()
