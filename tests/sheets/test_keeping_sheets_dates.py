"""Dates and minutes that the sheets of pickles, ferments, juice and raw stores give, against their sources."""

from functools import cache

import pytest

from app.rules.facts import Entry
from app.rules.plan import Plan
from app.sheets.library import load
from tests.rules.kit import day, entry, iso, planner

WORK = planner(load().sheets.values(), "england", load().law)
ON = "2025-09-20"


def put(sheet: str, on: str = ON, **facts: object) -> Entry:
    return entry(sheet, sheet, on, on, **facts)


@cache
def _plan(one: tuple[str, str, tuple[tuple[str, object], ...]]) -> tuple[Entry, Plan]:
    sheet, on, facts = one
    made = put(sheet, on, **dict(facts))
    return made, WORK.plan([made], (), [], day(on), day("2027-12-31"))


def windows(sheet: str, on: str = ON, **facts: object) -> dict[str, tuple[str | None, str | None]]:
    """The best day and the last of each step."""
    _, plan = _plan((sheet, on, tuple(facts.items())))
    return {task.step: (iso(task.best), iso(task.closes)) for task in plan.tasks}


def said(sheet: str, step: str, on: str = ON, **facts: object) -> str:
    """What a step's reasons say."""
    made, plan = _plan((sheet, on, tuple(facts.items())))
    laid = WORK.explain(plan, plan.laid[made.id].entry, [])
    return " ".join(reason.inputs for found in laid.tasks if found.step == step for reason in found.reasons)


def lacking(sheet: str, on: str = ON, **facts: object) -> str:
    """Why steps have no day."""
    return " ".join(str(lack) for lack in _plan((sheet, on, tuple(facts.items())))[1].lacks)


@pytest.mark.published
@pytest.mark.parametrize(
    ("sheet", "altitude_m", "jar_ml", "minutes"),
    [
        ("pickled-beetroot", 150, 500, 30),  # pints and quarts alike
        ("pickled-beetroot", 310, 473, 35),  # 1017 ft: the second band
        ("mixed-pickle", 0, 473, 5),
        ("mixed-pickle", 0, 500, 10),  # half a litre is no pint
        ("mixed-pickle", 1900, 946, 20),
        ("pickled-onions", 500, 350, 15),
        ("fruit-syrup", 0, 350, 10),
        ("apple-juice", 500, 946, 10),
        ("bottled-apple-sauce", 0, 500, 20),
        ("bottled-apple-sauce", 1500, 473, 20),
    ],
)
def test_jars_are_boiled_as_long_as_is_printed(sheet: str, altitude_m: float, jar_ml: float, minutes: int) -> None:
    """USDA AIB 539, guide 6 (beets, mixed vegetables) and guide 2 (berry syrup), in copies; NCHFP, Pickled Onions;
    Michigan State University Extension 01600763 (apple juice) and 01600353 (apple sauce), 1997.
    """
    amount = {"l": 5} if sheet == "apple-juice" else {"kg": 3}
    said_of = said(sheet, "process", altitude_m=altitude_m, jar_ml=jar_ml, **amount)
    assert f"{minutes} minutes in boiling water" in said_of


@pytest.mark.published
def test_onions_in_a_litre_jar_get_no_day_for_boiling() -> None:
    """NCHFP, Pickled Pearl Onions: pints only; the tables end at a quart."""
    assert "process" not in windows("pickled-onions", kg=2, altitude_m=0, jar_ml=1000)
    assert "smaller jars" in lacking("pickled-onions", kg=2, altitude_m=0, jar_ml=1000)


@pytest.mark.published
@pytest.mark.parametrize(("room_c", "best", "most"), [(22, 25, 28), (15, 39, 42)])
def test_gherkins_sour_in_three_to_four_weeks_or_five_to_six(room_c: float, best: int, most: int) -> None:
    """USDA guide 6, dill pickles: 70 to 75 °F 3 to 4 weeks, 55 to 65 °F 5 to 6; whole days."""
    found = windows("gherkins-in-brine", kg=2, room_c=room_c)["taste"]
    assert found == (iso(day(ON) + best), iso(day(ON) + most))
    assert "taste" not in windows("gherkins-in-brine", kg=2, room_c=28), "above 80 °F they go soft"


@pytest.mark.published
def test_potatoes_heal_a_fortnight_and_cool_for_a_month() -> None:
    """University of Nebraska CropWatch: 7 to 21 days, then 0.5 °F (0.28 °C) a day: 13 to 4 °C in 32 days."""
    found = windows("potatoes-in-a-clamp", kg=200, cure_c=13, store_c=4)
    assert found["store"][0] == "2025-10-04"
    assert found["cold"][0] == "2025-11-05"


