"""When a crop takes its bed and leaves it, read from the real sheets, against what the trade says of each."""

from datetime import date
from functools import cache

import pytest

from app.rules.facts import Holding
from app.rules.plan import plan
from app.services.garden.stands import Stand, Tray, stands_of, trays_of
from app.sheets.library import Library
from tests.rules.kit import day, entry
from tests.sheets.test_years_of_garden_and_upkeep import RoundSeason, library


@cache
def grown(sheet: str, on: str, **facts: int | str | bool) -> tuple[Stand | None, Tray | None]:
    known: Library = library()
    put = entry("e", sheet, on, told="2027-01-05", place="Long bed", **facts)
    found = plan(
        Holding("england", RoundSeason()), known.sheets, known.law, [put], (), (), day("2027-01-05"), day("2030-01-05")
    )
    laid = list(found.laid.values())
    return next(iter(stands_of(laid, known.sheets)), None), next(iter(trays_of(laid, known.sheets)), None)


def stood(sheet: str, on: str, **facts: int | str | bool) -> Stand:
    found = grown(sheet, on, **facts)[0]
    assert found is not None
    return found


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("sheet", "on", "takes", "leaves"),
    [
        ("tomato", "2027-03-20", "2027-05", "2027-10"),  # raised under cover, planted after the frost, cleared by it
        ("onion", "2027-03-20", "2027-03", "2027-08"),
        ("garlic", "2027-10-15", "2027-10", "2028-07"),  # stands the winter, lifted in July
        ("broad-bean", "2027-03-10", "2027-03", "2027-08"),
    ],
)
def test_months_in_which_a_bed_is_taken(sheet: str, on: str, takes: str, leaves: str) -> None:
    found = stood(sheet, on)
    assert found.last is not None
    first, last = date.fromordinal(found.first), date.fromordinal(found.last)
    assert first.isoformat()[:7] == takes
    assert abs((last.year * 12 + last.month) - (int(leaves[:4]) * 12 + int(leaves[5:]))) <= 1


@pytest.mark.common_practice
def test_roots_for_seed_stand_into_a_second_summer_and_roots_to_eat_do_not() -> None:
    """Parsnips for seed are cut in August or September of the second year; those to eat are out by its spring."""
    seed, eaten = stood("parsnip-seed", "2027-04-10"), stood("parsnip", "2027-04-10")
    assert seed.last is not None
    assert eaten.last is not None
    assert date.fromordinal(seed.last).month in (8, 9)
    assert date.fromordinal(seed.last).year == 2028
    assert date.fromordinal(eaten.last) <= date(2028, 5, 1)


@pytest.mark.common_practice
@pytest.mark.parametrize("sheet", ["rhubarb", "apple", "blackcurrant", "asparagus"])
def test_what_stays_for_years_has_no_end_within_what_is_planned(sheet: str) -> None:
    assert stood(sheet, "2027-11-10").last is None


@pytest.mark.common_practice
def test_plants_are_counted_into_ground_and_trays() -> None:
    """120 leeks 15 cm apart in rows of 30 cm: 18 m of row, 5.4 m²; forty cells in a tray, so three trays."""
    leeks, trays = grown("leek", "2027-03-08", plants=120)
    assert leeks is not None
    assert trays is not None
    assert leeks.ground_m2 == pytest.approx(120 * 0.15 * 0.30)
    assert trays.trays == 3
    assert trays.last < leeks.first


@pytest.mark.common_practice
def test_rows_sown_in_turn_take_ground_together() -> None:
    """Carrots every three weeks: rows that grow for months stand beside each other."""
    once = 3 * 0.25
    carrots = stood("carrot", "2027-04-01", row_m=3)
    assert carrots.ground_m2 is not None
    assert carrots.ground_m2 > 2 * once


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("plant", "group"), [("mustard", "brassicas"), ("winter tares", "legumes"), ("grazing rye", "anywhere")]
)
def test_green_manure_takes_its_family_s_turn(plant: str, group: str) -> None:
    assert stood("green-manure", "2027-09-10", plant=plant).group == group


def test_what_is_no_sowing_takes_no_bed() -> None:
    for sheet in ("muck", "lime", "weedkiller-test"):
        assert grown(sheet, "2027-03-10")[0] is None
