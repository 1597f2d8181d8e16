"""Jars against the tested tables. USDA Complete Guide to Home Canning, its guides, and Extension copies of them."""

import pytest

from app.errors import OutOfRange, Refused
from app.sheets.bottling_tables import bottling_rows
from app.trade.preserving.bottling import (
    Row,
    acid_a_jar,
    boil_before_tasting,
    empty_jar_minutes,
    full_jars,
    gauge_psi,
    row_minutes,
    row_of,
)


def row(food: str, pack: str, country: str = "us") -> Row:
    return row_of(bottling_rows(), food, pack, country)


@pytest.mark.published
@pytest.mark.parametrize(
    ("food", "pack", "jar_ml", "altitude_m", "minutes"),
    [
        ("tomatoes", "crushed, hot", 946, 150, 45),
        ("tomatoes", "crushed, hot", 946, 304.8, 45),
        ("tomatoes", "crushed, hot", 946, 310, 50),
        ("tomatoes", "crushed, hot", 946, 1900, 60),
        ("rhubarb", "stewed, hot", 473, 500, 20),
        ("rhubarb", "stewed, hot", 473, 1500, 20),
        ("rhubarb", "stewed, hot", 473, 2000, 25),
        ("plums", "hot or raw", 473, 0, 20),
        ("plums", "hot or raw", 946, 0, 25),
        ("tomatoes", "in juice, hot or raw", 473, 0, 85),
        ("snap beans", "hot or raw", 473, 500, 20),
        ("snap beans", "hot or raw", 946, 500, 25),
        ("dried beans", "soaked, hot", 946, 0, 90),
    ],
)
def test_minutes_are_those_printed(food: str, pack: str, jar_ml: float, altitude_m: float, minutes: int) -> None:
    """USDA guides 2, 3 and 4; MSU Extension 01600253, 01600415, 01600828, 01600883, 01600235 (1997)."""
    assert row_minutes(row(food, pack), altitude_m, jar_ml) == minutes


@pytest.mark.published
def test_a_jar_between_sizes_takes_the_larger_ones_time_unless_the_cook_chose() -> None:
    """USDA: the next larger tested size; a canner's manual sold in Canada takes 500 ml for the pint."""
    plums = row("plums", "hot or raw")
    assert row_minutes(plums, 0, 500) == 25
    assert row_minutes(plums, 0, 500, half_litre_as_pint=True) == 20
    assert row_minutes(plums, 0, 600, half_litre_as_pint=True) == 25
    with pytest.raises(OutOfRange, match="smaller jars"):
        row_minutes(plums, 0, 1000, half_litre_as_pint=True)


@pytest.mark.published
@pytest.mark.parametrize(
    ("gauge", "altitude_m", "psi"),
    [("dial", 500, 11), ("weighted", 500, 15), ("dial", 1000, 12), ("weighted", 304.8, 10)],
)
def test_pressure_goes_by_the_gauge_and_the_height(gauge: str, altitude_m: float, psi: int) -> None:
    """MSU Extension 01600883, 1997, guide 4:9."""
    assert gauge_psi(row("snap beans", "hot or raw"), altitude_m, gauge) == psi


@pytest.mark.published
def test_low_acid_food_needs_a_gauge() -> None:
    """USDA guide 1: a canner with a dial or weighted gauge."""
    with pytest.raises(Refused, match="only in a canner with a gauge"):
        gauge_psi(row("snap beans", "hot or raw"), 0, "none")
    with pytest.raises(OutOfRange):
        gauge_psi(row("snap beans", "hot or raw"), 2500, "dial")


@pytest.mark.published
@pytest.mark.parametrize("food", ["pumpkin", "squash purée", "white peaches", "elderberries", "soup", "garlic in oil"])
def test_what_is_in_no_table_is_offered_the_freezer(food: str) -> None:
    """USDA AIB 539, rev. 1994; University of Maine Cooperative Extension, 2020 (elderberries, white peaches)."""
    with pytest.raises(Refused, match="Freeze it"):
        row(food, "hot")


@pytest.mark.from_memory
def test_old_british_tomato_times_are_history_and_tables_are_not_mixed() -> None:
    """MAFF Bulletin 21 (history); USDA guide 3 alone is planned by."""
    with pytest.raises(Refused, match="history"):
        row("tomatoes", "slow water bath at 88 °C, whole", "uk")
    with pytest.raises(Refused, match="Freeze it"):
        row("tomatoes", "crushed, hot", "uk")
    assert all(one.history for one in bottling_rows() if one.country == "uk" and one.food == "tomatoes")


@pytest.mark.published
@pytest.mark.parametrize(
    ("agent", "jar_ml", "dose"),
    [
        ("lemon juice", 473, 15),
        ("lemon juice", 946, 30),
        ("lemon juice", 1000, 32),
        ("vinegar", 473, 30),
        ("vinegar", 946, 60),
        ("vinegar", 1000, 64),
        ("citric acid", 1000, 2.6),
    ],
)
def test_every_jar_of_tomatoes_gets_its_acid(agent: str, jar_ml: float, dose: float) -> None:
    """USDA AIB 539, rev. 1994, Tomatoes: 1 Tbsp lemon, 2 Tbsp vinegar a pint; grams from memory."""
    assert acid_a_jar(agent, jar_ml) == dose
    assert all(one.acid for one in bottling_rows() if one.food == "tomatoes" and one.country == "us")


