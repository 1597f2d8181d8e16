"""Dates and minutes that the sheets of freezing, jam and bottled tomatoes give, against their sources."""

import pytest

from app.rules.facts import Entry
from app.sheets.library import load
from tests.rules.kit import day, entry, iso, planner


def said_and_best(one: Entry, step: str) -> tuple[str, str]:
    """What a step's reasons say, and its best day."""
    everything = load()
    work = planner(everything.sheets.values(), "england", everything.law)
    plan = work.plan([one], (), [], day("2026-01-01"), day("2028-12-31"))
    task = next(task for task in plan.tasks if task.step == step)
    laid = work.explain(plan, plan.laid[one.id].entry, [])
    said = " ".join(reason.inputs for found in laid.tasks if found.step == step for reason in found.reasons)
    return said, iso(task.best) or ""


@pytest.mark.published
def test_tomatoes_in_half_litre_jars_take_the_quarts_time() -> None:
    """USDA guide 3, crushed, hot: quarts 45 minutes to 1000 ft; a size between takes the larger one's time."""
    said, best = said_and_best(
        entry("tomatoes", "bottled-tomatoes", "2026-08-20", "2026-08-10", kg=6, altitude_m=150, jar_ml=500), "process"
    )
    assert "45 minutes in boiling water" in said
    assert best == "2026-08-20"


@pytest.mark.published
def test_thirty_kilos_of_beans_are_in_a_200_litre_freezer_after_four_days() -> None:
    """USDA, Canning, Freezing, Storing Garden Produce: 6.4 to 9.6 kg a day."""
    beans = entry("beans", "frozen-beans", "2026-08-01", "2026-07-20", kg=30, freezer_l=200)
    assert said_and_best(beans, "in")[1] == "2026-08-05"


@pytest.mark.published
def test_jam_at_500_m_is_boiled_ten_minutes() -> None:
    """An extension recipe for plum preserves: 5 minutes to 1000 ft, 10 to 6000, 15 above."""
    jam = entry("jam", "jam", "2026-08-20", "2026-08-10", kg=2, altitude_m=500)
    assert "10 minutes in boiling water" in said_and_best(jam, "process")[0]


@pytest.mark.published
def test_dried_tomatoes_at_20_degrees_are_eaten_within_four_months_of_packing() -> None:
    """NCHFP: dried vegetables 6 months at 60 °F, 3 at 80 °F; 4.55 at 20 °C, whole months downwards."""
    tomatoes = entry("tomatoes", "dried-tomatoes", "2026-08-20", "2026-08-10", kg=2, store_c=20)
    packed = said_and_best(tomatoes, "pack")[1]
    first = said_and_best(tomatoes, "first")[1]
    months = (int(first[:4]) - int(packed[:4])) * 12 + int(first[5:7]) - int(packed[5:7])
    assert (months, first[8:]) == (4, packed[8:])
