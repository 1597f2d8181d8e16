"""How much to sow, when again and how soon it is up, against what handbooks print."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.rules.sheet import Sheet
from app.sheets.garden_tables import need_of, needs_source, up_of, ups_source
from app.trade.garden import sowing, sprouting, succession


def called(name: str) -> Sheet:
    """A sheet of that crop."""
    return Sheet(name.replace(" ", "-"), name, "garden", "", "sowing", "", {}, (), {})


# ── needs and rows: Home Vegetable Gardening in Kentucky, University of Kentucky, as quoted by AP 16 May 2014 ──


@pytest.mark.published
@pytest.mark.parametrize(
    ("crop", "fresh_ft", "stored_ft", "row_m"),
    [("carrot", (5, 10), (10, 15), (18.3, 30.5)), ("onion", (3, 5), (30, 50), (40.2, 67.1))],
)
def test_a_row_for_four_people(
    crop: str, fresh_ft: tuple[int, int], stored_ft: tuple[int, int], row_m: tuple[float, float]
) -> None:
    """The table's feet for one person, fresh and stored; for four they are 60-100 ft of carrot, 132-220 of onion."""
    need = need_of(called(crop))
    assert need is not None
    assert need.unit == "m"
    for at in (0, 1):
        assert need.fresh[at] / 0.3048 == pytest.approx(fresh_ft[at])
        assert need.stored[at] / 0.3048 == pytest.approx(stored_ft[at])
        assert sowing.row_for_mouths_m(4, need.fresh[at] + need.stored[at]) == pytest.approx(row_m[at], rel=0.01)


@pytest.mark.published
@pytest.mark.parametrize(
    ("crop", "fresh", "stored"),
    [
        ("asparagus", (10, 15), (10, 15)),
        ("cauliflower", (3, 5), (8, 12)),
        ("brussels sprouts", (2, 5), (5, 8)),
        ("cabbage", (3, 4), (5, 10)),
        ("aubergine", (2, 3), (2, 3)),
        ("cucumber", (3, 6), (9, 15)),  # 1-2 and 3-5 hills, of three plants each
    ],
)
def test_plants_for_one_person(crop: str, fresh: tuple[int, int], stored: tuple[int, int]) -> None:
    need = need_of(called(crop))
    assert need == ("plants", fresh, stored, "published")


@pytest.mark.published
def test_what_the_carrots_of_four_weigh() -> None:
    """100 lb from 100 ft: 60 to 100 ft give 27 to 45 kg (1 lb is 0.45359237 kg, 1 ft is 0.3048 m, by definition)."""
    one_lb = sowing.LB_A_100_FT_KG_A_M
    kg_a_m = 100 * one_lb
    assert one_lb == pytest.approx(0.01488, abs=5e-6)
    assert sowing.expected_kg(60 * 0.3048, kg_a_m) == pytest.approx(60 * 0.45359237)
    assert sowing.expected_kg(100 * 0.3048, kg_a_m) == pytest.approx(45, rel=0.01)
    assert sowing.row_for_kilos_m(45.36, kg_a_m) == pytest.approx(30.5, rel=0.01)
    assert sowing.expected_kg(10, 1.5, 120) == pytest.approx(18)


def test_the_seed_of_thirty_metres_of_carrot() -> None:
    """Plain arithmetic: 3000 cm at 5 cm; 600 over 0.65 and 0.7 is 1318.7; a gram holds 825 (Knott, from memory)."""
    assert sowing.plants_in(30, 5) == 600
    assert sowing.row_of_m(600, 5) == pytest.approx(30)
    assert sowing.seeds_for(600, 1, 65, 70) == 1319
    assert sowing.grams_of(1319, 825) == pytest.approx(1.60, abs=0.005)
    assert sowing.spares(600, 10) == 60
    assert sowing.spares(600, 15) == 90


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: sowing.plants_in(10, 0),
        lambda: sowing.plants_in(0, 5),
        lambda: sowing.row_for_mouths_m(0, 3),
        lambda: sowing.row_for_kilos_m(3, 0),
        lambda: sowing.seeds_for(10, 1, 130),
        lambda: sowing.seeds_for(10, 1, 0),
        lambda: sowing.seeds_for(10, 1, 65, 101),
        lambda: sowing.seeds_for(10, 0, 65),
        lambda: sowing.grams_of(10, 0),
        lambda: sowing.spares(10, -1),
        lambda: sowing.spares(10, 101),
        lambda: sowing.expected_kg(10, -1),
        lambda: succession.sowings_apart(1, 0, 9),
        lambda: succession.sowings_by_heat(lambda day: day, 1, 0, 9),
    ],
)
def test_nonsense_is_refused_in_a_sentence(wrong) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match=r"is outside what the rule covers"):
        wrong()


@given(st.integers(1, 5000), st.floats(1, 5), st.floats(1, 99), st.floats(50, 80))
def test_worse_seed_never_asks_for_less(plants: int, each: float, germination: float, field: float) -> None:
    seeds = sowing.seeds_for(plants, each, germination, field)
    assert seeds >= plants * each
    assert seeds >= sowing.seeds_for(plants, each, germination + 1, field)
    assert seeds * germination * field / 1e4 >= plants * each - 1e-6


# ── succession ──


def test_the_fixed_interval_runs_to_the_last_useful_day() -> None:
    assert succession.sowings_apart(100, 14, 130) == [100, 114, 128]
    assert succession.sowings_apart(100, 14, 128) == [100, 114, 128]
    assert succession.sowings_apart(100, 14, 99) == []


