"""A made-up garden with sheets of its own: beans whose water is known, kale, and muck as it comes with the program."""

from pathlib import Path
from unittest.mock import patch

from fastapi import FastAPI

from app.main import create_app
from app.records import store
from app.rules.facts import Entry
from app.services.book import Book
from app.sheets.library import Library, load
from tests.web.holding import NOW, ON, TODAY, Clock, day, settings

CROP = """
sheet = "test-{id}"
title = "{title}"
trade = "garden"
kind = "sowing"
about = "Made up for the tests."
species = "{species}"
family = "Testaceae"
begins = "sow"
[crop]
name = "{name}"
many = "{many}"
rotation = "{rotation}"
life = "annual"
frost = "tender"
source = "common practice"
growth = {{ low_days = 60, high_days = 90, source = "common practice" }}
spacing = {{ plant_cm = 15, row_cm = 45, source = "common practice" }}
[crop.water]
kc_start = 0.5
kc_mid = 1.05
kc_end = 0.9
root_low_m = 0.5
root_high_m = 0.7
depletion = 0.45
stages_days = [15, 25, 40, 10]
source = "common practice"
[facts]
date = {{ asks = "date" }}
row_m = {{ asks = "m", else = 6, low = 0.1, high = 500 }}
[[step]]
id = "sow"
title = "Sow the {many}"
act = "sow"
from = {{ entry = "date" }}
opens = "-P1W"
closes = "P4W"
source = "common practice"
[[step]]
id = "clear"
title = "Clear the {many}"
from = {{ step = "sow", by = "P100D" }}
closes = "P3W"
source = "common practice"
"""


def _sheet(ident: str, many: str, rotation: str, species: str) -> str:
    name = "bean" if many == "beans" else many
    return CROP.format(id=ident, title=f"Test {name}", name=name, many=many, rotation=rotation, species=species)


SHEETS = {
    "bean": _sheet("bean", "beans", "legumes", "Phaseolus vulgaris"),
    "kale": _sheet("kale", "kale", "brassicas", "Brassica oleracea"),
    "tray": _sheet("tray", "trays", "anywhere", "Lactuca sativa")
    .replace('act = "sow"', 'act = "sow"\nplace = "under cover"')
    .replace('id = "clear"', 'id = "plant"\nact = "plant"')
    .replace("P100D", "P28D"),
}

BEANS = Entry(
    "beans", "test-bean", "Beans, tall", {"date": day("2027-07-20"), "row_m": 4.0}, day("2027-07-20"), "Long bed"
)
KALE = Entry("kale", "test-kale", "Kale", {"date": day("2026-05-01")}, day("2026-05-01"), "Top bed")


_LOADED: list[Library] = []


def _library(own: Path) -> Library:
    if not _LOADED:
        _LOADED.append(load(own))
    return _LOADED[0]


def app(folder: Path, *entries: Entry, latitude: float = 54.0) -> FastAPI:
    """The program over a holding with these entries, 15 September 2027."""
    made = settings(folder)
    for name, text in SHEETS.items():
        (made.sheets / f"test-{name}.toml").write_text(text, encoding="utf-8")
    with patch("app.services.book.load", _library):  # the sheets are the same in every test
        found = create_app(made, Clock(), today=ON)
    book: Book = found.state.book
    with book.writing() as session:
        store.put_holding(
            session,
            store.HoldingRow(
                name="Made-up Croft", nation="england", latitude=latitude, longitude=-2.5, altitude_m=200.0,
                timezone="Europe/London", mouths=3.0, normals="north-yorkshire", created_at=NOW,
            ),
        )  # fmt: skip
        for one in entries:
            store.add_entry(session, one, now=NOW)
        book.replan(session, None, TODAY)
    return found
