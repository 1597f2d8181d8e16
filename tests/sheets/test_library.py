"""The whole library: the program's files, and the household's on top of them."""

from pathlib import Path

import pytest

from app.errors import KnowledgeError
from app.rules.moment import EntryDate, YearDay
from app.rules.spans import Span
from app.sheets.check import Row, check, listing, unsaid, unused
from app.sheets.library import load
from app.sheets.merge import Change
from tests.sheets.examples import TOMATO

SOURCES = """
[handbook]
title = "A handbook"
body = "A college"
year = 1998
[spare]
title = "A spare"
body = "A college"
seen = "quoted in A handbook"
"""
CAUTIONS = '[ladders]\ntext = "Foot it."\nsource = { published = "handbook", at = "p. 3" }\n'
LAW = """
nation = "england"
[[bar]]
id = "hedges"
acts = ["cut hedge"]
from = { day = "--03-01" }
to = { day = "--08-31" }
says = "Nests."
in_force = "not known"
source = { published = "handbook" }
"""
PIG = """
sheet = "pig"
title = "Pig"
trade = "livestock"
kind = "pen"
[facts]
date = "date"
[[step]]
id = "kill"
title = "Kill"
source = { published = "handbook" }
cautions = ["ladders"]
from = { entry = "date" }
asks = { kg = "kg" }
makes = [{ entry = "pork", sheet = "pork", facts = { kg = "kill.kg" }, else = { kg = 60 } }]
"""
PORK = """
sheet = "pork"
title = "Pork"
trade = "meat"
kind = "delivery"
[facts]
date = "date"
kg = { asks = "kg", else = 50, high = 200 }
[[step]]
id = "cut"
title = "Cut up"
source = "common practice"
from = { entry = "date" }
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    files = {
        "sources.toml": SOURCES,
        "cautions.toml": CAUTIONS,
        "law/england.toml": LAW,
        "livestock/pig.toml": PIG,
        "meat/pork.toml": PORK,
        "garden/tomato.toml": TOMATO,
        "normals/places.toml": "night_sd_c = 2.7",
    }
    for name, text in files.items():
        path = tmp_path / "program" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path / "program"


@pytest.fixture
def own(tmp_path: Path) -> Path:
    folder = tmp_path / "sheets"
    folder.mkdir()
    return folder


def spoil(root: Path, file: str, old: str, new: str) -> None:
    text = (root / file).read_text(encoding="utf-8")
    assert old in text
    (root / file).write_text(text.replace(old, new), encoding="utf-8")


@pytest.mark.parametrize(
    ("file", "old", "new", "step", "key", "part"),
    [
        ("meat/pork.toml", 'sheet = "pork"', 'sheet = "prok"', "", "sheet", "the file is called pork.toml"),
        ("meat/pork.toml", 'trade = "meat"', 'trade = "garden"', "", "trade", "lies in the folder meat"),
        ("livestock/pig.toml", 'sheet = "pork"', 'sheet = "prok"', "kill", "makes.sheet", "did you mean 'pork'?"),
        ("livestock/pig.toml", "facts = { kg =", "facts = { lb =", "kill", "makes.lb", "asks for no fact 'lb'"),
        ("livestock/pig.toml", "else = { kg = 60", "else = { kg = 600", "kill", "makes.else.kg", "above high, 200"),
        ("livestock/pig.toml", 'kg = "kg" }', 'kg = "g" }', "kill", "asks.kg", "the name kg says kg"),
        ("law/england.toml", 'nation = "england"\n', "", "", "nation", "is missing"),
        ("law/england.toml", '"england"', '"englnd"', "", "nation", "did you mean 'england'?"),
        ("law/england.toml", '{ day = "--03-01" }', '{ entry = "date" }', "bar hedges", "from", "come every year"),
        ("law/england.toml", '{ day = "--03-01" }', '{ mark = "last frost", chance = 50 }', "bar hedges", "from",
         "on a day of the year"),
        ("law/england.toml", 'id = "hedges"', 'id = "hedges"\nkind = "room"', "bar hedges", "kind", "is all law"),
        ("law/england.toml", 'id = "hedges"', 'id = "hedges"\non = "entry"', "bar hedges", "on", "unknown word"),
        ("sources.toml", 'title = "A spare"', 'titel = "A spare"', "spare", "titel", "did you mean 'title'?"),
        ("sources.toml", "year = 1998", 'year = "1998"', "handbook", "year", "expected a whole number"),
        ("cautions.toml", 'text = "Foot it."', "", "ladders", "text", "is missing"),
        ("cautions.toml", "source = { p", "sauce = { p", "ladders", "source", "has no source"),
    ],
)  # fmt: skip
def test_the_programs_own_files_must_be_right(
    root: Path, file: str, old: str, new: str, step: str, key: str, part: str
) -> None:
    spoil(root, file, old, new)
    with pytest.raises(KnowledgeError) as caught:
        load(root=root)
    found = [fault for fault in caught.value.faults if fault.file == file and fault.step == step and fault.key == key]
    assert any(part in fault.reason for fault in found), caught.value.faults
    assert check(root=root) == list(caught.value.faults)


def test_a_source_that_is_renamed_is_missed_by_every_entry_that_used_it(root: Path) -> None:
    spoil(root, "sources.toml", "[handbook]", "[hand-book]")
    with pytest.raises(KnowledgeError) as caught:
        load(root=root)
    assert {(fault.file, fault.step, fault.key) for fault in caught.value.faults} == {
        ("cautions.toml", "ladders", "source.published"),
        ("law/england.toml", "bar hedges", "source.published"),
        ("livestock/pig.toml", "kill", "source.published"),
    }
    assert all("did you mean 'hand-book'?" in fault.reason for fault in caught.value.faults)


def test_files_that_are_no_toml_and_no_text_are_named_together(root: Path) -> None:
    (root / "meat/pork.toml").write_bytes(b'title = "\xff"')
    (root / "garden/tomato.toml").write_text("sheet = ", encoding="utf-8")
    found = check(root=root)
    assert any(f.file == "meat/pork.toml" and "not UTF-8" in f.reason for f in found)
    assert any(f.file == "garden/tomato.toml" and f.step == "line 1" and "not TOML" in f.reason for f in found)


def test_all_that_is_known_is_loaded(root: Path) -> None:
    library = load(root=root)
    assert set(library.sheets) == {"pig", "pork", "tomato"}
    assert library.sources["spare"].seen == "quoted in A handbook"
    assert library.sources["handbook"].year == 1998
    assert library.cautions["ladders"].text == "Foot it."
    (hedges,) = library.law.bars
    assert (hedges.kind, hedges.on, hedges.nations) == ("law", "holding", ("england",))
    assert (hedges.opens, hedges.closes) == (YearDay(3, 1), YearDay(8, 31))
    assert (library.own, library.faults, dict(library.changes)) == (frozenset(), (), {})
    assert library.sheets["pig"].file == "livestock/pig.toml"


def test_what_is_cited_nowhere_is_found(root: Path) -> None:
    assert unused(load(root=root)) == ["spare"]
    assert unsaid(load(root=root)) == []


def test_the_list_has_a_row_for_each_sheet(root: Path) -> None:
    assert listing(load(root=root)) == [
        Row("garden", "tomato", 4, "common practice"),
        Row("livestock", "pig", 1, "handbook"),
        Row("meat", "pork", 1, "common practice"),
    ]


# ── The household's own folder ────────────────────────────────────────────────────────────────────────────────────

OURS = TOMATO.replace('sheet = "tomato"', 'sheet = "ours"').replace('title = "Tomato"', 'title = "Ours"')


@pytest.mark.parametrize(
    ("file", "text", "key", "part"),
    [
        ("ours.toml", OURS.replace("opens =", "opnes ="), "opnes", "did you mean 'opens'?"),
        ("other.toml", OURS, "sheet", "the file is called other.toml"),
        ("tomato.toml", TOMATO, "sheet", 'to change it, write changes = "tomato"'),
        ("ours.toml", "sheet =", "", "not TOML"),
        ("Our Own.toml", OURS, "", "small letters"),  # an export would not take it along
        ("mine.toml", 'changes = "tomatoe"', "changes", "there is no sheet 'tomatoe'"),
        ("mine.toml", 'changes = "tomato"\n[[step]]\nid = "sow"\nopens = "2 weeks"', "opens", "not an ISO 8601"),
        ("mine.toml", 'changes = "tomato"\n[[step]]\nid = "sew"\nopens = "P2W"', "id", "did you mean 'sow'?"),
        ("ours.toml", OURS.replace('lot = "tomatoes", amount = "pick.kg", unit = "kg", keeps = "P1W", where = "shelf"',
         'entry = "x", sheet = "prok"'), "makes.sheet", "did you mean 'pork'?"),
    ],
)  # fmt: skip
def test_a_households_faulty_file_is_left_out_and_said(
    root: Path, own: Path, file: str, text: str, key: str, part: str
) -> None:
    (own / file).write_text(text, encoding="utf-8")
    library = load(own, root)
    assert set(library.sheets) == {"pig", "pork", "tomato"}
    assert library.sheets == load(root=root).sheets
    assert (library.own, dict(library.changes)) == (frozenset(), {})
    assert [(fault.file, fault.key) for fault in library.faults] == [(file, key)]
    assert part in library.faults[0].reason
    assert check(own, root) == list(library.faults)


def test_a_change_that_spoils_what_another_sheet_makes_is_left_out(root: Path, own: Path) -> None:
    (own / "mine.toml").write_text('changes = "pork"\n[facts]\nkg = { high = 55 }', encoding="utf-8")
    library = load(own, root)
    assert library.sheets["pork"] == load(root=root).sheets["pork"]
    assert not library.changes
    assert "above high, 55" in library.faults[0].reason


def test_two_files_do_not_change_one_sheet(root: Path, own: Path) -> None:
    for name in ("a.toml", "b.toml"):
        (own / name).write_text('changes = "tomato"\n[[step]]\nid = "sow"\nopens = "-P3W"', encoding="utf-8")
    library = load(own, root)
    assert [str(fault) for fault in library.faults] == ["b.toml: changes: a.toml changes 'tomato' already"]
    assert len(library.changes["tomato"]) == 1


def test_a_households_own_sheets_and_figures_are_taken_in(root: Path, own: Path) -> None:
    (own / "ours.toml").write_text(OURS, encoding="utf-8")
    (own / "alike.toml").write_text('sheet = "alike"\nlike = "ours"\ntitle = "Alike"', encoding="utf-8")
    (own / "mine.toml").write_text('changes = "tomato"\n[[step]]\nid = "sow"\nopens = "-P3W"', encoding="utf-8")
    library = load(own, root)
    assert library.faults == ()
    assert library.own == {"ours", "alike"}
    assert library.changes == {"tomato": (Change("sow", "opens", "-P2W", "-P3W"),)}
    sheet = library.sheets["tomato"]
    assert next(step for step in sheet.steps if step.id == "sow").opens == Span(0, -21)
    assert sheet.file == "garden/tomato.toml"
    assert library.sheets["alike"].title == "Alike"
    assert library.sheets["pig"].steps[0].start == EntryDate("date")


def test_a_folder_that_is_not_there_holds_nothing(root: Path, tmp_path: Path) -> None:
    assert load(tmp_path / "none", root).sheets == load(root=root).sheets
    assert [fault.reason for fault in check(tmp_path / "none", root)] == ["there is no such folder"]