@pytest.mark.published
def test_blighted_potatoes_are_neither_healed_nor_stored() -> None:
    """Utah State University Extension: with blight, frost or ring rot do not cure, use first."""
    found = windows("potatoes-in-a-clamp", kg=200, blight=True)
    assert found["use"][0] == ON
    assert "heal" not in found
    assert "store" not in found


@pytest.mark.published
def test_carrots_in_a_shed_of_5_degrees_keep_four_months_of_seven() -> None:
    """UMass Extension: 5 to 9 months at 0 °C, 7 taken; factor 2.5 in 10 °C (Iowa State: 2 to 3): 4.43 months."""
    assert windows("carrots-in-sand", kg=20, store_c=5)["first"][0] == iso(day(ON) + 132)
    assert windows("carrots-in-sand", kg=20, store_c=0)["first"][0] == iso(day(ON) + 210)


@pytest.mark.from_memory
def test_cox_is_not_kept_colder_than_three_degrees_and_hardy_apples_are() -> None:
    """British practice: Cox 3 to 4 °C, never colder; Iowa State: hardy apples at -1 to 0 °C, here 4 months."""
    assert "first" not in windows("cox-and-bramley-in-store", kg=20, store_c=1)
    assert "rots sooner" in lacking("cox-and-bramley-in-store", kg=20, store_c=1)
    assert windows("apples-in-store", kg=20, store_c=0)["first"][0] == iso(day(ON) + 120)


@pytest.mark.published
def test_acorn_squash_is_not_cured_and_butternut_is() -> None:
    """Alabama Cooperative Extension: acorn, do not cure; others ten days at 80 to 85 °F."""
    assert "cure" not in windows("acorn-kept", kg=10, store_c=12.5)
    butternut = windows("squash-kept", kg=10, store_c=12.5)
    assert butternut["store"][0] == iso(day(butternut["cure"][0] or "") + 10)


@pytest.mark.published
def test_squash_in_a_shed_of_5_degrees_is_chilled_and_given_no_longer_life() -> None:
    """UC Davis, Produce Facts: 12.5 to 15 °C; chilling injury below 10 °C."""
    assert "first" not in windows("squash-kept", kg=10, store_c=5)
    assert "rots sooner" in lacking("squash-kept", kg=10, store_c=5)


@pytest.mark.published
def test_salted_vegetables_are_tasted_after_three_warm_days_or_more_than_ten_cold_ones() -> None:
    """Lee and Lee, Journal of Fermentation and Bioengineering 75, 1993: 2 to 3 days at 25 °C, well over ten at 8.5."""
    assert windows("salted-vegetables", kg=2, room_c=25)["taste"][0] == iso(day(ON) + 3)
    assert day(windows("salted-vegetables", kg=2, room_c=8.5)["taste"][0] or "") > day(ON) + 10


@pytest.mark.from_memory
def test_eggs_in_vinegar_are_eaten_within_three_months() -> None:
    """NCHFP, pickled eggs: refrigerated, within 3 to 4 months."""
    assert windows("pickled-eggs")["first"] == ("2025-12-20", "2025-12-20")


@pytest.mark.published
def test_what_is_not_sour_is_never_put_on_a_shelf() -> None:
    """USDA AIB 539, 1994: low-acid food is frozen, or pressure-canned by a table; here no sheet cans under pressure."""
    for name in ("frozen-sweetcorn", "frozen-greens", "frozen-squash", "frozen-herbs", "soft-cheese", "pickled-eggs"):
        sheet = load().sheets[name]
        places = {make.where for step in sheet.steps for make in step.makes}
        assert places <= {"freezer", "fridge"}, name


@pytest.mark.from_memory
@pytest.mark.parametrize(
    ("caution", "sheets"),
    [
        ("frozen-is-raw", ("frozen-beans", "frozen-greens", "frozen-peas", "frozen-produce", "frozen-sweetcorn")),
        ("raw-kidney-beans", ("frozen-beans", "dried-beans")),
        ("bitter-squash", ("dried-courgettes", "frozen-squash", "squash-kept")),
        ("rhubarb-leaves", ("bottled-soft-fruit",)),
    ],
)
def test_the_usual_cautions_stand_on_what_can_hurt(caution: str, sheets: tuple[str, ...]) -> None:
    """Food Standards Agency: Listeria in frozen vegetables, beans half cooked, bitter courgettes, rhubarb leaves."""
    for name in sheets:
        assert caution in load().sheets[name].cautions, name
