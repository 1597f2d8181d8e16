"""The pages of meat and of preserving, and the diffusion estimate, at 5 000 batches and 500 entries."""

import re
import tempfile
import warnings
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from pathlib import Path

from fastapi import FastAPI

from app.records import store
from app.services.book import Book
from app.trade.meat.even import even_estimate
from app.web.larder import labels as larder_labels
from tests.bench import pages, planning

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the test client's own notice about httpx
    from starlette.testclient import TestClient

BATCHES, ENTRIES, LIMIT = 5000, 500, 2.5
MIX = (
    *planning.MIX, "dried-tomatoes", "dried-apples", "sauerkraut", "bottled-tomatoes", "frozen-beans",
    "roots-in-sand", "ham-in-brine", "pork-cut-up", "mince", "apples-in-store",
)  # fmt: skip
WHATS = (
    "pork leg", "pork belly", "mince", "sausages", "back bacon", "lamb shoulder", "beef stewing", "whole chicken",
    "tomatoes, bottled", "apples, dried", "runner beans", "carrots", "potatoes", "plum jam", "chutney",
)  # fmt: skip
BOX = {"by": "box", "date": "2027-09-15", "of": "pork", "killed": "home", "a_week": "4", "freezer": "chest",
       "cuts": "belly 3.2 kg, 40 mm\nmince 6 kg\nleg 6 kg\nloin 4 kg\nliver 1 kg"}  # fmt: skip
CURE = {
    "cut": "belly", "way": "smoked", "kg": "2", "thickness_mm": "40", "shape": "flat", "skin": "skinned",
    "nitrite_percent": "6.25", "nitrate": "no", "salt_percent": "2.5", "sugar_percent": "1", "scale_g": "0.01",
    "jurisdiction": "gb", "nitrite_ppm": "", "date": "2027-11-10", "water_l": "", "name": "",
}  # fmt: skip
GLUT = {"crop": "tomatoes", "kg": "20", "on": "2027-09-16", "jar_ml": "500", "jars": "12"}
HAM = {"what": "ham-in-brine.boil", "day": "2028-12-25", "f-kg": "6"}
BOTTLING = {"what": "tomatoes|crushed, hot", "jar": "500", "altitude": "150", "gauge": "none"}


def ratios(bare: float) -> Iterator[tuple[str, float, float]]:
    """The slowest page, by its name, and the estimate: name, ratio or milliseconds, limit."""
    even = max(
        planning.best(lambda mm=mm, shape=shape: even_estimate(mm, "skinned", shape), 3)  # type: ignore[misc]  # mypy can't infer a lambda's defaults
        for mm in (20.0, 40.0, 90.0)
        for shape in ("flat", "round")
    )
    yield "diffusion-estimate-ms", even * 1e3, 5.0
    spent = measured()
    for name, seconds in sorted(spent.items(), key=lambda each: -each[1])[:6]:
        print(f"  {name}: {seconds * 1e3:.1f} ms")
    slowest = max(spent, key=lambda name: spent[name])
    yield f"keeping-{slowest}", spent[slowest] / bare, LIMIT


def measured(times: int = 3) -> dict[str, float]:
    """Seconds of each page, asked over the whole way in and out."""
    with tempfile.TemporaryDirectory() as name:
        app = pages.holding(Path(name), 0)
        book: Book = app.state.book
        _fill(app)
        with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as client:
            runs = _runs(client)
            found = {page: planning.best(run, times) for page, run in runs.items()}
        book.close()
        return found


def _fill(app: FastAPI) -> None:
    book: Book = app.state.book
    with book.writing() as session:
        for entry in planning.entries(book.library.sheets, ENTRIES, MIX):
            asks = book.library.sheets[entry.sheet].facts.values()
            dates = [ask.name for ask in asks if ask.kind == "date" and ask.name in entry.facts]
            store.add_entry(session, entry, now=pages.NOW, dates=dates)
        session.add_all(_lot(n) for n in range(BATCHES))
        session.flush()
        for kit in (
            store.KitRow(name="chest", kind="freezer", litres=300),
            store.KitRow(name="dryer", kind="dryer", trays=8, tray_m2=0.25, watts=900),
        ):
            store.put_kit(session, kit)
        book.replan(session, None, book.today().toordinal())


def _lot(n: int) -> store.LotRow:
    return store.LotRow(
        id=f"bench-{n}", what=WHATS[n % len(WHATS)], made_on=date(2026, 1 + n % 12, 1), amount=3, unit="kg",
        keeps_until=date(2028, 1 + n % 12, 1 + n % 28), place=("freezer", "shelf", "clamp")[n % 3],
        told=date(2027, 1, 1),
    )  # fmt: skip


def _runs(client: TestClient) -> Mapping[str, Callable[[], object]]:
    """Each page by its name; what it needs is put down first."""

    def get(href: str, **params: str) -> Callable[[], object]:
        return lambda: _good(client.get(href, params=params).status_code, href)

    def post(href: str, data: Mapping[str, str]) -> Callable[[], object]:
        return lambda: _good(client.post(href, data=data).status_code, href)

    def put(href: str, data: Mapping[str, str]) -> str:
        answer = client.post(href, data=data, follow_redirects=False)
        _good(answer.status_code, href)
        return str(answer.headers["location"]).partition("?")[0]

    delivery = put("/meat/delivery", {**BOX, "id": "a" * 32, "confirm": "yes"})
    seen = re.search(r'name="seen" value="([^"]*)"', client.get("/meat/cure", params=CURE).text)
    cure = put("/meat/cure", {**CURE, "id": "b" * 32, "seen": seen[1] if seen else ""})
    labels = get("/larder/labels?" + "&".join(f"batch=bench-{n}" for n in range(24)))

    days = iter(range(1, 29))

    def another_day() -> object:  # worked back anew each time
        return get("/meat/table", **{**HAM, "day": f"2028-12-{next(days):02}"})()

    def cold() -> object:
        larder_labels._code.cache_clear()
        return labels()

    return {
        "meat": get("/meat"), "delivery": get("/meat/delivery"), "delivery-shown": post("/meat/delivery", BOX),
        "packing": get(delivery), "cure": get("/meat/cure"), "cure-answered": get("/meat/cure", **CURE),
        "cure-entry": get(cure), "table": get("/meat/table"), "table-answered": another_day,
        "thaw": get("/meat/thaw"), "thaw-answered": get("/meat/thaw", kind="pork joint", kg="2.3", day="2027-09-19"),
        "keeping": get("/meat/keeping"), "preserving": get("/preserving"), "glut": get("/preserving/glut"),
        "glut-answered": get("/preserving/glut", **GLUT), "bottling": get("/preserving/bottling", **BOTTLING),
        "sums": get("/preserving/sums"), "drying": get("/preserving/drying", crop="tomatoes", kg="8"),
        "batch": get("/larder/bench-7"), "labels-cold": cold, "power": get("/larder/power"), "kit": get("/kit"),
        "larder-add": get("/larder/add"), "larder": get("/larder"),
    }  # fmt: skip


def _good(code: int, href: str) -> None:
    assert code in (200, 303), f"{href} gives {code}"
