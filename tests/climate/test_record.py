"""What is counted on days on record, against counts made elsewhere on the same real weather."""

import math
from collections.abc import Iterable
from datetime import date
from itertools import groupby

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.trade.climate.degreedays import averaging_1, averaging_2, single_sine
from app.trade.climate.ensemble import Ensemble, sine_sums
from app.trade.climate.frost_record import FrostDates, Which, frost_shares, frosts_on_record
from app.trade.climate.ranks import weibull
from app.trade.climate.record import DailyRecord, calendar
from app.trade.climate.record_season import record_normals
from tests.climate.tables import table
from tests.climate.weather import ENGLAND, grid, lincoln, seattle, series, thirty_years

FROST_YEARS = table("climate-frost-years.csv")
HALVES: tuple[tuple[Which, str], ...] = (("last frost", "last_spring"), ("first frost", "first_autumn"))


def _doy(text: str) -> float:
    return float(date.fromisoformat(text).timetuple().tm_yday)


def _celsius(name: str, threshold: str) -> float:
    return (float(threshold) - 32) / 1.8 if name.endswith("degF32") else float(threshold)


def _threshold_groups() -> list[tuple[tuple[str, str], list[dict[str, str]]]]:
    keyed = sorted(FROST_YEARS, key=lambda row: (row["series"], row["threshold"]))
    return [(key, list(rows)) for key, rows in groupby(keyed, lambda row: (row["series"], row["threshold"]))]


@pytest.mark.published
@pytest.mark.parametrize(("key", "rows"), _threshold_groups(), ids=lambda part: str(part)[:40])
def test_the_frost_dates_of_every_year_are_those_counted_elsewhere(
    key: tuple[str, str], rows: list[dict[str, str]]
) -> None:
    """Counted with pandas and numpy; it cuts its years at New Year, so that what it calls none lies beyond it."""
    name, threshold = key
    record = series(name.removesuffix("_degF32"))
    # 32 °F is 0 °C, but a rounded 0: the comparison is strict, so that a hair must not make a frost
    below = _celsius(name, threshold) - (1e-9 if name.endswith("degF32") else 0.0)
    for which, column in HALVES:
        found = {one.year: one.day for one in frosts_on_record(record, which, threshold_c=below)}
        for row in rows:
            day, year = found.get(int(row["year"])), int(row["year"])
            if row[f"{column}_date"]:
                assert day == date.fromisoformat(row[f"{column}_date"]).toordinal()
            else:
                assert day is None or date.fromordinal(day).year != year


@pytest.mark.published
def test_one_sign_of_comparison_moves_a_date_by_weeks() -> None:
    """Seattle 2013: 22 January below 0 °C, 4 March at or below it; sixteen days are exactly 0.0."""
    strict, loose = (
        {one.year: one.day for one in frosts_on_record(seattle(), "last frost", threshold_c=c)} for c in (0.0, 1e-6)
    )
    assert date(2013, 1, 22).toordinal() == strict[2013]
    assert date(2013, 3, 4).toordinal() == loose[2013]
    assert (seattle().min_c == 0.0).sum() == 16


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-frost-estimate.csv"), ids=lambda row: row["series"])
def test_frost_dates_at_a_chance_are_those_counted_elsewhere(row: dict[str, str]) -> None:
    """Weibull's rank over all thirty years, a year without frost counted as never: to a tenth of a day."""
    for which, half, last in (("last frost", "sp", "2020-12-31"), ("first frost", "au", "2021-06-30")):
        dates = FrostDates(frosts_on_record(thirty_years(row["series"], last), which), which)  # type: ignore[arg-type]
        assert len(dates.seasons) == 30
        for percent in (10.0, 50.0, 90.0):
            counted, found = float(row[f"counted_{half}{percent:g}"]), dates.day_of_year(percent)
            if math.isinf(counted):
                assert found is None or found > 365
            else:
                assert found is not None
                assert abs(counted - found) <= 0.1


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-frost-quantiles.csv"), ids=lambda row: f"{row['series']} {row['event']}")
def test_ranks_of_published_dates_give_the_published_quantiles(row: dict[str, str]) -> None:
    """Here over the years with a frost only."""
    column = f"{row['event']}_doy"
    rows = [one for one in FROST_YEARS if (one["series"], one["threshold"]) == (row["series"], row["threshold"])]
    days = sorted(float(one[column]) for one in rows if one[column])
    assert len(days) == int(row["n_with_frost"])
    for percent in (10, 50, 90):
        assert abs(float(row[f"q{percent}_weibull"]) - weibull(days, percent)) <= 0.1


