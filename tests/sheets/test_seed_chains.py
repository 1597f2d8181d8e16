"""Every crop whose seed can be kept: the whole chain, in the order in which the trade does it."""

from functools import cache

import pytest

from app.rules.facts import Holding, Tick
from app.rules.plan import plan
from app.rules.sheet import Sheet
from app.rules.tasks import Laid, Plan
from app.sheets.library import load
from app.sheets.places import places
from app.trade.climate.normals_season import NormalsSeason
from tests.rules.kit import day, done, entry, iso, task

LIBRARY = load()
TO_EAT = frozenset({"pick", "pull", "lift"})
LATE_MARKS = {"pea", "tomato"}


def keeps_seed(sheet: Sheet) -> bool:
    makes = [make for step in sheet.steps for make in step.makes]
    return sheet.trade == "garden" and any(make.kind == "seed" and make.name.endswith(" seed") for make in makes)


SHEETS = sorted(sheet.id for sheet in LIBRARY.sheets.values() if keeps_seed(sheet))


def planned(sheet: str | None, *ticks: Tick, seed: bool = True) -> Plan:
    known = places()
    normals = known.normals["north-yorkshire"]
    season = NormalsSeason(54.2, normals, known.scatter, 150.0, None, None)
    wanted = SHEETS if sheet is None else [sheet]
    entries = [entry(one, one, "2027-04-10", told="2027-02-01", seed=seed) for one in wanted]
    as_of = "2027-02-01" if not ticks else iso(max(tick.on for tick in ticks)) or ""
    return plan(
        Holding("england", season), LIBRARY.sheets, LIBRARY.law, entries, (), ticks, day(as_of), day("2030-12-31")
    )


@cache
def every() -> Plan:
    return planned(None)


def first(laid: Laid, *steps: str) -> int | None:
    return min((one.best for one in laid.tasks if one.step in steps and one.best is not None), default=None)


def test_seed_of_most_crops_can_be_kept() -> None:
    assert len(SHEETS) >= 35


@pytest.mark.common_practice
@pytest.mark.parametrize("sheet", SHEETS)
def test_seed_plants_are_marked_before_the_first_is_taken_for_the_kitchen(sheet: str) -> None:
    """The best are kept for seed, not eaten: marked before the first picking, pulling or lifting."""
    laid = every().laid[sheet]
    marked, eaten = first(laid, "mark", "choose", "keep"), first(laid, *TO_EAT)
    assert marked is not None
    if eaten is not None and sheet not in LATE_MARKS:
        assert marked <= eaten, f"{sheet}: marked on {iso(marked)}, first taken on {iso(eaten)}"


@pytest.mark.common_practice
@pytest.mark.parametrize("sheet", SHEETS)
def test_a_line_goes_from_flower_to_tin_to_test(sheet: str) -> None:
    """Flower, ripen, clean, dry, tin; biennials in the year after they were sown."""
    laid = every().laid[sheet]
    flowers, tinned = first(laid, "flower"), first(laid, "tin")
    cleaned = first(laid, "thresh", "rinse", "seed", "scoop")
    assert tinned is not None
    assert cleaned is not None
    assert cleaned < tinned
    assert flowers is None or flowers < cleaned
    crop = LIBRARY.sheets[sheet].crop
    sown = first(laid, "sow")
    if crop is not None and crop.life == "biennial" and sown is not None and first(laid, "choose") is not None:
        assert tinned - sown > 365


@pytest.mark.parametrize("sheet", SHEETS)
def test_without_seed_wanted_nothing_of_it_is_asked(sheet: str) -> None:
    asked = {one.step for one in planned(sheet, seed=False).laid[sheet].tasks}
    own = {"parsnip-seed", "leek-seed"}
    assert sheet in own or not asked & {"choose", "thresh", "rinse", "ferment", "tin", "isolate", "again-sown"}


@pytest.mark.published
def test_short_lived_lines_are_sown_again_every_year() -> None:
    """Lists of seed life: onion, parsley and parsnip one year, leek two; all flower in their second year."""
    for sheet in ("parsnip", "parsnip-seed", "onion-sown", "parsley", "leek", "leek-seed"):
        laid = every().laid[sheet]
        sown, again = first(laid, "sow"), first(laid, "again-sown")
        assert sown is not None, sheet
        assert again is not None, sheet
        assert abs(again - sown - 365) <= 1, sheet
        assert again < (first(laid, "tin") or 0), sheet


@pytest.mark.common_practice
def test_fermented_seed_is_rinsed_looked_at_and_packed_in_its_days() -> None:
    """Cucumber: one to three days in the jar, dry in seven to fourteen; the same chain as the tomato's."""
    found = planned("cucumber-ridge", done("cucumber-ridge.ferment", "2027-09-01"))
    rinse, tin = task(found, "cucumber-ridge.rinse"), task(found, "cucumber-ridge.tin")
    crop = LIBRARY.sheets["cucumber-ridge"].crop
    assert crop is not None
    assert crop.ripeness is not None
    assert iso(rinse.best) == f"2027-09-0{1 + (crop.ripeness.ferment_low_days or 0)}"
    assert (tin.opens or 0) - (rinse.best or 0) == crop.ripeness.dry_low_days
    assert (tin.best or 0) - (rinse.best or 0) == crop.ripeness.dry_high_days
