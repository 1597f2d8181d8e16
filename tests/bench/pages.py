"""The month page and a tick with 25 000 tasks on record, beside bare sqlite3 and string formatting."""

import gc
import os
import re
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

from fastapi import FastAPI
from icalendar import Calendar
from starlette.requests import Request

from app.main import create_app
from app.records import store
from app.services import ticking
from app.services.book import Book
from app.services.feed_links import Options, make_link
from app.services.feeds import serve
from app.settings import read_settings
from app.web.kept import Kept
from app.web.routes.month import shown
from tests.bench import keeping, larder, planning, upkeep, weather

ENTRIES = 435
"""So many entries of the mix give 25 000 tasks."""
YEAR, MONTH = 2027, 9
NOW = datetime(2027, 9, 15, 9, 0, tzinfo=UTC)


def holding(folder: Path, entries: int, now: datetime = NOW) -> FastAPI:
    """A holding with so many entries of the mix, planned and on record."""
    app = create_app(read_settings({"TWELVEMONTH_DATA": str(folder)}), now=lambda: now, today=now.date())
    book: Book = app.state.book
    with store.writing(book.engine) as session:
        store.put_holding(session, _row())
        for entry in planning.entries(book.library.sheets, entries):
            asks = book.library.sheets[entry.sheet].facts.values()
            dates = [ask.name for ask in asks if ask.kind == "date" and ask.name in entry.facts]
            store.add_entry(session, entry, now=now, dates=dates)
    with book.reading():
        pass
    return app


def _row() -> store.HoldingRow:
    return store.HoldingRow(
        name="Bench", nation="england", latitude=54.2, longitude=-2.3, altitude_m=250.0, timezone="Europe/London",
        mouths=4.0, units="metric", normals="north-yorkshire", created_at=NOW,
    )  # fmt: skip


def request(app: FastAPI, path: str) -> Request:
    """A GET as the router would get it."""
    scope = {
        "type": "http", "method": "GET", "path": path, "raw_path": path.encode(), "query_string": b"", "headers": [],
        "app": app, "router": app.router, "scheme": "http", "server": ("127.0.0.1", 8000), "root_path": "",
    }  # fmt: skip
    return Request(scope)


def page(app: FastAPI) -> bytes:
    """The month page, from the records to its bytes."""
    book: Book = app.state.book
    app.state.kept = Kept()  # drawn anew, not handed out again
    return bytes(shown(request(app, f"/{YEAR}/{MONTH:02}"), book, YEAR, MONTH).body)


class Floor:
    """The least that could give the same bytes: one query for the month's rows, and a format string for each."""

    QUERY = (
        "SELECT key, title, entry_name, place, opens, best, closes, done, fate, minutes, extra FROM task WHERE"
        " (done IS NULL AND ((opens <= ? AND closes >= ?) OR (closes < ? AND closes IS NOT NULL) OR opens IS NULL))"
        " OR (done BETWEEN ? AND ?) ORDER BY opens, key"
    )

    def __init__(self, database: Path, html: bytes, first: int, last: int) -> None:
        self.connection = sqlite3.connect(database)
        self.span = (last, first, first, first, last)
        self.html = html.decode()
        pieces = re.split(r'(?=<[^<>]* data-task=")', self.html)
        self.head = pieces[0]
        self.formats = [self._format(piece) for piece in pieces[1:]]

    @staticmethod
    def _format(piece: str) -> tuple[str, str]:
        key = re.search(r'data-task="([^"]*)"', piece)
        assert key is not None
        return key[1], piece.replace("%", "%%").replace(key[1], "%s")

    def __call__(self) -> bytes:
        found = {row[0]: row for row in self.connection.execute(self.QUERY, self.span)}
        parts = [self.head]
        for key, text in self.formats:
            parts.append(text % ((found.get(key, (key,))[0],) * text.count("%s")))
        return "".join(parts).encode()


def least(run: Callable[[], object], times: int) -> float:
    """The least seconds of several runs."""
    return planning.best(run, times)


