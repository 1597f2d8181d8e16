"""Chill, painting hours and dry windows, against hours and days counted elsewhere."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.trade.climate.chill import chill_hours, chill_hours_of_day, utah_units, utah_units_of_day
from app.trade.climate.dryness import dry_windows
from app.trade.climate.painting import Hour, longest_run, paint_days, paints
from tests.climate.tables import table

COUNTED = table("climate-tmy.csv")


def days_of(site: str, month: str) -> list[list[Hour]]:
    rows = [row for row in table("climate-tmy-hours.csv") if (row["site"], row["month"]) == (site, month)]
    return [
        [
            Hour(float(air), float(humidity))
            for air, humidity in zip(row["air_c"].split(), row["humidity_percent"].split(), strict=True)
        ]
        for row in rows
    ]


@pytest.mark.published
@pytest.mark.parametrize("row", COUNTED, ids=lambda row: f"{row['site']}-{row['month']}")
def test_hours_of_a_typical_year_as_counted_elsewhere(row: dict[str, str]) -> None:
    """TMY3, three site-months, all hours of the day.

    The whole files are too heavy to carry; read once from pvlib 0.16.1, all 24 site-months agreed in paint days, frost
    days and chill hours to the day and hour, and in painting hours to 6 of up to 635 (its dew points are rounded).
    """
    days = days_of(row["site"], row["month"])
    assert len(days) == int(row["days"])
    assert sum(paints(hour) for day in days for hour in day) == int(row["hours_T>=10_RH<=85_T-Td>=3"])
    assert paint_days(days) == int(row["days_with_run>=6h"])
    assert sum(min(hour.air_c for hour in day) < 0 for day in days) == int(row["days_tmin_lt0"])
    assert chill_hours(hour.air_c for day in days for hour in day) == int(row["hours_0_to_7p2"])


@pytest.mark.published
@pytest.mark.parametrize("row", COUNTED, ids=lambda row: f"{row['site']}-{row['month']}")
def test_chill_from_two_readings_comes_near_that_of_the_hours(row: dict[str, str]) -> None:
    """TMY3: from each day's lowest and highest alone, within 32 hours of the month's count (0 to 283)."""
    days = [[hour.air_c for hour in day] for day in days_of(row["site"], row["month"])]
    found = sum(chill_hours_of_day(min(day), max(day)) for day in days)
    assert abs(int(row["hours_0_to_7p2"]) - found) < 32


@pytest.mark.published
def test_the_two_ways_of_counting_chill() -> None:
    """Weinberger and Richardson, by hand: 12 h at 5 and 12 h at 10 °C give 12 and 18; 24 h at 20 °C 0 and -24."""
    assert chill_hours([5.0] * 12 + [10.0] * 12) == 12
    assert utah_units([5.0] * 12 + [10.0] * 12) == 18
    assert chill_hours([20.0] * 24) == 0
    assert utah_units([20.0] * 24) == -24
    assert chill_hours([0.0, 0.1, 7.2, 7.3]) == 2
    assert utah_units([1.4, 2.4, 9.1, 12.4, 15.9, 18.0, 18.1]) == 0 + 0.5 + 1 + 0.5 + 0 - 0.5 - 1


@given(st.floats(-20, 25), st.floats(0, 20))
def test_a_day_of_two_readings_is_the_mean_of_its_hours(low: float, width: float) -> None:
    """Against the same wave read at 20 000 moments."""
    import numpy as np

    wave = low + width / 2 * (1 + np.cos(2 * np.pi * (np.arange(20000) + 0.5) / 20000))
    counted = 24 * float(np.mean((wave > 0) & (wave <= 7.2)))
    assert abs(counted - chill_hours_of_day(low, low + width)) < 0.3
    bounds = np.array([1.4, 2.4, 9.1, 12.4, 15.9, 18.0])
    units = np.array([0, 0.5, 1, 0.5, 0, -0.5, -1])[np.searchsorted(bounds, wave)]
    assert abs(24 * float(np.mean(units)) - utah_units_of_day(low, low + width)) < 0.4


def test_a_day_all_at_one_temperature() -> None:
    """By hand: 24 hours at 5 °C, at 7.2, at 0 and at 20."""
    assert [chill_hours_of_day(c, c) for c in (5.0, 7.2, 0.0, 20.0)] == [24, 24, 0, 0]
    assert [utah_units_of_day(c, c) for c in (5.0, 9.1, 0.0, 20.0)] == [24, 24, 0, -24]


@pytest.mark.published
def test_dry_by_the_figures_is_not_yet_dry_enough_to_paint() -> None:
    """FAO-56 eq. 11 and ISO 8502-4: at 10 °C and 85 % dew comes at 7.59 °C: too near, though 85 % passes."""
    assert not paints(Hour(10, 85))
    assert paints(Hour(10, 80))
    assert not paints(Hour(9.9, 50))
    assert not paints(Hour(20, 86))
    assert paints(Hour(6, 60), least_c=5)


def test_six_hours_of_daylight_on_end() -> None:
    """By hand: five and five with a damp hour between are not six; six by night are none."""
    good, damp = Hour(15, 60), Hour(15, 95)
    assert longest_run([True, True, False, True]) == 2
    assert paint_days([[good] * 5 + [damp] + [good] * 5]) == 0
    assert paint_days([[good] * 6, [good._replace(light=False)] * 6, [damp] * 24]) == 1
    with pytest.raises(OutOfRange):
        paint_days([], least_c=60)


@pytest.mark.published
@pytest.mark.parametrize(
    ("wet", "after_dry", "days", "counted", "formula"),
    [
        (0.3367, 0.2056, 30, 5.07, 5.18),
        (0.3867, 0.2688, 30, 4.13, 4.34),
        (0.4312, 0.3118, 31, 3.63, 3.86),
        (0.550, 0.367, 30, 2.60, 2.66),
        (0.594, 0.417, 31, 2.27, 2.23),
    ],
    ids=["suffolk-apr", "suffolk-jun", "suffolk-oct", "north-yorks-jun", "north-yorks-aug"],
)
def test_dry_windows_of_three_days(wet: float, after_dry: float, days: int, counted: float, formula: float) -> None:
    """Daily series of England 1991-2020 (aquacrop 3.1.0 files), 1 mm: as counted, and as the chain gives by numpy."""
    found = dry_windows(wet, days, 3, after_dry)
    assert abs(formula - found) < 0.02
    assert abs(counted - found) < 0.3


@given(st.floats(0, 1), st.integers(1, 6))
def test_longer_windows_come_less_often(wet: float, days: int) -> None:
    """The longer window holds the shorter one."""
    assert dry_windows(wet, 30, days + 1) <= dry_windows(wet, 30, days) + 1e-9


def test_dry_windows_where_it_never_rains_and_where_it_always_does() -> None:
    """By hand: 30 dry days hold ten of three, rainy ones none; rain after every dry day leaves single days."""
    assert dry_windows(0, 30, 3) == 10
    assert dry_windows(0, 31, 3) == 10
    assert dry_windows(1, 30, 3) == 0
    assert dry_windows(0.5, 30, 1, 1.0) == 15
    assert dry_windows(0.5, 30, 2, 1.0) == 0
    for wet, days in ((1.1, 1), (0.5, 0), (0.5, 8)):
        with pytest.raises(OutOfRange):
            dry_windows(wet, 30, days)
