"""Water in a bed against the FAO's tables and worked examples (Irrigation and Drainage Paper 56, Rome 1998)."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.trade.garden.soils import SOILS, soil
from app.trade.garden.stages import SHARES, TABLE_11, Stages, estimated_stages, table_stages
from app.trade.garden.water import (
    Need,
    WaterDay,
    balance,
    climate_coefficient,
    crop_coefficient,
    depletion_share,
    litres_a_metre,
    root_depth_m,
    store_mm,
)

# FAO-56, Table 11: every line with the total printed beside it.
PRINTED = {
    "broccoli": [(35, 45, 40, 15, 135)],
    "cabbage": [(40, 60, 50, 15, 165)],
    "cauliflower": [(35, 50, 40, 15, 140)],
    "crucifers": [(20, 30, 20, 10, 80), (25, 35, 25, 10, 95), (30, 35, 90, 40, 195)],
    "carrot": [(20, 30, 30, 20, 100), (30, 40, 60, 20, 150), (30, 50, 90, 30, 200)],
    "celery": [(25, 40, 45, 15, 125)],
    "lettuce": [(20, 30, 15, 10, 75), (30, 40, 25, 10, 105), (35, 50, 45, 10, 140)],
    "onion": [(15, 25, 70, 40, 150)],
    "green onion": [(25, 30, 10, 5, 70)],
    "onion seed": [(20, 45, 165, 45, 275)],
    "spinach": [(20, 20, 20, 5, 65)],
    "radish": [(5, 10, 15, 5, 35)],
    "aubergine": [(30, 45, 40, 25, 140)],
    "sweet pepper": [(30, 35, 40, 20, 125)],
    "tomato": [(30, 40, 45, 30, 145)],
    "cucumber": [(20, 30, 40, 15, 105)],
    "winter squash": [(25, 35, 35, 25, 120)],
    "courgette": [(20, 30, 25, 15, 90)],
    "beet": [(15, 25, 20, 10, 70), (25, 30, 25, 10, 90)],
    "potato": [(25, 30, 45, 30, 130), (30, 35, 50, 30, 145)],
    "French bean": [(20, 30, 30, 10, 90), (15, 25, 25, 10, 75)],
    "broad bean": [(15, 25, 35, 15, 90), (90, 45, 40, 0, 175), (90, 45, 40, 60, 235)],
    "pea": [(15, 25, 35, 15, 90), (20, 30, 35, 15, 100), (35, 25, 30, 20, 110)],
    "sweetcorn": [(20, 25, 25, 10, 80), (30, 30, 30, 10, 110)],
    "artichoke": [(40, 40, 250, 30, 360), (20, 25, 250, 30, 325)],
    "asparagus": [(50, 30, 100, 50, 230)],
}
MISPRINTED = (30, 30, 30, 10)  # sweetcorn, Idaho: printed 110, its stages sum to 100


@pytest.mark.published
def test_every_line_of_the_table_of_stages_is_there_and_sums_to_its_printed_total() -> None:
    assert {name: [tuple(line) for line in lines] for name, lines in TABLE_11.items()} == {
        name: [line[:4] for line in lines] for name, lines in PRINTED.items()
    }
    assert sum(len(lines) for lines in PRINTED.values()) == 41
    for lines in PRINTED.values():
        for *stages, total in lines:
            assert Stages(*stages).total == (100 if tuple(stages) == MISPRINTED else total)


@pytest.mark.published
def test_a_missing_crop_s_season_is_parted_as_the_table_s_vegetables_are() -> None:
    annual = [line[:4] for name, lines in PRINTED.items() for line in lines]
    annual = [line for line in annual if sum(line) not in (360, 325, 230, 275)]  # perennials, onion for seed
    for at in range(4):
        mean = sum(line[at] / sum(line) for line in annual) / len(annual)
        assert SHARES[at] == pytest.approx(mean, abs=0.006)
    assert estimated_stages(160) == Stages(38, 48, 52, 22)
    for days in (19, 401):
        with pytest.raises(OutOfRange, match="20 to 400"):
            estimated_stages(days)


@pytest.mark.common_practice
def test_the_line_nearest_to_the_days_to_maturity_here_is_taken() -> None:
    assert table_stages("carrot", 150) == (30, 40, 60, 20)
    assert table_stages("carrot", 125) == (30, 40, 60, 20), "of two as near the longer"
    assert table_stages("Broad bean", 240) == (90, 45, 40, 60)
    assert table_stages("beetroot", 100) == (25, 30, 25, 10)
    assert table_stages("dwarf french bean", 90) == (20, 30, 30, 10)
    assert table_stages("spring onion", 70) == (25, 30, 10, 5)
    assert table_stages("parsnip", 160) is None
    assert table_stages("pear", 160) is None


@given(st.floats(20, 400))
def test_estimated_stages_sum_to_the_season(days: float) -> None:
    stages = estimated_stages(days)
    assert stages.total == round(days)
    assert min(stages) > 0


# ── Kc ──


@pytest.mark.published
@pytest.mark.parametrize(
    ("stages", "kc", "day", "expected"),
    [
        # FAO-56 Tables 11 and 12, carrot 150 days and potato 145 days, by equation 66.
        ((30, 40, 60, 20), (0.7, 1.05, 0.95), 50, 0.875),
        ((30, 40, 60, 20), (0.7, 1.05, 0.95), 140, 1.00),
        ((30, 35, 50, 30), (0.5, 1.15, 0.75), 45, 0.779),
        ((30, 35, 50, 30), (0.5, 1.15, 0.75), 130, 0.95),
        ((30, 40, 60, 20), (0.7, 1.05, 0.95), 1, 0.7),
        ((30, 40, 60, 20), (0.7, 1.05, 0.95), 100, 1.05),
        ((30, 40, 60, 20), (0.7, 1.05, 0.95), 170, 0.95),
    ],
)
def test_the_crop_coefficient_on_a_day(
    stages: tuple[int, ...], kc: tuple[float, float, float], day: int, expected: float
) -> None:
    assert crop_coefficient(day, Stages(*stages), *kc) == pytest.approx(expected, abs=0.001)


@pytest.mark.from_memory
def test_the_worked_example_of_dry_beans() -> None:
    """FAO-56, example 28: day 40 of 25/25/30/20 with 0.15, 1.19, 0.35 gives 0.77."""
    assert crop_coefficient(40, Stages(25, 25, 30, 20), 0.15, 1.19, 0.35) == pytest.approx(0.77, abs=0.005)


@pytest.mark.from_memory
@pytest.mark.parametrize(("wind", "humidity", "expected"), [(1.3, 75, 1.07), (4.6, 44, 1.30)])
def test_the_climate_s_coefficient(wind: float, humidity: float, expected: float) -> None:
    """FAO-56, example 27: maize 2 m high with 1.20, at Taipei and at Mocha."""
    assert climate_coefficient(1.20, wind, humidity, 2) == pytest.approx(expected, abs=0.005)


@pytest.mark.from_memory
@pytest.mark.parametrize(("wind", "humidity", "height"), [(0.5, 60, 1), (7, 60, 1), (2, 10, 1), (2, 90, 1), (2, 60, 0)])
def test_the_climate_s_coefficient_is_refused_beyond_its_range(wind: float, humidity: float, height: float) -> None:
    """FAO-56, equation 62: wind 1 to 6 m/s, least humidity 20 to 80 %, plants 0.1 to 10 m."""
    with pytest.raises(OutOfRange):
        climate_coefficient(1.05, wind, humidity, height)


def test_no_day_comes_before_the_first() -> None:
    with pytest.raises(OutOfRange):
        crop_coefficient(-1, Stages(30, 40, 60, 20), 0.7, 1.05, 0.95)


# ── The store ──


@pytest.mark.from_memory
@pytest.mark.parametrize(("root", "share", "taw", "raw"), [(0.4, 0.3, 68, 20.4), (0.8, 0.4, 136, 54.4)])
def test_the_store_of_a_silt_soil(root: float, share: float, taw: float, raw: float) -> None:
    """FAO-56, example 36: θFC 0.32, θWP 0.15; onion and tomato."""
    found = store_mm(0.32 - 0.15, root)
    assert found == pytest.approx(taw, abs=0.5)
    assert share * found == pytest.approx(raw, abs=0.5)


@pytest.mark.from_memory
def test_available_water_by_soil() -> None:
    """FAO-56, Table 19."""
    assert {name: (one.low, one.high) for name, one in SOILS.items()} == {
        "sand": (0.05, 0.11),
        "sandy loam": (0.11, 0.15),
        "loam": (0.13, 0.18),
        "silt loam": (0.13, 0.19),
        "clay": (0.12, 0.20),
    }
    assert soil(None).name == "loam"
    with pytest.raises(OutOfRange, match="chalk"):
        soil("chalk")


@pytest.mark.from_memory
@pytest.mark.parametrize(("etc", "expected"), [(5, 0.4), (3, 0.48), (7, 0.32), (20, 0.1), (-10, 0.8)])
def test_the_easy_share_by_thirst(etc: float, expected: float) -> None:
    """FAO-56, Table 22, note 2: p + 0.04 (5 - ETc), kept in 0.1 to 0.8."""
    assert depletion_share(0.4, etc) == pytest.approx(expected)


@pytest.mark.from_memory
def test_a_store_is_refused_for_no_roots_and_for_no_soil() -> None:
    for available, root in ((0.15, 0), (0, 0.5), (0.9, 0.5), (0.15, 9)):
        with pytest.raises(OutOfRange):
            store_mm(available, root)


# ── The account ──

LOAM = Need(1.1, 1.1, 1.1, 0.4 - 0.04 * (5 - 4.4))
"""Kc 1.1 all along; the share is set so that with 4.4 mm a day p is 0.4."""
GROWN = Stages(1, 1, 100, 1)


def dry(days: int, et0: float = 4.0) -> list[WaterDay]:
    return [WaterDay(et0)] * days


@pytest.mark.from_memory
def test_a_loam_with_half_a_metre_of_roots_wants_water_on_the_seventh_dry_day() -> None:
    """FAO-56, equations 82 to 85: TAW 75 mm, RAW 30 mm, 4.4 mm a day; 30.8 mm on day 7."""
    stood = balance(dry(8), LOAM, GROWN, 0.15, 0.5, first_day=10)
    assert stood[0].store_mm == pytest.approx(75)
    assert stood[0].ready_mm == pytest.approx(30)
    assert [day.wants for day in stood] == [False] * 6 + [True, True]
    assert stood[6].owed_mm == pytest.approx(30.8)


@pytest.mark.published
def test_beyond_the_easy_part_it_draws_less_and_at_the_end_nothing() -> None:
    """Full rate to RAW, reduced to TAW, none at TAW: British Geological Survey OR/14/018, appendix 1."""
    stood = balance(dry(200), LOAM, GROWN, 0.15, 0.5, first_day=10)
    used = [day.used_mm for day in stood]
    assert used[:7] == pytest.approx([4.4] * 7)
    assert used[7] == pytest.approx(4.4 * (75 - 30.8) / 45, abs=0.01)
    assert all(later <= sooner for sooner, later in pairwise(used))
    assert used[-1] < 0.01
    assert stood[-1].owed_mm < 75


@pytest.mark.published
def test_rain_and_watering_count_alike_and_what_is_too_much_drains() -> None:
    """FAO-56, equation 85: a litre on a square metre is a millimetre, whoever gives it."""
    rained = balance([WaterDay(4), WaterDay(4, rain_mm=6)], LOAM, GROWN, 0.15, 0.5, first_day=10)
    watered = balance([WaterDay(4), WaterDay(4, watered_mm=6)], LOAM, GROWN, 0.15, 0.5, first_day=10)
    assert rained == watered
    assert rained[-1].owed_mm == pytest.approx(2.8)
    assert balance([WaterDay(4, rain_mm=500)], LOAM, GROWN, 0.15, 0.5)[0].owed_mm == 0


@pytest.mark.from_memory
def test_roots_go_down_until_mid_season() -> None:
    """FAO-56, chapter 8: 0.15 m at first, all of its depth when mid-season begins."""
    stages = Stages(30, 40, 60, 20)
    assert [root_depth_m(day, stages, 0.5) for day in (0, 35, 70, 120)] == pytest.approx([0.15, 0.325, 0.5, 0.5])


@pytest.mark.published
def test_litres_for_a_metre_of_row() -> None:
    """30.8 mm on rows 40 cm apart: 0.4 m² a metre, a millimetre on a square metre being a litre (FAO-56, chapter 1)."""
    assert litres_a_metre(30.8, 40) == pytest.approx(12.32)
    for row_cm in (0, -30, 900):
        with pytest.raises(OutOfRange):
            litres_a_metre(10, row_cm)


weather = st.builds(WaterDay, st.floats(0, 8), st.floats(0, 30), st.floats(0, 30))


@given(st.lists(weather, max_size=60), st.floats(0.05, 0.2), st.floats(0.2, 1.5), st.floats(0.2, 0.6))
def test_the_account_never_leaves_its_store(days: list[WaterDay], available: float, root: float, share: float) -> None:
    for stood in balance(days, Need(0.5, 1.15, 0.75, share), Stages(10, 10, 20, 10), available, root):
        assert 0 <= stood.owed_mm <= stood.store_mm
        assert stood.used_mm >= 0


@given(st.lists(weather, min_size=1, max_size=40), st.integers(0, 39), st.floats(0.1, 30))
def test_more_rain_never_leaves_it_drier(days: list[WaterDay], at: int, more: float) -> None:
    need, stages = Need(0.5, 1.15, 0.75, 0.4), Stages(10, 10, 20, 10)
    wetter = list(days)
    at %= len(days)
    wetter[at] = wetter[at]._replace(rain_mm=wetter[at].rain_mm + more)
    for less, plenty in zip(
        balance(days, need, stages, 0.15, 0.6), balance(wetter, need, stages, 0.15, 0.6), strict=True
    ):
        assert plenty.owed_mm <= less.owed_mm + 1e-9
