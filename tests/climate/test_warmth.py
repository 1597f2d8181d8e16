"""Degree-days, curves from monthly means, soil, moisture and dry days, against published and computed tables."""

import math
import statistics
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.trade.climate.daylength import day_hours
from app.trade.climate.days import MONTH_DAYS, MONTH_STARTS, day_of, index_in_year, index_of
from app.trade.climate.degreedays import YearSum, averaging_1, averaging_2, expected, single_sine
from app.trade.climate.dryness import dry_spell_chance
from app.trade.climate.ensemble import sine_sums
from app.trade.climate.humidity import dew_point_c, saturation_kpa
from app.trade.climate.monthly import at_altitude_c, daily_curve, daily_range_c, mean_c
from app.trade.climate.soil import damping_depth_m, soil_curve_c, soil_follows_c
from tests.climate.tables import table

SUFFOLK_MIN_C = (2.73, 2.43, 3.53, 5.35, 8.17, 11.07, 13.47, 13.82, 11.87, 9.19, 6.02, 3.69)
MONTHLY = st.tuples(*[st.floats(-30, 40)] * 12)


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-gdd-ucipm.csv"), ids=lambda row: f"{row['tmin_f']}-{row['tmax_f']}")
def test_single_sine_gives_the_uc_ipm_calculators_answers(row: dict[str, str]) -> None:
    """UC IPM degree-day calculator, lower 50, upper 70 °F, horizontal cutoff; printed to two decimals."""
    found = single_sine(float(row["tmin_f"]), float(row["tmax_f"]), 50, 70)
    assert abs(float(row["ucipm_sine_horizontal"]) - found) < 0.006


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-gdd.csv"), ids=lambda row: "/".join(list(row.values())[:4]))
def test_the_three_methods_agree_with_numerical_integration(row: dict[str, str]) -> None:
    low, high, base, upper = (float(row[key]) for key in ("tmin_c", "tmax_c", "lower_c", "upper_c"))
    assert abs(float(row["sine_h"]) - single_sine(low, high, base, upper)) < 1e-3
    assert abs(float(row["sine_no_upper"]) - single_sine(low, high, base)) < 1e-3
    assert abs(float(row["mw1"]) - averaging_1(low, high, base)) < 1e-3
    assert abs(float(row["mw2"]) - averaging_2(low, high, base)) < 1e-3
    assert abs(float(row["mw2_capped_upper"]) - averaging_2(low, high, base, upper)) < 1e-3


@given(st.floats(-20, 30), st.floats(0, 25), st.floats(-5, 20))
def test_the_methods_keep_their_order(low: float, width: float, base: float) -> None:
    """McMaster and Wilhelm 1997: method 1 gives the least, method 2 the most; the sine lies between."""
    one, two = averaging_1(low, low + width, base), averaging_2(low, low + width, base)
    assert one - 1e-9 <= single_sine(low, low + width, base) <= two + 1e-9


@given(st.floats(-20, 30), st.floats(0.5, 5), st.floats(-5, 20))
def test_expected_warmth_is_the_mean_over_the_normal_distribution(mean: float, sd: float, base: float) -> None:
    """Against 999 equal slices of the distribution, taken from the standard library's quantiles."""
    slices = [max(value - base, 0.0) for value in statistics.NormalDist(mean, sd).quantiles(1000)]
    assert abs(statistics.mean(slices) - expected(mean, sd, base)) < 0.02 * sd


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-meanpreserve.csv"), ids=lambda row: row["doy"])
def test_the_daily_curve_is_that_of_rymes_and_myers(row: dict[str, str]) -> None:
    assert abs(float(row["rymes_c"]) - daily_curve(SUFFOLK_MIN_C)[int(row["doy"]) - 1]) < 0.02


@given(MONTHLY)
def test_every_month_of_the_curve_keeps_its_mean(monthly: tuple[float, ...]) -> None:
    curve = daily_curve(monthly, 40)
    for start, days, mean in zip(MONTH_STARTS, MONTH_DAYS, monthly, strict=True):
        assert abs(mean - sum(curve[start : start + days]) / days) < 1e-9