@pytest.mark.published
def test_weibulls_ranks_by_hand() -> None:
    """Dates 10, 20 .. 90: p (n + 1) gives 10, 50 and 90, where the type 7 of many programs gives 18, 50 and 82."""
    days = [float(ten) for ten in range(10, 100, 10)]
    assert [weibull(days, percent) for percent in (10, 50, 90)] == [10, 50, 90]
    assert weibull(days, 1) == 10
    assert weibull([-math.inf, *days], 5) == -math.inf
    assert weibull([*days, math.inf], 95) == math.inf
    for wrong in (0, 100):
        with pytest.raises(OutOfRange):
            weibull(days, wrong)
    with pytest.raises(OutOfRange):
        weibull([], 50)


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-gdd-totals.csv"), ids=lambda row: "/".join(list(row.values())[:5:4]))
def test_a_years_degree_days_are_those_summed_elsewhere(row: dict[str, str]) -> None:
    """Sums of a calendar year by numpy, the sine integrated over 2000 points with a cutoff at 30 °C: within 1."""
    record, year, base = series(row["series"]), int(row["year"]), float(row["base_c"])
    use = (calendar(record.days)[0] == year) & record.known
    low, high = record.min_c[use], record.max_c[use]
    assert abs(float(row["sine_upper30"]) - float(sine_sums(low, high, base, 30.0).sum())) < 1
    pairs = list(zip(low.tolist(), high.tolist(), strict=True))
    assert abs(float(row["mw1"]) - sum(averaging_1(a, b, base) for a, b in pairs)) < 1
    assert abs(float(row["mw2"]) - sum(averaging_2(a, b, base) for a, b in pairs)) < 1


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-gdd-ucipm.csv"), ids=lambda row: f"{row['tmin_f']}-{row['tmax_f']}")
def test_the_sine_for_arrays_gives_the_uc_ipm_calculators_answers(row: dict[str, str]) -> None:
    """UC IPM degree-day calculator, lower 50, upper 70 °F, horizontal cutoff; printed to two decimals."""
    found = sine_sums(np.array([float(row["tmin_f"])]), np.array([float(row["tmax_f"])]), 50, 70)
    assert abs(float(row["ucipm_sine_horizontal"]) - float(found[0])) < 0.006


@given(st.floats(-20, 30), st.floats(0, 25), st.floats(-5, 20))
def test_the_sine_for_arrays_is_the_sine_for_days(low: float, width: float, base: float) -> None:
    found = sine_sums(np.array([low, np.nan]), np.array([low + width, 3.0]), base)
    assert abs(single_sine(low, low + width, base) - found[0]) < 1e-9
    assert math.isnan(found[1])


@pytest.mark.published
@pytest.mark.parametrize("name", ENGLAND)
def test_monthly_normals_are_those_of_the_published_table(name: str) -> None:
    """Means of all days of a month, 1991-2020, by pandas; printed to two decimals.

    Its rain is the month's sum, with its 29 Februaries: 28.27 days there, 28 here.
    """
    found = record_normals(thirty_years(name), tuple(range(1991, 2021)))
    for row in (row for row in table("climate-normals.csv") if row["series"] == name):
        month = int(row["month"]) - 1
        assert abs(float(row["tmax_mean_c"]) - found.max_c[month]) <= 0.0051
        assert abs(float(row["tmin_mean_c"]) - found.min_c[month]) <= 0.0051
        short = 28 / (int(row["n_days"]) / 30) if month == 1 else 1.0
        assert abs(short * float(row["rain_mm"]) - found.rain_mm[month]) <= 0.051
        assert abs(short * float(row["days_ge_1mm"]) - found.wet_days[month]) <= 0.0051
        # the spread about the month's smooth curve is a little less than about the month's mean
        assert 0 <= float(row["tmin_sd_daily_c"]) - found.min_sd_c[month] < 0.45