def ratios() -> Iterator[tuple[str, float, float]]:
    """Name, ratio, limit."""
    with tempfile.TemporaryDirectory() as name:
        app = holding(Path(name), ENTRIES)
        book: Book = app.state.book
        with book.reading() as session:
            count = store.measure(session)
        html = page(app)
        html = page(app)  # numbers for paper are given at the first
        first, last = date(YEAR, MONTH, 1).toordinal(), date(YEAR, MONTH, 30).toordinal()
        floor = Floor(book.settings.database, html, first, last)
        same = floor() == html
        assert same, "the floor must give the same bytes"
        gc.collect()
        gc.freeze()
        spent = bare = 1e9
        for _ in range(9):
            bare = min(bare, least(floor, 1))
            spent = min(spent, least(lambda: page(app), 1))
        print(
            f"  month: {count.tasks} tasks, {len(floor.formats)} rows, {len(html) // 1024} KB:"
            f" {spent * 1e3:.1f} ms, floor {bare * 1e3:.1f} ms"
        )
        yield "month-page-25000", spent / bare, 2.5
        tick = min(_tick(app, n) for n in range(12))
        print(f"  a tick with what follows: {tick * 1e3:.1f} ms")
        yield "tick-25000", tick / bare, 3.0
        yield from _feed(book)
        yield from weather.ratios(bare)
        yield from larder.ratios(bare)
        yield from keeping.ratios(bare)
        yield from upkeep.ratios(bare)
        book.close()
    yield from upkeep.planned()
    with tempfile.TemporaryDirectory() as name:
        yield "server-memory-mb", memory(Path(name)), 200.0
    yield "start-up", _started("ours") / _started("bare"), 4.0


def _tick(app: FastAPI, n: int) -> float:
    book: Book = app.state.book
    with book.reading() as session:
        keys = [row.key for row in store.open_rows(session, NOW.date().toordinal())]
    key = keys[n * 7 % len(keys)]
    today = NOW.date().toordinal()
    begun = time.perf_counter()
    ticking.tick(book, key, today, tick_id=f"bench-{n}")
    return time.perf_counter() - begun


def _feed(book: Book) -> Iterator[tuple[str, float, float]]:
    made = make_link(book, "bench", Options())
    begun = time.perf_counter()
    body = serve(book, made.secret, "http://127.0.0.1:8000/").body
    spent = time.perf_counter() - begun
    parsed = Calendar.from_ical(body)
    bare = least(lambda: _by_library(parsed), 3)
    print(f"  feed: {len(body) // 1024} KB: {spent * 1e3:.0f} ms, the library alone {bare * 1e3:.0f} ms")
    yield "feed", spent / bare, 3.0


def _by_library(parsed: Calendar) -> bytes:
    """The same components put together and written by the iCalendar library, and nothing else."""
    fresh = Calendar()
    for name, value in parsed.items():
        fresh.add(name, value, encode=False)
    for component in parsed.subcomponents:
        event = type(component)()
        for name, value in component.items():
            event.add(name, value, encode=False)
        event.subcomponents = component.subcomponents
        fresh.add_component(event)
    return bytes(fresh.to_ical())


def memory(folder: Path) -> float:
    """The peak memory (MB) of a server that holds it all, in a process of its own."""
    code = (
        "import sys;from pathlib import Path;from tests.bench.pages import holding,page;"
        "app=holding(Path(sys.argv[1]),435);page(app);"
        "print(next(int(line.split()[1]) for line in open('/proc/self/status') if line.startswith('VmHWM'))/1024)"
    )
    return float(
        subprocess.run([sys.executable, "-c", code, str(folder)], capture_output=True, text=True, check=True).stdout
    )


def _started(which: str) -> float:
    """The seconds a fresh process takes until its application is made, as it does on every start but the very first."""
    command = [sys.executable, "-c", f"import tests.bench.start as start; start.{which}()"]
    usual = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    subprocess.run(command, check=True, env=usual)
    return least(lambda: subprocess.run(command, check=True, env=usual), 3)
