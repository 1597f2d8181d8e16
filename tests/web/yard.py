"""A made-up yard: one job of each kind that the weather told touches; every figure is made up for its test."""

from pathlib import Path

from app.main import create_app
from app.services.book import Book
from tests.web.holding import BEGUN, ON, Clock, TestClient, client, entry, fill, settings

STEP = """
[[step]]
id = "{name}"
title = "{title}"
from = {{ entry = "date"{by} }}
opens = "-P1W"
closes = "P2W"
minutes = {minutes}
source = "common practice"
{more}
"""


def _step(name: str, title: str, more: str = "", minutes: int = 20, by: str = "") -> str:
    return STEP.format(name=name, title=title, more=more, minutes=minutes, by=f', by = "{by}"' if by else "")


YARD = """
sheet = "test-yard"
title = "Yard"
trade = "upkeep"
kind = "wall"
about = "Made up for the tests."
[facts]
date = { asks = "date" }
""" + "".join(
    (
        _step("coat", "Coat the wall", "needs = { dry = true }"),
        _step("spray", "Spray the nettles", "needs = { still = true }"),
        _step("plant", "Plant the beans", "needs = { no_frost = true }"),
        _step("paint", "Paint the gate", "needs = { above_c = 8 }"),
        _step("jars", "Wash the jars", 'place = "kitchen"', 30),
        _step("tools", "Oil the tools", 'place = "under cover"', 10),
        _step("hang", "Hang the herbs", 'place = "under cover"\nneeds = { dry = true }'),
        _step("fleece", "Put fleece over", "before_frost = true", by="P20D"),  # opens on 28 September
        _step("straw", "Straw the crowns", "before_frost = true", by="P22D"),  # opens on 30 September
        _step("pick", "Pick the plums", 'asks = { kg = { asks = "kg", label = "Plums" } }'),
        _step("count", "Count the hens", 'asks = { hens = { asks = "count", high = 50 }, ill = { asks = "count" } }'),
    )
)
ENTRIES = (*BEGUN, entry("yard", "test-yard", ON.isoformat(), "Long barn"))


def yard_book(folder: Path) -> Book:
    """The records of the croft with its yard."""
    made = settings(folder)
    (made.sheets / "test-yard.toml").write_text(YARD, encoding="utf-8")
    found = Book(made, now=Clock(), today=ON)
    fill(found, ENTRIES)
    return found


def yard_client(folder: Path) -> tuple[TestClient, Book]:
    """The croft with its yard as a browser meets it, and its book."""
    made = settings(folder)
    (made.sheets / "test-yard.toml").write_text(YARD, encoding="utf-8")
    app = create_app(made, Clock(), today=ON)
    fill(app.state.book, ENTRIES)
    return client(app), app.state.book