@pytest.mark.published
@pytest.mark.parametrize("name", ENGLAND)
def test_frost_nights_of_a_month_are_those_of_the_published_table(name: str) -> None:
    """Nights below 0 °C a year, 1991-2020: the shares around each night, a fortnight wide, sum to much the same."""
    shares = frost_shares(thirty_years(name), around_days=0)
    rows = [row for row in table("climate-normals.csv") if row["series"] == name]
    ends = np.cumsum([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    for row, end, days in zip(rows, ends, (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31), strict=True):
        allowed = 0.25 if row["month"] == "2" else 0.0051
        assert abs(float(row["air_frost_days_lt0"]) - float(shares[end - days : end].sum())) <= allowed
    smooth = frost_shares(thirty_years(name))
    assert abs(smooth.sum() - shares.sum()) < 0.1


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-warmth.csv"), ids=lambda row: "-".join(list(row.values())[:4]))
def test_the_ensemble_gives_the_dates_counted_day_by_day(row: dict[str, str]) -> None:
    """Counted over 1991-2020 with the standard library alone, by method 1: to a tenth of a day.

    Where a cool year takes the sum into the next one, a leap day may lie between.
    """
    low, high = thirty_years(row["series"]).by_year(range(1991, 2021))
    ensemble = Ensemble(lambda base: np.maximum((low + high) / 2 - base, 0), follow=True)
    start = date(2025, *map(int, row["start"].strip("-").split("-"))).toordinal()
    days = sorted((ensemble.reached(float(row["total"]), float(row["base_c"]), start) - start).tolist())
    assert len(days) == 30
    for percent in (10, 50, 90):
        assert abs(float(row[f"counted_{percent}"]) - weibull(days, percent)) <= 0.051


@pytest.mark.published
def test_a_year_of_lincoln_with_its_blank_day_counts() -> None:
    """Lincoln 2016 (bokeh_sampledata 2026.1): 366 days, one blank."""
    (year,) = lincoln().years()
    assert (year.year, year.missing, year.counts) == (2016, 1, True)
    assert year.said == "2016: 1 day is missing."


# ── Gaps ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def _days(first: str, values: Iterable[float | None]) -> DailyRecord:
    start = date.fromisoformat(first).toordinal()
    return DailyRecord.of((start + n, low, None if low is None else low + 8, 0.0) for n, low in enumerate(values))


def test_a_year_with_two_months_missing_is_left_out_and_said_so() -> None:
    record = thirty_years("cambridge", "1994-12-31")
    gone = [(date(1992, 6, 1).toordinal() + n, None, None, None) for n in range(61)]
    years = record.with_days(gone).years()
    assert [one.year for one in years if one.counts] == [1991, 1993, 1994]
    assert years[1].said == "1992: 61 days are missing; left out."
    assert years[0].said == "1991: no days are missing."


def test_nine_missing_days_are_filled_with_the_other_years_mean_and_ten_are_too_many() -> None:
    record = _days("2001-01-01", [4.0] * 365 + [6.0] * 365 + [11.0] * 365)
    for missing, counts in ((9, True), (10, False)):
        gone = [(date(2003, 3, 1).toordinal() + n, None, None, None) for n in range(missing)]
        with_gap = record.with_days(gone)
        assert with_gap.years()[2].counts is counts
        low, _ = with_gap.by_year((2001, 2002, 2003))
        assert low[2, 58] == 11
        assert low[2, 59 : 59 + missing].tolist() == [5.0] * missing


def test_a_season_counts_when_no_missing_night_could_have_changed_its_date() -> None:
    """Frosts on 1 March and 20 March of two springs: of the time at risk the first lacks what lies after its own."""
    frosts = {date(2001, 3, 1), date(2002, 3, 20)}
    first, last = date(2000, 7, 15).toordinal(), date(2002, 7, 14).toordinal()
    whole = [-1.0 if date.fromordinal(day) in frosts else 5.0 for day in range(first, last + 1)]

    def found(missing_from: date, days: int) -> list[bool]:
        at = missing_from.toordinal() - first
        nights: list[float | None] = [*whole[:at], *[None] * days, *whole[at + days :]]
        return [one.counts for one in frosts_on_record(_days("2000-07-15", nights), "last frost")]

    assert found(date(2001, 2, 1), 28) == [True, True]  # before its last frost: nothing could have changed it
    assert found(date(2001, 3, 5), 9) == [True, True]
    assert found(date(2001, 3, 5), 10) == [False, True]
    assert found(date(2001, 4, 1), 60) == [True, True]  # after the latest last frost of any year


def test_a_season_that_is_not_over_does_not_count_yet() -> None:
    """Else an early frost would count the day it came, and a late one only weeks after."""
    frosts = {date(2001, 10, 20), date(2002, 10, 1)}
    first = date(2001, 7, 15).toordinal()
    nights = [
        -1.0 if date.fromordinal(day) in frosts else 5.0 for day in range(first, date(2002, 10, 10).toordinal() + 1)
    ]
    found = frosts_on_record(_days("2001-07-15", nights), "first frost")
    assert [(one.year, one.over) for one in found] == [(2001, True), (2002, False)]


def test_frost_on_a_leap_day_is_a_frost() -> None:
    nights = [5.0] * 366
    nights[59] = -0.1
    (before, _) = frosts_on_record(_days("2004-01-01", nights), "last frost")
    assert before.day == date(2004, 2, 29).toordinal()


def test_years_without_frost_have_a_name() -> None:
    found = FrostDates(frosts_on_record(_days("2001-07-15", [5.0] * 365 * 3), "last frost"), "last frost")
    assert found.without == len(found.seasons) == 3
    assert found.day_of_year(90) is None
    assert found.day(90, 2030) is None


@pytest.mark.published
def test_a_real_place_without_frost_and_one_with_few() -> None:
    """Hyderabad has no air frost; Tunis in a few winters (aquacrop 3.1.0, minima never below 5 and about -1 °C)."""
    assert float(np.nanmin(grid("hyderabad").min_c)) > 0
    assert all(one.day is None for one in frosts_on_record(grid("hyderabad"), "last frost"))
    tunis = FrostDates(frosts_on_record(grid("tunis"), "last frost"), "last frost")
    assert 0 < tunis.without < len(tunis.seasons)
    assert tunis.day_of_year(10) is None
    assert tunis.day_of_year(99) is not None


def test_a_record_that_can_not_be_is_refused() -> None:
    with pytest.raises(OutOfRange):
        DailyRecord(700000, np.array([5.0]), np.array([4.0]), np.array([0.0]))
    with pytest.raises(OutOfRange):
        DailyRecord(700000, np.array([5.0]), np.array([6.0, 7.0]), np.array([0.0]))
    with pytest.raises(OutOfRange):
        DailyRecord(700000, np.array([-math.inf]), np.array([6.0]), np.array([0.0]))
    with pytest.raises(OutOfRange):
        frost_shares(DailyRecord.of([]))


def test_days_put_in_make_the_record_longer_at_either_end() -> None:
    record = DailyRecord.of([(700000, 1.0, 9.0, 0.0)])
    longer = record.with_days([(700003, 2.0, None, 1.5), (699999, None, None, 2.0), (700000, 3.0, 9.0, None)])
    assert (longer.first_day, longer.last_day, longer.last_known) == (699999, 700003, 700000)
    assert longer.min_c.tolist()[1] == 3.0
    assert DailyRecord.of([]).with_days([(700000, 1.0, 2.0, None)]).last_known == 700000
    assert DailyRecord.of([]).last_known is None
    assert DailyRecord.of([]).years() == ()
