"""Figures of a crop, put where a sheet names them, and patterns that sheets are like. The sheets are invented."""

import tomllib
from pathlib import Path

import pytest

from app.errors import Fault, KnowledgeError
from app.rules.crop import Crop, CropWater
from app.rules.moment import Given, StepDay, Warmth, Work
from app.rules.sheet import Sheet
from app.rules.spans import Span
from app.rules.terms import Source
from app.sheets.check import check, cited
from app.sheets.library import load
from app.sheets.merge import alike
from app.sheets.read import read
from app.sheets.values import Known
from tests.sheets.examples import WORKS

CROP = """
[crop]
name = "skirret"
many = "skirrets"
rotation = "roots"
life = "perennial"
frost = "hardy"
source = "common practice"
[crop.sprouting]
least_c = 4
most_c = 30
days_10c = 27
base_c = -0.1
theta_cday = 282
source = { published = "emergence" }
[crop.growth]
low_days = 120
high_days = 200
source = "common practice"
[crop.spacing]
plant_cm = 25
row_cm = 30
source = "common practice"
[crop.sowing]
seeds_a_gram = 430
seeds_each = 3
indoors_weeks = 6
open_from_weeks = -8
open_to_weeks = 4
source = { memory = "a handbook" }
[crop.keeping]
years = 2.5
source = "common practice"
[crop.crossing]
plants = 20
apart_m = 300
source = "common practice"
[crop.water]
kc_mid = 1.05
stages_days = [25, 30, 40, 20]
source = "common practice"
"""

ROOT_PATTERN = """
sheet = "dug-root"
pattern = true
trade = "garden"
kind = "sowing"
[facts]
date = { asks = "date" }
row_m = { asks = "m", label = "Row", else = 5 }
[[step]]
id = "sow"
title = "Sow {crop.many} {crop.spacing.plant_cm} cm apart"
source = "common practice"
from = { entry = "date" }
opens = { mark = "last frost", chance = 90, since = { entry = "date" }, by = "crop.sowing.open_from_weeks" }
closes = { mark = "last frost", chance = 90, since = { entry = "date" }, by = "crop.sowing.open_to_weeks" }
uses = [{ what = "{crop.name} seed", amount = "crop.sowing.grams_a_m", unit = "g", per = "row_m" }]
[[step]]
id = "up"
title = "Look for seedlings"
source = "common practice"
from = { warmth = "crop.sprouting.theta_cday", base = "crop.sprouting.base_c", since = { step = "sow" } }
[[step]]
id = "lift"
title = "Lift"
note = "from {crop.growth.low_days} days"
source = "common practice"
from = { step = "sow", by = "crop.growth.low_days" }
opens = "-P1W"
closes = "P4W"
asks = { kg = "kg" }
makes = [{ lot = "{crop.many}", amount = "lift.kg", unit = "kg", keeps = "P2W" }]
"""

SEED_PATTERN = """
sheet = "second-year"
pattern = true
[facts]
seed = { asks = "yes or no", else = false }
[crop.keeping]
years = 9
source = "common practice"
[[step]]
id = "sow"
note = "keep {crop.crossing.plants} for seed"
[[step]]
id = "cut"
title = "Cut"
source = "common practice"
when = { "entry.seed" = [true] }
asks = { g = "g" }
makes = [{ seed = "{crop.name} seed", amount = "cut.g", unit = "g", keeps = "crop.keeping.years" }]
[step.from]
work = "days_to_weight"
since = { step = "sow" }
given = { kg = { value = 3 }, target_kg = { value = "crop.growth.high_days" } }
[[step]]
id = "before"
title = "Look"
source = "common practice"
from = { step = "sow", by = "-crop.sowing.indoors_weeks" }
"""

SKIRRET = """
sheet = "skirret"
title = "Skirret"
like = ["dug-root", "second-year"]
"""

DOCS = {text.split('"')[1]: tomllib.loads(text) for text in (ROOT_PATTERN, SEED_PATTERN)}
KNOWN = Known(docs=DOCS, works=WORKS)


def skirret(text: str = SKIRRET + CROP) -> Sheet:
    found = read(text, "skirret.toml", KNOWN)
    assert isinstance(found, Sheet), found
    return found


def refused(text: str) -> list[Fault]:
    found = read(text, "skirret.toml", KNOWN)
    assert isinstance(found, list)
    return found


def test_the_figures_of_a_crop_are_read_with_their_sources() -> None:
    crop = skirret().crop
    assert isinstance(crop, Crop)
    assert (crop.rotation, crop.life, crop.frost, crop.many) == ("roots", "perennial", "hardy", "skirrets")
    assert crop.sprouting is not None
    assert (crop.sprouting.base_c, crop.sprouting.theta_cday, crop.sprouting.days_15c) == (-0.1, 282, None)
    assert crop.sprouting.source == Source("published", "emergence")
    assert crop.sowing is not None
    assert crop.sowing.source == Source("from memory", "", "a handbook")
    assert crop.water == CropWater(Source("common practice"), kc_mid=1.05, stages_days=(25, 30, 40, 20))
    assert crop.frosts is None
    assert Source("published", "emergence") in set(cited(skirret()))


