"""A made-up holding with sheets of its own, short enough to reckon by hand; every figure is made up for its test."""

import warnings
from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from pathlib import Path

from fastapi import FastAPI

from app.main import create_app
from app.records import store
from app.rules.facts import Entry, Tick
from app.rules.terms import Value
from app.services.book import Book
from app.settings import Settings, read_settings

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the test client's own notice about httpx
    from starlette.testclient import TestClient

ON = date(2027, 9, 15)
TODAY = ON.toordinal()
NOW = datetime(2027, 9, 15, 8, 0, tzinfo=UTC)

BEET = """
sheet = "test-beet"
title = "Beet"
trade = "garden"
kind = "sowing"
about = "Made up for the tests."
[facts]
date = { asks = "date" }
[[step]]
id = "sow"
title = "Sow the beet"
from = { entry = "date" }
opens = "-P1W"
closes = "P2W"
missed = "lost"
minutes = 20
source = "common practice"
[[step]]
id = "thin"
title = "Thin the beet"
note = "to a hand apart"
from = { step = "sow", by = "P4W" }
opens = "-P1W"
closes = "P1W"
loses = "small roots"
minutes = 30
asks = { kg = { asks = "kg", label = "Weight" } }
source = "common practice"
[[step]]
id = "lift"
title = "Lift the beet"
from = { step = "thin", by = "P8W" }
opens = "-P2W"
closes = "P4W"
minutes = 60
source = "common practice"
"""

PEN = """
sheet = "test-pen"
title = "Pen"
trade = "livestock"
kind = "pen"
about = "Made up for the tests."
species = "pig"
[facts]
date = { asks = "date" }
[[step]]
id = "worm"
title = "Worm the pigs"
from = { entry = "date", by = "P1W" }
closes = "P1W"
asks = { withdrawal_days = { asks = "d", optional = true } }
minutes = 10
source = "common practice"
[[step]]
id = "kill"
title = "Pigs to the abattoir"
act = "slaughter"
from = { entry = "date", by = "P6W" }
opens = "-P1W"
closes = "P3W"
minutes = 90
source = "common practice"
[[step]]
id = "report"
title = "Report the move"
from = { entry = "date", by = "P10D" }
closes = "P10D"
legal = true
nations = ["england"]
minutes = 10
source = "common practice"
[[step]]
id = "vet"
title = "The vet calls"
from = { entry = "date", by = "P3W" }
firm = true
minutes = 30
source = "common practice"
[[step]]
id = "feed"
title = "Feed the pigs"
from = { entry = "date" }
round = { at = "morning" }
minutes = 15
source = "common practice"
[[step]]
id = "shut"
title = "Shut the pigs up"
from = { entry = "date" }
round = { at = "evening" }
minutes = 5
source = "common practice"
[[bar]]
id = "withdrawal"
kind = "law"
on = "entry"
acts = ["slaughter"]
from = { tick = "worm" }
to = { tick = "worm", days = "worm.withdrawal_days" }
says = "Inside the withdrawal period of the wormer."
source = "common practice"
"""


def settings(folder: Path) -> Settings:
    made = read_settings({"TWELVEMONTH_DATA": str(folder / "data")})
    made.sheets.mkdir(parents=True, exist_ok=True)
    (made.sheets / "test-beet.toml").write_text(BEET, encoding="utf-8")
    (made.sheets / "test-pen.toml").write_text(PEN, encoding="utf-8")
    return made


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def entry(ident: str, sheet: str, begun: str, place: str = "Long bed") -> Entry:
    facts: Mapping[str, Value] = {"date": day(begun)}
    return Entry(ident, sheet, ident.replace("-", " ").capitalize(), facts, day(begun), place)


BEGUN = (
    entry("early-beet", "test-beet", "2027-08-16"),  # sown that day; thin on 13 September, from 6 to 20
    entry("late-beet", "test-beet", "2027-09-13"),  # sow from 6 to 27 September
    entry("two-pigs", "test-pen", "2027-09-01", "Orchard"),  # worm on the 8th, by the 15th; kill on 13 October
)


def fill(book: Book, entries: Iterable[Entry] = BEGUN) -> None:
    """Write the holding, two people and its entries."""
    entries = list(entries)
    with book.writing() as session:
        store.put_holding(
            session,
            store.HoldingRow(
                name="Made-up Croft", nation="england", latitude=54.0, longitude=-2.5, altitude_m=200.0,
                timezone="Europe/London", mouths=3.0, normals="north-yorkshire", created_at=NOW,
            ),
        )  # fmt: skip
        store.put_person(session, store.PersonRow(name="Ana", monday=120, wednesday=60, saturday=300))
        store.put_person(session, store.PersonRow(name="Bo", saturday=240))
        for one in entries:
            store.add_entry(session, one, now=NOW)
        if any(one.id == "early-beet" for one in entries):
            store.add_tick(
                session, Tick("sown", "early-beet.sow", "done", day("2027-08-16"), "2027-08-16T18:00:00.000Z")
            )
        book.replan(session, None, TODAY)


class Clock:
    """A clock that goes on by a second at every look, so that ticks have an order."""

    def __init__(self) -> None:
        self.seconds = 0

    def __call__(self) -> datetime:
        self.seconds += 1
        return NOW.replace(hour=8 + self.seconds // 3600, minute=self.seconds // 60 % 60, second=self.seconds % 60)


def book(folder: Path, entries: Iterable[Entry] = BEGUN) -> Book:
    made = Book(settings(folder), now=Clock(), today=ON)
    fill(made, entries)
    return made


def app(folder: Path, entries: Iterable[Entry] | None = BEGUN) -> FastAPI:
    made = create_app(settings(folder), Clock(), today=ON)
    if entries is not None:
        fill(made.state.book, entries)
    return made


def client(made: FastAPI) -> TestClient:
    return TestClient(made, base_url="http://localhost", follow_redirects=False, headers={"origin": "http://localhost"})


def rows(made: Book) -> dict[str, store.TaskRow]:
    """Every job of the projection by its key, without what was said of it."""
    with made.reading() as session:
        found = [row for one in store.entries(session) for row in store.rows_for_entry(session, one.id)]
    return {row.key: row._replace(extra="") for row in found}


def plain(page: str) -> str:
    """A page's text with every no-break space as a plain one."""
    return page.replace("\u00a0", " ")