@pytest.mark.published
def test_a_doubtful_jar_is_boiled_and_a_suspect_one_destroyed() -> None:
    """USDA AIB 539, rev. 1994: 10 minutes, and 1 for each 1000 ft above 1000."""
    assert boil_before_tasting(0, any_sign=False) == 10
    assert boil_before_tasting(609.6, any_sign=False) == 11
    with pytest.raises(Refused, match="Destroy"):
        boil_before_tasting(609.6, any_sign=True)


@pytest.mark.published
def test_jars_are_filled_whole() -> None:
    """MSU Extension 01600415: a plum jar of 500 ml takes 0.48 kg (01600415)."""
    assert full_jars(10, 0.96, 500) == 20


@pytest.mark.published
@pytest.mark.parametrize(
    ("food", "pack", "space_mm"),
    [("plums", "hot or raw", 13), ("fruit purée", "hot", 6), ("snap beans", "hot or raw", 25)],
)
def test_headspace(food: str, pack: str, space_mm: int) -> None:
    """1/2 in, 1/4 in and 1 in: MSU Extension 01600415, 01600839, 01600883, 1997."""
    assert row(food, pack).headspace_mm == space_mm


TABLE = (
    ("tomatoes", "crushed, hot", (35, 40, 45, 50), (45, 50, 55, 60)),
    ("tomatoes", "in water, hot or raw", (40, 45, 50, 55), (45, 50, 55, 60)),
    ("tomatoes", "in juice, hot or raw", (85, 90, 95, 100), (85, 90, 95, 100)),
    ("tomatoes", "juice or plain sauce, hot", (35, 40, 45, 50), (40, 45, 50, 55)),
    ("plums", "hot or raw", (20, 25, 30, 35), (25, 30, 35, 40)),
    ("pears", "hot", (20, 25, 30, 35), (25, 30, 35, 40)),
    ("yellow peaches", "hot", (20, 25, 30, 35), (25, 30, 35, 40)),
    ("yellow peaches", "raw", (25, 30, 35, 40), (30, 35, 40, 45)),
    ("berries", "hot", (15, 20, 20, 25), (15, 20, 20, 25)),
    ("berries", "raw", (15, 20, 20, 25), (20, 25, 30, 35)),
    ("apple sauce", "hot", (15, 20, 20, 25), (20, 25, 30, 35)),
    ("rhubarb", "stewed, hot", (15, 20, 20, 25), (15, 20, 20, 25)),
    ("fruit purée", "hot", (15, 20, 20, 25), (15, 20, 20, 25)),
    ("apple juice", "hot, sterile jars", (5, 10, 10, 15), (5, 10, 10, 15)),
    ("berry syrup", "hot", (10, 15, 15, 20), ()),
    ("beetroot in vinegar", "hot", (30, 35, 40, 45), (30, 35, 40, 45)),
    ("mixed vegetables in vinegar", "hot, sterile jars to a pint", (5, 10, 10, 15), (10, 15, 15, 20)),
    ("onions in vinegar", "hot", (10, 15, 15, 20), ()),
)


@pytest.mark.published
@pytest.mark.parametrize(("food", "pack", "pint", "quart"), TABLE)
def test_each_row_is_the_printed_one(food: str, pack: str, pint: tuple[int, ...], quart: tuple[int, ...]) -> None:
    """USDA AIB 539, guides 2, 3 and 6, in copies; MSU Extension 01600828, 01600415, 01600773, 01600772, 01600304,
    01600353, 01600253, 01600839, 01600763 (1997); NCHFP, Pickled Pearl Onions.
    """
    found = row(food, pack)
    assert (found.pint, found.quart) == (pint, quart)


@pytest.mark.published
@pytest.mark.parametrize(
    ("gauge", "altitude_m", "psi"), [("dial", 500, 11), ("weighted", 500, 15), ("weighted", 0, 10)]
)
def test_tomatoes_in_juice_under_pressure(gauge: str, altitude_m: float, psi: int) -> None:
    """MSU Extension 01600828, 1997: pints and quarts 25 minutes at 11 to 14 psi on a dial, 10 or 15 by weight."""
    found = row("tomatoes", "in juice, under pressure")
    assert {row_minutes(found, altitude_m, size) for size in (473, 946)} == {25}
    assert gauge_psi(found, altitude_m, gauge) == psi
    assert found.acid, "acid goes in under pressure too"


@pytest.mark.published
@pytest.mark.parametrize(("altitude_m", "minutes"), [(0, 10), (304.8, 10), (310, 11), (609.6, 11), (1828.8, 15)])
def test_empty_jars_are_boiled_ten_minutes_and_more_on_a_hill(altitude_m: float, minutes: int) -> None:
    """MSU Extension 01600900, 1997: 10 minutes to 1000 ft, 1 more for each further 1000 ft."""
    assert empty_jar_minutes(altitude_m) == minutes


@pytest.mark.from_memory
def test_british_water_baths_are_told_and_never_planned_by() -> None:
    """MAFF Bulletin 21, slow water bath: rhubarb 74 °C for 10 minutes, stone fruit 83 °C for 15, pears 88 °C for 30."""
    british = {one.food: (one.pint[0], one.way) for one in bottling_rows() if one.country == "uk" and not one.acid}
    assert british["rhubarb"] == (10, "water bath at 74 °C")
    assert british["plums"] == (15, "water bath at 83 °C")
    assert british["pears"] == (30, "water bath at 88 °C")
    assert all(one.history for one in bottling_rows() if one.country == "uk")