def test_a_figure_stands_where_a_number_a_span_or_a_text_does() -> None:
    steps = {step.id: step for step in skirret().steps}
    assert steps["sow"].title == "Sow skirrets 25 cm apart"
    assert steps["sow"].note == "keep 20 for seed"
    assert getattr(steps["sow"].opens, "by", None) == Span(0, -56)
    assert getattr(steps["sow"].closes, "by", None) == Span(0, 28)
    assert steps["up"].start == Warmth(282, -0.1, StepDay("sow"))
    assert steps["lift"].start == StepDay("sow", "", Span(0, 120))
    assert steps["lift"].note == "from 120 days"
    assert steps["before"].start == StepDay("sow", "", Span(0, -42))
    assert isinstance(steps["cut"].start, Work)
    assert steps["cut"].start.given["target_kg"] == Given("value", value=200)


def test_a_figure_below_nought_bears_a_minus_sign_in_a_text() -> None:
    text = (SKIRRET + CROP).replace('title = "Skirret"', 'title = "Above {crop.sprouting.base_c} °C"')
    assert skirret(text).title == "Above −0.1 °C"


def test_a_figure_of_years_becomes_months_where_it_is_no_whole_number() -> None:
    make = next(step for step in skirret().steps if step.id == "cut").makes[0]
    assert (make.name, make.keeps) == ("skirret seed", Span(30, 0))
    whole = skirret((SKIRRET + CROP).replace("years = 2.5", "years = 4"))
    assert next(step for step in whole.steps if step.id == "cut").makes[0].keeps == Span(48, 0)


def test_grams_of_seed_follow_from_spacing_and_seeds_a_gram() -> None:
    # 4 plants a metre, 3 seeds to each, 430 seeds a gram: 12 / 430 = 0.0279 g, by hand
    assert next(step for step in skirret().steps if step.id == "sow").uses[0].amount == 0.028


def test_a_last_sowing_comes_by_the_days_to_grow_and_a_fortnight_before_the_light_goes() -> None:
    text = (SKIRRET + CROP).replace('title = "Skirret"', 'title = "Skirret, {crop.growth.useful_days} days"')
    assert skirret(text).title == "Skirret, 134 days"


def test_a_sheets_own_figures_stand_on_top_of_its_patterns() -> None:
    crop = skirret().crop
    assert crop is not None
    assert crop.keeping is not None
    assert crop.keeping.years == 2.5
    assert skirret().order == ("sow", "up", "lift", "cut", "before")
    assert list(skirret().facts) == ["date", "row_m", "seed"]


def test_the_later_of_two_patterns_stands_on_top() -> None:
    docs = {
        "a": {"sheet": "a", "pattern": True, "title": "A", "crop": {"life": "annual", "growth": {"low_days": 1}}},
        "b": {"sheet": "b", "pattern": True, "title": "B", "crop": {"growth": {"high_days": 2}}},
    }
    found, faults = alike({"sheet": "c", "like": ["a", "b"], "crop": {"growth": {"low_days": 3}}}, "c.toml", docs)
    assert not faults
    assert found == {
        "sheet": "c",
        "title": "B",
        "crop": {"life": "annual", "growth": {"low_days": 3, "high_days": 2}},
    }
    assert docs["a"]["crop"] == {"life": "annual", "growth": {"low_days": 1}}


@pytest.mark.parametrize(
    ("old", "new", "step", "key", "part"),
    [
        ("least_c = 4", "leest_c = 4", "crop", "sprouting.leest_c", "unknown key 'leest_c'; did you mean 'least_c'?"),
        ("least_c = 4", 'least_c = "4"', "crop", "sprouting.least_c", "found '4', expected a number"),
        ("least_c = 4", "least_c = 90", "crop", "sprouting.least_c", "between -5 and 50"),
        ("least_c = 4", "least_c = 31", "crop", "sprouting.least_c", "31 lies above most_c, 30"),
        ("low_days = 120", "low_days = 120.5", "crop", "growth.low_days", "expected a whole number"),
        ("low_days = 120", "low_days = 220", "crop", "growth.low_days", "220 lies above high_days, 200"),
        ('source = { published = "emergence" }', "", "crop", "sprouting.source", "has no source"),
        ('frost = "hardy"\nsource = "common practice"', 'frost = "hardy"', "crop", "source", "has no source"),
        ('rotation = "roots"', 'rotation = "root"', "crop", "rotation", "did you mean 'roots'?"),
        ('rotation = "roots"', "", "crop", "rotation", "is missing"),
        ("[crop.spacing]", "[crop.spaceing]", "lift", "x", ""),
        ("[25, 30, 40, 20]", "[25, 30, 40]", "crop", "water.stages_days", "expected a list of 4 whole numbers"),
        ("plants = 20\napart_m = 300", "", "crop", "crossing", "gives no figure; expected one or more of"),
    ],
)  # fmt: skip
def test_a_crop_is_refused_where_it_is_wrong(old: str, new: str, step: str, key: str, part: str) -> None:
    text = SKIRRET + CROP
    assert old in text
    if key == "x":
        found = refused(SKIRRET.replace('like = ["dug-root", "second-year"]', PLAIN) + CROP.replace(old, new))
        assert [(one.step, one.key) for one in found] == [("crop", "spaceing")]
        return
    spoilt = text.replace(old, new, 1)
    if key == "crossing":
        spoilt = spoilt.replace('like = ["dug-root", "second-year"]', 'like = "dug-root"')
    found = refused(spoilt)
    assert any((one.step, one.key) == (step, key) and part in one.reason for one in found), found