def test_the_curve_is_a_ring_and_a_constant_stays_one() -> None:
    curve = daily_curve(SUFFOLK_MIN_C)
    assert abs(curve[0] - curve[-1]) < 0.1
    assert all(abs(7.0 - value) < 1e-9 for value in daily_curve((7.0,) * 12))
    with pytest.raises(OutOfRange):
        daily_curve((1.0,) * 11)


@pytest.mark.from_memory
def test_three_hundred_metres_higher_is_two_degrees_colder() -> None:
    """ICAO standard atmosphere: 6.5 K/km, so 1.95 °C."""
    assert abs(8.05 - at_altitude_c(10.0, 50, 350)) < 1e-9
    assert daily_range_c(15, 6) == 9
    assert mean_c((8.0,), (3.0,)) == (5.5,)
    with pytest.raises(OutOfRange):
        at_altitude_c(10, 0, 9000)
    with pytest.raises(OutOfRange):
        daily_range_c(1, 2)


@pytest.mark.published
def test_the_damping_depth_and_what_is_left_at_ten_centimetres() -> None:
    """Heat conduction, annual wave: kappa 0.2, 0.4, 0.6, 0.8 mm2/s give 1.42, 2.00, 2.45, 2.83 m; 0.960 left at 0.6."""
    for kappa, depth in ((0.2, 1.42), (0.4, 2.00), (0.6, 2.45), (0.8, 2.83)):
        assert abs(depth - damping_depth_m(kappa)) < 0.006
    air = daily_curve(SUFFOLK_MIN_C)
    soil = soil_curve_c(air)
    assert abs(0.960 - (max(soil) - min(soil)) / (max(air) - min(air))) < 0.002
    assert 2 <= soil.index(max(soil)) - air.index(max(air)) <= 3
    with pytest.raises(OutOfRange):
        damping_depth_m(5)


@pytest.mark.published
def test_soil_at_ten_centimetres_follows_two_days_of_air() -> None:
    """Met Éireann monthly summary, days 8 to 31: soil less the two-day mean -1.26, spread 0.63 °C, correlation 0.79."""
    rows = table("climate-soil10.csv")
    air, soil = ([float(row[key]) for row in rows] for key in ("air_mean_c", "soil10_c"))
    followed = [soil_follows_c(air[day], air[day - 1]) for day in range(7, 31)]
    apart = [real - guess for real, guess in zip(soil[7:], followed, strict=True)]
    assert abs(-1.26 - statistics.mean(apart)) < 0.02
    assert abs(0.63 - statistics.pstdev(apart)) < 0.02
    assert abs(0.79 - statistics.correlation(soil[7:], followed)) < 0.01


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-satvap.csv"), ids=lambda row: row["t_c"])
def test_saturation_pressure_and_its_inverse(row: dict[str, str]) -> None:
    """FAO-56 eq. 11, by pyet 1.5.0; the printed inverse of annex 3 has rounded constants (0.013 °C)."""
    assert abs(float(row["e0_kpa"]) - saturation_kpa(float(row["t_c"]))) < 1e-4
    assert abs(float(row["t_c"]) - dew_point_c(float(row["t_c"]), 100)) < 1e-9
    assert abs(float(row["dew_check_c"]) - dew_point_c(float(row["t_c"]), 100)) < 0.02


@pytest.mark.published
@pytest.mark.parametrize(("air_c", "humidity", "dew_c"), [(20, 50, 9.26), (10, 85, 7.59)])
def test_dew_points(air_c: float, humidity: float, dew_c: float) -> None:
    """FAO-56 annex 3, by its constants."""
    assert abs(dew_c - dew_point_c(air_c, humidity)) < 0.02
    with pytest.raises(OutOfRange):
        dew_point_c(air_c, 0)


