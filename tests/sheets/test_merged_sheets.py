"""Sheets that are like others, and a household's changes to one."""

import tomllib

import pytest

from app.errors import KnowledgeError
from app.rules.sheet import Sheet
from app.rules.spans import Span
from app.sheets.merge import Change, overlay
from app.sheets.read import read
from app.sheets.values import Known
from tests.sheets.examples import TOMATO, WEANERS

DOCS = {"tomato": tomllib.loads(TOMATO), "weaners": tomllib.loads(WEANERS)}
KNOWN = Known(docs=DOCS)

CHERRY = """
sheet = "cherry-tomato"
like = "tomato"
title = "Cherry tomato"
drop = ["harden"]
[facts]
row_m = { else = 4 }
pots = { asks = "count", else = 6 }
[[step]]
id = "plant"
after = [{ step = "sow", by = "P5W" }]
[[step]]
id = "stop"
title = "Pinch out the top"
source = "common practice"
from = { step = "plant", by = "P8W" }
"""


def changed(text: str) -> tuple[dict, list[Change]]:  # type: ignore[type-arg]
    return overlay(DOCS["tomato"], tomllib.loads('changes = "tomato"\n' + text), "mine.toml")


@pytest.mark.parametrize(
    ("old", "new", "key", "part"),
    [
        ('like = "tomato"', 'like = "tomatoe"', "like", "there is no sheet 'tomatoe'; did you mean 'tomato'?"),
        ('like = "tomato"', "like = 3", "like", "there is no sheet 3"),
        ('drop = ["harden"]', 'drop = ["hardn"]', "drop", "'tomato' has no 'hardn'; did you mean 'harden'?"),
        ('drop = ["harden"]', 'drop = "harden"', "drop", "expected a list of ids"),
        ('drop = ["harden"]', 'drop = ["sow", "harden"]', "after.step", "there is no step 'sow'"),
        ("row_m = { else = 4 }", "row_m = { else = 4000 }", "row_m.else", "above high, 500"),
    ],
)
def test_a_likeness_is_refused_where_it_is_wrong(old: str, new: str, key: str, part: str) -> None:
    assert old in CHERRY
    found = read(CHERRY.replace(old, new), "cherry-tomato.toml", KNOWN)
    assert isinstance(found, list)
    assert any(fault.key == key and part in fault.reason for fault in found), found


def test_sheets_like_each_other_are_refused() -> None:
    docs = {"a": {"sheet": "a", "like": "b"}, "b": {"sheet": "b", "like": "a"}}
    found = read(docs["a"], "a.toml", Known(docs=docs))
    assert isinstance(found, list)
    assert found[0].reason == "a circle of sheets: a → b → a"


def test_a_sheet_like_another_takes_all_it_does_not_change() -> None:
    cherry, tomato = read(CHERRY, "cherry-tomato.toml", KNOWN), read(TOMATO)
    assert isinstance(cherry, Sheet)
    assert isinstance(tomato, Sheet)
    assert (cherry.id, cherry.title, cherry.kind) == ("cherry-tomato", "Cherry tomato", "sowing")
    assert cherry.order == ("sow", "plant", "pick", "stop")
    assert cherry.facts["row_m"] == tomato.facts["row_m"]._replace(default=4)
    assert cherry.facts["pots"].default == 6
    mine, theirs = ({step.id: step for step in sheet.steps} for sheet in (cherry, tomato))
    assert mine["sow"] == theirs["sow"]
    assert mine["plant"].start == theirs["plant"].start
    assert [(one.step, one.by) for one in mine["plant"].after] == [("sow", Span(0, 35))]
    assert cherry.bars == tomato.bars


def test_a_dropped_step_can_be_written_anew() -> None:
    text = CHERRY + '[[step]]\nid = "harden"\ntitle = "Harden"\nsource = "common practice"\nfrom = { step = "sow" }\n'
    sheet = read(text, "cherry-tomato.toml", KNOWN)
    assert isinstance(sheet, Sheet)
    assert next(step for step in sheet.steps if step.id == "harden").closes is None


def test_a_sheet_may_be_like_one_that_is_like_a_third() -> None:
    docs = {**DOCS, "cherry-tomato": tomllib.loads(CHERRY)}
    sheet = read('sheet = "plum"\nlike = "cherry-tomato"\ntitle = "Plum tomato"', "plum.toml", Known(docs=docs))
    assert isinstance(sheet, Sheet)
    assert (sheet.title, sheet.order) == ("Plum tomato", ("sow", "plant", "pick", "stop"))


@pytest.mark.parametrize(
    ("text", "step", "key", "part"),
    [
        ('[[step]]\nid = "sew"\nopens = "-P3W"', "sew", "id", "'tomato' has no step 'sew'; did you mean 'sow'?"),
        ('[[step]]\nopens = "-P3W"', "", "id", "has no step ''"),
        ('[[step]]\nid = "sow"\ncautions = []', "sow", "cautions", "not for a household to change"),
        ('[[step]]\nid = "sow"\nlegal = true', "sow", "legal", "not for a household to change"),
        ('[[bar]]\nid = "bed"', "", "bar", "[[step]] and [facts] alone"),
        ('title = "Ours"', "", "title", "[[step]] and [facts] alone"),
        ('step = "sow"', "", "step", "expected [[step]] tables"),
        ("[facts]\nrow = { else = 3 }", "facts", "row", "did you mean 'row_m'?"),
        ('[facts]\nrow_m = "cm"', "facts", "row_m", "what is asked is not changed here"),
        ("", "", "", "changes nothing"),
        ('[[step]]\nid = "sow"\nopens = "-P2W"', "", "", "changes nothing"),
    ],
)
def test_changes_are_refused_where_they_are_wrong(text: str, step: str, key: str, part: str) -> None:
    with pytest.raises(KnowledgeError) as caught:
        changed(text)
    assert [(fault.file, fault.step, fault.key) for fault in caught.value.faults] == [("mine.toml", step, key)]
    assert part in caught.value.faults[0].reason


def test_a_window_that_is_law_is_not_the_households_to_change() -> None:
    base = {"step": [{"id": "ring", "legal": True, "closes": "P7D", "note": "x"}]}
    with pytest.raises(KnowledgeError, match="this window is law"):
        overlay(base, {"changes": "lamb", "step": [{"id": "ring", "closes": "P9D"}]})
    doc, changes = overlay(base, {"changes": "lamb", "step": [{"id": "ring", "note": "y"}]})
    assert changes == [Change("ring", "note", "x", "y")]
    assert doc["step"] == [{"id": "ring", "legal": True, "closes": "P7D", "note": "y"}]


def test_changes_say_what_was_and_what_is_now() -> None:
    doc, changes = changed('[[step]]\nid = "sow"\nopens = "-P3W"\nnote = "in the porch"\n[facts]\nrow_m = { else = 6 }')
    assert changes == [
        Change("sow", "opens", "-P2W", "-P3W"),
        Change("sow", "note", None, "in the porch"),
        Change("facts", "row_m.else", 9, 6),
    ]
    sheet = read(doc)
    assert isinstance(sheet, Sheet)
    assert next(step for step in sheet.steps if step.id == "sow").opens == Span(0, -21)
    assert sheet.facts["row_m"].default == 6
    assert sheet.order == ("sow", "plant", "harden", "pick")


def test_merging_leaves_the_sheet_it_took_from_as_it_was() -> None:
    changed('[[step]]\nid = "sow"\nopens = "-P3W"\n[facts]\nrow_m = { else = 6 }')
    read(CHERRY, "cherry-tomato.toml", KNOWN)
    assert DOCS["tomato"] == tomllib.loads(TOMATO)