PLAIN = """
trade = "garden"
kind = "sowing"
facts = { date = "date" }
step = [{ id = "sow", title = "Sow", source = "common practice", from = { entry = "date" } }]
"""


def test_a_sum_of_warmth_needs_its_base() -> None:
    text = SKIRRET.replace('like = ["dug-root", "second-year"]', PLAIN) + CROP.replace("base_c = -0.1\n", "")
    assert [(one.step, one.key) for one in refused(text)] == [("crop", "sprouting.theta_cday")]


@pytest.mark.parametrize(
    ("old", "new", "step", "key", "part"),
    [
        ('by = "crop.growth.low_days"', 'by = "crop.growth.lowest"', "lift", "from.by",
         "there is no figure 'crop.growth.lowest'; did you mean 'growth.low_days'?"),
        ('by = "crop.growth.low_days"', 'by = "crop.spacing.row_cm"', "lift", "from.by", "is no length of time"),
        ('by = "crop.growth.low_days"', 'by = "crop.ripeness.dry_low_days"', "lift", "from.by",
         "this crop has none: [crop.ripeness] gives no dry_low_days"),
        ("{crop.growth.low_days}", "{crop.growth.base_c}", "lift", "note", "[crop.growth] gives no base_c"),
        ("{crop.growth.low_days}", "{crop}", "lift", "note", "there is no figure"),
        ("{crop.growth.low_days}", "{crop.water.stages_days}", "lift", "note", "is a list, and can't stand here"),
        ('label = "Row"', 'label = "Row of {crop.mony}"', "facts", "row_m.label", "did you mean 'many'?"),
        ('amount = "crop.sowing.grams_a_m"', 'amount = "crop.sowing.grams"', "sow", "uses.amount", "no figure"),
    ],
)  # fmt: skip
def test_a_name_that_is_no_figure_is_refused(old: str, new: str, step: str, key: str, part: str) -> None:
    assert old in ROOT_PATTERN
    docs = {**DOCS, "dug-root": tomllib.loads(ROOT_PATTERN.replace(old, new))}
    found = read(SKIRRET + CROP, "skirret.toml", Known(docs=docs, works=WORKS))
    assert isinstance(found, list)
    assert [(one.file, one.step, one.key) for one in found] == [("skirret.toml", step, key)]
    assert part in found[0].reason


def test_a_figure_that_is_worked_out_names_what_it_lacks() -> None:
    found = refused((SKIRRET + CROP).replace("seeds_a_gram = 430\n", ""))
    assert [(one.step, one.key) for one in found] == [("sow", "uses.amount")]
    assert "[crop.sowing] gives no seeds_a_gram" in found[0].reason


def test_figures_are_refused_on_a_sheet_without_a_crop() -> None:
    found = refused(SKIRRET.replace('["dug-root", "second-year"]', '"dug-root"'))
    assert {one.reason for one in found if one.key == "note"} == {
        "names 'crop.growth.low_days', and the sheet has no [crop]"
    }


@pytest.mark.parametrize(
    ("like", "part"),
    [
        ('["dug-root", "second-yaer"]', "there is no sheet 'second-yaer'; did you mean 'second-year'?"),
        ('["dug-root", 3]', "there is no sheet 3"),
        ("[]", "names no sheet"),
        ('["dug-root", "skirret"]', "a circle of sheets: skirret → skirret"),
    ],
)
def test_a_list_of_likes_is_refused_where_it_is_wrong(like: str, part: str) -> None:
    docs = {**DOCS, "skirret": tomllib.loads(SKIRRET)}
    text = SKIRRET.replace('["dug-root", "second-year"]', like) + CROP
    found = read(text, "skirret.toml", Known(docs=docs, works=WORKS))
    assert isinstance(found, list)
    assert [(one.key, part in one.reason) for one in found] == [("like", True)]