@pytest.mark.published
@pytest.mark.parametrize(
    "row", table("climate-dryspell.csv"), ids=lambda row: f"{row['series']}-{row['wet_threshold_mm']}-{row['month']}"
)
def test_dry_spells_against_days_counted(row: dict[str, str]) -> None:
    """Daily series of England 1991-2020: the chain as computed elsewhere, and counted within 0.05 up to three days."""
    wet, after_dry = float(row["wet_fraction"]), float(row["p_wet_given_dry"])
    for days in (1, 2, 3, 5, 7):
        assert abs(float(row[f"markov_k{days}"]) - dry_spell_chance(wet, days, after_dry)) < 3e-4
    for days in (1, 2, 3):
        assert abs(float(row[f"counted_k{days}"]) - dry_spell_chance(wet, days, after_dry)) < 0.05
    assert dry_spell_chance(wet, 3) < dry_spell_chance(wet, 2) < dry_spell_chance(wet, 1)


def test_dry_spells_at_the_ends_and_beyond() -> None:
    assert dry_spell_chance(0, 7) == 1
    assert dry_spell_chance(1, 1) == 0
    for wet, days in ((1.1, 1), (0.5, 0), (0.5, 8)):
        with pytest.raises(OutOfRange):
            dry_spell_chance(wet, days)


def test_nonsense_days_are_refused() -> None:
    for call in (
        lambda: single_sine(10, 5, 4),
        lambda: single_sine(5, 10, 8, 8),
        lambda: averaging_2(10, 5, 4),
        lambda: expected(5, 0, 4),
    ):
        with pytest.raises(OutOfRange):
            call()


@given(st.integers(1900, 2100), st.integers(0, 364), st.integers(-2, 2))
def test_an_index_and_its_day_belong_together(year: int, index: int, years: int) -> None:
    assert index_of(day_of(year, index + 365 * years)) == index
    assert day_of(year, index + 365) == day_of(year + 1, index)
    assert index_in_year(2, 29) == index_in_year(2, 28) == 58
    assert day_hours(50, day_of(year, index)) > 7


def test_the_leap_day_has_the_climate_of_the_day_before() -> None:
    days = [date(2024, 2, 28), date(2024, 2, 29), date(2024, 3, 1), date(2023, 3, 1), date(2024, 12, 31)]
    assert [index_of(day.toordinal()) for day in days] == [58, 58, 59, 59, 364]


@given(st.integers(date(1999, 1, 1).toordinal(), date(2105, 12, 31).toordinal()), st.integers(1, 1095))
def test_one_degree_day_a_day_is_as_many_days_as_degree_days(since: int, total: int) -> None:
    """By hand: the first day counts, so that n degree-days are full on the n-th day, leap years or not."""
    assert YearSum([1.0] * 365).reached(total, since) == since + total - 1


def test_the_leap_day_brings_the_warmth_of_the_day_before() -> None:
    """By hand: nothing but 10 on 28 February and 1 on 1 March."""
    warmth = YearSum([10.0 if index == 58 else 1.0 if index == 59 else 0.0 for index in range(365)])
    leap, common = date(2024, 2, 1).toordinal(), date(2023, 2, 1).toordinal()
    assert date(2024, 2, 28).toordinal() == warmth.reached(10, leap)
    assert date(2024, 2, 29).toordinal() == warmth.reached(11, leap)
    assert date(2024, 3, 1).toordinal() == warmth.reached(21, leap)
    assert date(2023, 3, 1).toordinal() == warmth.reached(11, common)
    assert date(2024, 2, 28).toordinal() == warmth.reached(12, common)


@given(
    st.floats(-30, 40).map(lambda c: round(c, 1) + 0.5),
    st.floats(0, 25).map(lambda c: round(c, 1)),
    st.sampled_from([1e-15, 0.05, 0.1, 1 / 3]),
)
def test_a_threshold_a_hair_within_the_day_is_no_error(min_c: float, wide_c: float, hair_c: float) -> None:
    """The sine's domain ends where the day's does: what rounding adds there must be neither an error nor a gap."""
    max_c = min_c + wide_c
    for base_c in (min_c + hair_c, max_c - hair_c, math.nextafter(max_c, -99), math.nextafter(min_c, 99)):
        one = single_sine(min_c, max_c, base_c)
        many = sine_sums(np.array([min_c]), np.array([max_c]), base_c)
        assert 0 <= one <= max(0.0, max_c - base_c) + 1e-9
        assert many[0] == pytest.approx(one, abs=1e-9)