def heat(rates: list[tuple[int, float]], total: float):  # type: ignore[no-untyped-def]
    """Degree-days a day from each day on; the day on which the sum since a sowing, its day counted, reaches a total."""

    def rate(day: int) -> float:
        return [per_day for first, per_day in rates if day >= first][-1]

    def ripe(day: int) -> int:
        so_far, at = 0.0, day
        while (so_far := so_far + rate(at)) < total:
            at += 1
        return at

    return ripe


def test_spring_sowings_lie_twice_as_far_apart_where_harvest_is_twice_as_warm() -> None:
    """8 degree-days a day at sowing, 16 at harvest: for a harvest every 7 days, a sowing every 14; arithmetic."""
    ripe = heat([(0, 8), (80, 16)], 952)
    assert succession.sowings_by_heat(ripe, 1, 7, 50)[:4] == [1, 15, 29, 43]


def test_late_summer_sowings_lie_half_as_far_apart() -> None:
    """16 at sowing, 8 at harvest: 3.5 days, so 7 for every two."""
    ripe = heat([(0, 16), (60, 8)], 960)
    found = succession.sowings_by_heat(ripe, 10, 7, 40)
    assert found[2] - found[0] == 7
    assert found[4] - found[0] == 14
    harvests = [ripe(day) for day in found]
    assert all(6 <= later - sooner <= 8 for sooner, later in pairwise(harvests))


@given(st.lists(st.floats(1, 20), min_size=4, max_size=4), st.integers(200, 900), st.integers(3, 28))
def test_sowings_by_heat_rise_and_end_in_time(rates: list[float], total: int, gap: int) -> None:
    ripe = heat([(at * 60, rate) for at, rate in enumerate(rates)], total)
    found = succession.sowings_by_heat(ripe, 0, gap, 90)
    assert found[0] == 0
    assert found == sorted(set(found))
    assert found[-1] <= 90


def test_the_last_sowing_that_is_ripe_in_time() -> None:
    """Constant warmth, 10 a day and 600 wanted: sixty days, the sowing's own counted."""
    ripe = heat([(0, 10)], 600)
    assert succession.last_sowing(ripe, 100, 300, 250) == 191
    assert succession.last_sowing(ripe, 100, 150, 250) == 150
    assert succession.last_sowing(ripe, 100, 300, 120) is None
    assert succession.last_sowing(lambda day: None, 100, 300, 120) is None


# ── coming up: Vegetable Seed Germination, University of California 1954, as quoted in Teaching Organic Farming and
#    Gardening, appendix 4; Percentage of Normal Vegetable Seedlings, the same trials ──


def up(crop: str, soil_c: float) -> sprouting.Sprouts:
    found = up_of(called(crop))
    assert found is not None
    answer = sprouting.sprouts(found.days, found.percent, soil_c)
    assert answer is not None
    return answer


@pytest.mark.published
@pytest.mark.parametrize(
    ("crop", "soil_c", "days"),
    [
        ("parsnip", 10, 27), ("parsnip", 15, 19), ("parsnip", 20, 14), ("parsnip", 30, 32),
        ("carrot", 10, 17), ("carrot", 5, 51), ("onion", 0, 136), ("lettuce", 20, 3), ("tomato", 10, 43),
        ("cucumber", 35, 3), ("celery", 15, 12), ("spinach", 25, 5), ("turnip", 10, 5), ("pea", 5, 36),
    ],
)  # fmt: skip
def test_the_printed_days_come_back_exactly(crop: str, soil_c: float, days: int) -> None:
    assert up(crop, soil_c).days == days


@pytest.mark.published
def test_between_two_temperatures_the_rate_is_taken_halfway() -> None:
    """1 / ((1/17 + 1/10) / 2) is 12.6 days."""
    assert up("carrot", 12.5).days == pytest.approx(12.6, abs=0.05)


@pytest.mark.published
@pytest.mark.parametrize(
    ("crop", "soil_c"), [("french bean", 10), ("french bean", 12), ("celery", 25), ("lettuce", 35), ("parsnip", 35)]
)
def test_where_nothing_came_up_it_is_refused(crop: str, soil_c: float) -> None:
    with pytest.raises(OutOfRange, match="No germination"):
        up(crop, soil_c)


@pytest.mark.published
def test_where_it_was_not_tried_there_is_no_answer() -> None:
    """Cabbage was not sown at 5 °C, beet at 0, nothing above 35."""
    for crop, soil_c in (("cabbage", 5), ("cabbage", 7.5), ("beetroot", 0), ("carrot", 37), ("carrot", -3)):
        found = up_of(called(crop))
        assert found is not None
        assert sprouting.sprouts(found.days, found.percent, soil_c) is None


@pytest.mark.published
def test_too_hot_or_too_cold_is_said() -> None:
    """12 in a hundred of lettuce at 30 °C, 48 of carrot at 5 °C, 1 of peppers at 10 °C."""
    assert up("lettuce", 30).percent == 12
    assert "12 in a hundred" in up("lettuce", 30).warning
    assert "too hot" in up("lettuce", 30).warning
    assert "too cold" in up("carrot", 5).warning
    assert up("carrot", 15).warning == ""
    assert up("beetroot", 15).percent is None


def test_the_tables_name_where_they_stand() -> None:
    assert "Kentucky" in needs_source().title
    assert ups_source().year == 1954
    assert need_of(called("no such crop")) is None
    assert up_of(called("no such crop")) is None