def test_a_circle_through_lists_is_refused_and_a_shared_pattern_is_not() -> None:
    docs: dict[str, dict[str, object]] = {
        "a": {"sheet": "a", "like": ["b", "c"]},
        "b": {"sheet": "b", "like": "d"},
        "c": {"sheet": "c", "like": ["d"]},
        "d": {"sheet": "d", "pattern": True, "title": "D"},
    }
    assert alike(docs["a"], "a.toml", docs) == ({"sheet": "a", "title": "D"}, [])
    docs["d"]["like"] = ["a"]
    found, faults = alike(docs["a"], "a.toml", docs)
    assert found == {}
    assert [fault.reason for fault in faults] == ["a circle of sheets: a → b → d → a"]


def test_what_neither_pattern_has_can_not_be_dropped() -> None:
    found = refused(SKIRRET + 'drop = ["thin"]\n' + CROP)
    assert found[0].reason.startswith("'dug-root and second-year' has no 'thin'")


# ── In the library ────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.fixture
def root(tmp_path: Path) -> Path:
    program = tmp_path / "program"
    (program / "garden").mkdir(parents=True)
    (program / "sources.toml").write_text('[emergence]\ntitle = "Emergence"\nbody = "A college"\n')
    (program / "cautions.toml").write_text("")
    (program / "garden" / "dug-root.toml").write_text(ROOT_PATTERN)
    (program / "garden" / "skirret.toml").write_text(SKIRRET.replace(', "second-year"', "") + CROP)
    return program


def test_a_pattern_is_not_offered(root: Path) -> None:
    assert list(load(root=root).sheets) == ["skirret"]


def test_a_pattern_is_checked_in_the_sheets_that_are_like_it_alone(root: Path) -> None:
    (root / "garden" / "bare.toml").write_text('sheet = "bare"\npattern = true\n[[step]]\nid = "sow"\nfrm = 3')
    assert check(root=root) == []
    text = (root / "garden" / "skirret.toml").read_text()
    (root / "garden" / "skirret.toml").write_text(text.replace('["dug-root"]', '["dug-root", "bare"]'))
    assert [(one.file, one.step, one.key) for one in check(root=root)] == [("garden/skirret.toml", "sow", "frm")]


def test_a_pattern_can_not_be_made_into_an_entry(root: Path) -> None:
    text = (root / "garden" / "skirret.toml").read_text()
    made = 'makes = [{ entry = "x", sheet = "dug-root" }]'
    (root / "garden" / "skirret.toml").write_text(f'{text}[[step]]\nid = "up"\n{made}\n')
    assert [(one.step, one.key) for one in check(root=root)] == [("up", "makes.sheet")]
    assert "there is no sheet 'dug-root'" in check(root=root)[0].reason


def test_a_pattern_is_true_or_it_is_none(root: Path) -> None:
    (root / "garden" / "dug-root.toml").write_text(ROOT_PATTERN.replace("pattern = true", 'pattern = "yes"'))
    with pytest.raises(KnowledgeError, match="pattern: found 'yes', expected true or false"):
        load(root=root)


def test_a_household_may_build_on_patterns_and_have_its_own(root: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (own / "ours.toml").write_text('sheet = "ours"\npattern = true\nlike = "dug-root"\nabout = "Ours."')
    (own / "salsify.toml").write_text('sheet = "salsify"\ntitle = "Salsify"\nlike = "ours"' + CROP)
    (own / "mine.toml").write_text('changes = "skirret"\n[[step]]\nid = "lift"\nopens = "-P2W"')
    library = load(own, root)
    assert library.faults == ()
    assert library.own == {"salsify"}
    assert library.sheets["salsify"].about == "Ours."
    assert [(one.key, one.was, one.now) for one in library.changes["skirret"]] == [("opens", "-P1W", "-P2W")]


def test_a_change_says_the_figure_that_was(root: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (own / "mine.toml").write_text('changes = "skirret"\n[[step]]\nid = "lift"\nnote = "from {crop.growth.high_days}"')
    library = load(own, root)
    assert [(one.was, one.now) for one in library.changes["skirret"]] == [
        ("from 120 days", "from {crop.growth.high_days}")
    ]
    assert next(step for step in library.sheets["skirret"].steps if step.id == "lift").note == "from 200"


@pytest.mark.parametrize("head", ["", "pattern = true\n"])
def test_a_household_can_not_take_a_patterns_name(root: Path, tmp_path: Path, head: str) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (own / "dug-root.toml").write_text(f'sheet = "dug-root"\n{head}like = "skirret"')
    faults = load(own, root).faults
    assert len(faults) == 1
    assert "there is a sheet 'dug-root' already" in faults[0].reason
