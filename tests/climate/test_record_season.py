"""The season of a place with days on record: what every answer must keep to, and the year so far."""

from datetime import date
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.sheets.places import places
from app.trade.climate.ensemble import Ensemble
from app.trade.climate.frost import OwnFrost
from app.trade.climate.lie import lie_of
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.ranks import weibull
from app.trade.climate.record import DailyRecord
from app.trade.climate.record_season import RecordSeason
from app.trade.climate.season import Season, Spread
from tests.climate.tables import season
from tests.climate.weather import grid, lincoln, seattle, thirty_years

BRAEMAR, SCATTER = places().normals["braemar"], places().scatter
SPRING = date(2021, 4, 1).toordinal()
"""In a year of which the record knows its first half."""
LAST = date(2021, 6, 15).toordinal()
TOTALS, BASES = st.floats(0, 1500), st.sampled_from([0.0, 4.4, 7.0, 10.0])
SINCE = st.integers(date(2020, 1, 1).toordinal(), date(2027, 12, 31).toordinal())


@cache
def here(last: int = LAST) -> RecordSeason:
    """Cambridge, 1991 to a day."""
    return RecordSeason(52.2, grid("cambridge").until(last), BRAEMAR, SCATTER)


def south() -> RecordSeason:
    """The same weather half a year later, at the other side of the equator."""
    return _south(here().record)


@cache
def _south(record: DailyRecord) -> RecordSeason:
    later = DailyRecord(record.first_day + 184, record.min_c, record.max_c, record.rain_mm)
    return RecordSeason(-52.2, later, BRAEMAR, SCATTER)


def _typed(day: int, low: float, high: float) -> RecordSeason:
    return here().renewed(here().record.with_days([(day, low, high, None)]), BRAEMAR)


def _widths(found: Spread | None) -> int:
    assert found is not None
    return found.high - found.low


# ── Properties ────────────────────────────────────────────────────────────────────────────────────────────────────


@given(st.booleans(), TOTALS, st.floats(0, 400), BASES, SINCE, st.integers(0, 200))
def test_more_warmth_never_comes_earlier_nor_does_a_later_start(
    northern: bool, total: float, more: float, base: float, since: int, later: int
) -> None:
    place = here() if northern else south()
    first = place.warmth(total, base, since)
    for second in (place.warmth(total + more, base, since), place.warmth(total, base, since + later)):
        if first is None:
            assert second is None
        elif second is not None:
            assert all(a <= b for a, b in zip(first, second, strict=True))
    if first is not None:
        assert since <= first.low <= first.best <= first.high


@settings(max_examples=30)
@given(TOTALS, BASES, st.integers(1, 120), st.floats(-5, 15), st.floats(0, 15), st.floats(0, 10))
def test_a_warmer_day_typed_never_makes_a_date_later(
    total: float, base: float, ahead: int, low: float, width: float, warmer: float
) -> None:
    cold, warm = (_typed(LAST + 1, low + by, low + width + by) for by in (0.0, warmer))
    since = LAST + 1 - ahead
    first, second = warm.warmth(total, base, since), cold.warmth(total, base, since)
    if first is not None and second is not None:
        assert all(a <= b for a, b in zip(first, second, strict=True))
    assert first is not None or second is None


@given(st.lists(st.integers(0, 400), min_size=1, max_size=60), st.data())
def test_a_year_like_the_others_never_widens_the_spread(days: list[int], data: st.DataObject) -> None:
    """Like the others: between the years next within the tenth and the ninetieth. Only an odd year widens it."""
    ranked = sorted(float(day) for day in days)
    count = len(ranked)
    low, high = (ranked[min(max(at, 0), count - 1)] for at in (-(-(count + 1) // 10) - 1, (count + 1) * 9 // 10 - 1))
    added = sorted([*ranked, data.draw(st.floats(min(low, high), max(low, high)))])
    before, after = (weibull(each, 90) - weibull(each, 10) for each in (ranked, added))
    assert after <= before + 1e-9


@pytest.mark.parametrize("total", [200.0, 700.0, 1100.0])
@pytest.mark.parametrize("years", [10, 17, 30])
def test_the_same_years_once_more_never_widen_the_spread(years: int, total: float) -> None:
    low, high = thirty_years("cambridge").by_year(range(1991, 1991 + years))
    once, twice = (
        Ensemble(lambda base, n=n: np.vstack([np.maximum((low + high) / 2 - base, 0)] * n), follow=True)  # type: ignore[misc]
        for n in (1, 2)
    )
    widths = []
    for ensemble in (once, twice):
        days = sorted(ensemble.reached(total, 5.0, SPRING).tolist())
        widths.append(weibull(days, 90) - weibull(days, 10))
    assert widths[1] <= widths[0] + 1e-9


@given(st.floats(1, 900), BASES, st.integers(date(2022, 1, 1).toordinal(), date(2060, 12, 31).toordinal()))
def test_years_to_come_are_all_alike_across_leap_years(total: float, base: float, since: int) -> None:
    found, later = here().warmth(total, base, since), here().warmth(total, base, since + 1461)
    assert (found is None) == (later is None)
    if found is not None and later is not None:
        assert all(b - a == 1461 for a, b in zip(found, later, strict=True))


@pytest.mark.parametrize("name", ["last frost", "first frost", "soil above", "soil below"])
def test_the_south_is_the_north_half_a_year_later(name: str) -> None:
    """The same days 184 days on; leap days and the months' lengths move a date by a day or three."""
    for value in (10.0,) if name.startswith("soil") else (10.0, 50.0, 90.0):
        north, there = here().mark(name, value, 2025), south().mark(name, value, 2025)
        assert north is not None
        assert there is not None
        assert abs(there - north - 184) <= 4


@given(st.sampled_from(["soil above", "soil below"]), st.floats(-5, 30), st.floats(0, 10), st.integers(2020, 2040))
def test_soil_is_above_later_for_more_and_below_sooner_for_more(
    name: str, value: float, more: float, year: int
) -> None:
    for place in (here(), south()):
        low, high = place.mark(name, value, year), place.mark(name, value + more, year)
        if name == "soil above":
            assert high is None or (low is not None and low <= high)
        else:
            assert low is None or (high is not None and high <= low)


@given(
    st.sampled_from([("last frost", 90.0), ("first frost", 10.0), ("soil above", 8.0), ("soil below", 9.0)]),
    st.integers(2023, 2060),
)
def test_marks_of_successive_years_to_come_follow_each_other_by_a_year(mark: tuple[str, float], year: int) -> None:
    for place in (here(), south()):
        now, then = place.mark(*mark, year), place.mark(*mark, year + 1)
        assert now is not None
        assert then is not None
        assert then - now in (365, 366)


@pytest.mark.parametrize("value", [5.0, 8.0, 10.0, 15.0])
def test_soil_by_years_lies_where_soil_by_monthly_means_does(value: float) -> None:
    """The middle of thirty years beside the curve of their means: two ways to one date, a week apart at most."""
    for name in ("suffolk", "cambridge", "north_yorks"):
        counted = RecordSeason(53, thirty_years(name), BRAEMAR, SCATTER)
        by_means = season({"north_yorks": "north-yorkshire"}.get(name, name))
        for mark in ("soil above", "soil below"):
            one, other = counted.mark(mark, value, 2025), by_means.mark(mark, value, 2025)
            if value < 15:
                assert one is not None
                assert other is not None
                assert abs(one - other) <= (12 if value == 5 else 7)


def test_a_cold_spring_puts_the_soil_back_and_a_warm_one_brings_it_forward() -> None:
    record = here(SPRING - 31).record
    usual = here(SPRING - 31).mark("soil above", 8, 2021)
    for low, high, sign in ((-3.0, 4.0, 1), (9.0, 18.0, -1)):
        days = range(SPRING - 30, SPRING)
        place = RecordSeason(52.2, record.with_days((day, low, high, None) for day in days), BRAEMAR, SCATTER)
        found = place.mark("soil above", 8, 2021)
        assert usual is not None
        assert found is not None
        assert sign * (found - usual) > 5
        assert place.mark("soil above", 8, 2022) == here().mark("soil above", 8, 2022)


def test_the_souths_warmth_is_the_norths_half_a_year_later() -> None:
    for since in (SPRING, SPRING + 365):
        north, there = here().warmth(700, 5, since), south().warmth(700, 5, since + 184)
        assert north is not None
        assert there is not None
        assert all(abs(b - a - 184) <= 2 for a, b in zip(north, there, strict=True))


@pytest.mark.published
def test_a_real_southern_place_has_its_winter_in_the_middle_of_the_year() -> None:
    """Cordoba, Argentina (aquacrop 3.1.0): every winter of 1991 to 2021 has a frost, no summer month has."""
    place = RecordSeason(-31.4, grid("cordoba"), BRAEMAR, SCATTER)
    last, first = place.mark("last frost", 50, 2025), place.mark("first frost", 50, 2025)
    assert last is not None
    assert first is not None
    assert 7 <= date.fromordinal(last).month <= 10
    assert date.fromordinal(last).year == 2025
    assert 4 <= date.fromordinal(first).month <= 7
    assert date.fromordinal(first).year == 2026
    assert None not in place.frost_days("last frost")
    assert place.frost_percent(date(2026, 1, 15).toordinal()) == 0
    assert place.frost_percent(date(2026, 7, 15).toordinal()) > 10


# ── The year so far ───────────────────────────────────────────────────────────────────────────────────────────────


def test_what_has_come_has_one_date_and_what_is_to_come_a_spread_that_shrinks() -> None:
    record = grid("cambridge")
    widths = []
    for last in (date(2021, 3, 31), date(2021, 4, 30), date(2021, 5, 31), date(2021, 6, 20)):
        place = RecordSeason(52.2, record.until(last.toordinal()), BRAEMAR, SCATTER)
        widths.append(_widths(place.warmth(700, 4.4, SPRING)))
    assert widths == sorted(widths, reverse=True)
    assert widths[0] > 12 > 8 > widths[-1] > 0
    come = RecordSeason(52.2, record.until(date(2021, 7, 31).toordinal()), BRAEMAR, SCATTER).warmth(700, 4.4, SPRING)
    assert come is not None
    assert come.low == come.best == come.high
    summed = np.cumsum(
        [
            max(0.0, (a + b) / 2 - 4.4)
            for a, b in zip(*(s[SPRING - record.first_day :] for s in (record.min_c, record.max_c)), strict=True)
        ][:122]
    )
    by_means = SPRING + int(np.searchsorted(summed, 700))
    assert 0 <= by_means - come.best <= 2  # the mean's method gives a little less warmth than the sine


def test_a_cold_spring_puts_a_date_back_and_a_warm_one_brings_it_forward() -> None:
    record = here(SPRING - 1).record
    usual = here(SPRING - 1).warmth(700, 4.4, SPRING)
    days = range(SPRING, SPRING + 45)
    for low, high, sign in ((-3.0, 4.0, 1), (12.0, 22.0, -1)):
        place = RecordSeason(52.2, record.with_days((day, low, high, None) for day in days), BRAEMAR, SCATTER)
        found = place.warmth(700, 4.4, SPRING)
        assert usual is not None
        assert found is not None
        assert sign * (found.best - usual.best) > 7
        said = place.why_warmth(700, 4.4, SPRING)
        way = "put it back" if sign > 0 else "brought it forward"
        assert f"by 30 years on your record; this year so far has {way} {abs(found.best - usual.best)} days" in said


def test_days_not_taken_down_leave_their_own_spread() -> None:
    """One day typed in June says little of a spring of which nothing else is known."""
    record = thirty_years("cambridge")
    whole = RecordSeason(52.2, grid("cambridge").until(LAST), BRAEMAR, SCATTER)
    one = RecordSeason(52.2, record.with_days([(LAST, 12.0, 20.0, None)]), BRAEMAR, SCATTER)
    none = RecordSeason(52.2, record, BRAEMAR, SCATTER)
    widths = [_widths(place.warmth(900, 4.4, SPRING)) for place in (whole, one, none)]
    assert widths[0] < widths[1]
    assert abs(widths[1] - widths[2]) <= 1


def test_years_to_come_are_the_ensemble_whatever_has_been() -> None:
    for since in (date(2022, 4, 1).toordinal(), date(2024, 2, 29).toordinal()):
        assert here().warmth(500, 4.4, since) == here(date(2021, 1, 10).toordinal()).warmth(500, 4.4, since)


def test_another_days_weather_gives_the_same_as_a_season_made_anew() -> None:
    place = here()
    place.warmth(700, 4.4, SPRING)
    record = place.record.with_days([(LAST + 1, 9.0, 21.0, 0.0)])
    renewed, anew = place.renewed(record, BRAEMAR), RecordSeason(52.2, record, BRAEMAR, SCATTER)
    for total in (100, 500, 700, 1200):
        for since in (SPRING, SPRING + 60, SPRING + 400):
            assert renewed.warmth(total, 4.4, since) == anew.warmth(total, 4.4, since)
    for name, value in (("last frost", 90), ("first frost", 10), ("soil above", 8), ("day longer than", 10)):
        assert renewed.mark(name, value, 2022) == anew.mark(name, value, 2022)


def test_what_a_year_does_not_hold_is_none_and_midnight_sun_is_a_length_of_day() -> None:
    assert here().warmth(9000, 4.4, SPRING) is None
    assert here().why_warmth(9000, 4.4, SPRING) == ""
    assert here().warmth(0, 4.4, SPRING) == (SPRING, SPRING, SPRING)
    north = RecordSeason(70.0, here().record, BRAEMAR, SCATTER)
    assert north.daylight_hours(date(2021, 6, 21).toordinal()) == 24
    for total, base in ((-1, 5), (100, 50)):
        with pytest.raises(OutOfRange):
            here().warmth(total, base, SPRING)
    with pytest.raises(OutOfRange):
        RecordSeason(95, here().record, BRAEMAR, SCATTER)


def test_with_monthly_means_alone_the_year_so_far_sharpens_dates_too() -> None:
    plain = season("cambridge", 52.2)
    usual = plain.warmth(700, 4.4, SPRING)
    record = grid("cambridge")
    widths = [_widths(usual)]
    for last in (date(2021, 4, 20), date(2021, 5, 20), date(2021, 6, 20)):
        part = DailyRecord.of(
            (day, float(record.min_c[day - record.first_day]), float(record.max_c[day - record.first_day]), None)
            for day in range(SPRING, last.toordinal() + 1)
        )
        found = season("cambridge", 52.2, so_far=part).warmth(700, 4.4, SPRING)
        widths.append(_widths(found))
        assert usual is not None
        assert found is not None
        assert (
            found.best > usual.best
        )  # April 2021 had the lowest mean minimum in the United Kingdom since 1922 (Met Office, from memory)
    assert widths == sorted(widths, reverse=True)
    assert widths[-1] < widths[0] / 2
    place = season("cambridge", 52.2, so_far=part)
    assert "by monthly means; this year so far has put it back" in place.why_warmth(700, 4.4, SPRING)
    assert "this year so far" not in plain.why_warmth(700, 4.4, SPRING)
    assert place.warmth(700, 4.4, SPRING + 365) == plain.warmth(700, 4.4, SPRING + 365)


# ── Short records ─────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_record_of_one_year_is_too_short_for_chances_and_says_so() -> None:
    plain = NormalsSeason(40.7, BRAEMAR, SCATTER)
    place = RecordSeason(40.7, lincoln(), BRAEMAR, SCATTER)
    assert place.basis.kind == "months"
    assert (place.basis.years, place.basis.first_year, place.basis.last_year) == (1, 2016, 2016)
    assert "1 whole year, too few to tell chances, which need 10" in place.basis.said
    for name, value in (("last frost", 90), ("first frost", 10), ("soil above", 8)):
        assert place.mark(name, value, 2017) == plain.mark(name, value, 2017)
    assert place.warmth(500, 5, date(2018, 4, 1).toordinal()) == plain.warmth(500, 5, date(2018, 4, 1).toordinal())
    # used for what it can do: its own frosts, and the year that has been
    assert [one.day for one in place.frosts("last frost").seasons] == [date(2016, 4, 12).toordinal()]
    come = place.warmth(500, 5, date(2016, 4, 1).toordinal())
    assert come is not None
    assert come.low == come.high
    assert place.why_warmth(500, 5, date(2016, 4, 1).toordinal()).endswith("by the days you have taken down")


def test_years_left_out_are_named() -> None:
    gone = [(date(year, 6, 1).toordinal() + n, None, None, None) for year in (1995, 2004) for n in range(12)]
    place = RecordSeason(52.2, thirty_years("cambridge").with_days(gone), BRAEMAR, SCATTER)
    assert place.basis.years == 28
    assert place.basis.said == (
        "Counted from your daily record: 28 years, 1991 to 2020. "
        "1995 and 2004 are left out: ten days or more are missing."
    )


def test_the_households_own_frost_dates_stand_until_the_record_has_ten_seasons() -> None:
    own = OwnFrost(5, 20)
    short = RecordSeason(47.6, seattle(), BRAEMAR, SCATTER, last_frost=own)
    assert short.mark("last frost", 50, 2025) == date(2025, 5, 20).toordinal()
    long = RecordSeason(52.2, here().record, BRAEMAR, SCATTER, last_frost=own)
    assert long.mark("last frost", 50, 2025) == here().mark("last frost", 50, 2025)
    assert long.basis.said == "Counted from your daily record: 30 years, 1991 to 2020."
    nothing = RecordSeason(47.6, DailyRecord.of([]), BRAEMAR, SCATTER)
    assert "no whole year" in nothing.basis.said
    assert nothing.mark("last frost", 50, 2025) == NormalsSeason(47.6, BRAEMAR, SCATTER).mark("last frost", 50, 2025)


# ── The lie of the land ───────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.common_practice
def test_a_frost_hollow_is_colder_on_its_nights_and_a_slope_to_the_sun_warmer_by_day() -> None:
    """Hollows lie 2 to 5 °C colder on clear nights; a slope counts for half a degree. Both are said."""
    hollow, sunny, shady = lie_of(52, None, True), lie_of(52, "south", False), lie_of(52, "north", False)
    assert 2 <= hollow.hollow_c <= 5
    assert "2 to 5 °C colder" in hollow.said
    assert lie_of(-40, "north", False).warmer_c == sunny.warmer_c == -shady.warmer_c > 0
    assert lie_of(52, "flat", False) == lie_of(52, "east", False) == lie_of(52, None, False)
    for make in (
        lambda lie: RecordSeason(52.2, here().record, BRAEMAR, SCATTER, lie=lie),
        lambda lie: season("cambridge", 52.2, lie=lie),
    ):
        flat, low, up, down = (make(lie) for lie in (lie_of(52, None, False), hollow, sunny, shady))
        last, later = flat.mark("last frost", 90, 2025), low.mark("last frost", 90, 2025)
        first, sooner = flat.mark("first frost", 10, 2025), low.mark("first frost", 10, 2025)
        assert None not in (last, later, first, sooner)
        assert 7 <= later - last <= 45  # type: ignore[operator]
        assert 7 <= first - sooner <= 45  # type: ignore[operator]
        dates = [place.warmth(700, 4.4, SPRING + 365) for place in (up, flat, down)]
        assert [found.best for found in dates if found] == sorted({found.best for found in dates if found})
        soils = [place.mark("soil above", 10, 2025) for place in (up, flat, down)]
        assert soils == sorted(soils)  # type: ignore[type-var]


def test_the_curves_are_a_years_and_the_season_is_one() -> None:
    place: Season = here()
    assert place.mark("day longer than", 10, 2025) == season("cambridge", 52.2).mark("day longer than", 10, 2025)
    for curve in (here().min_c, here().max_c, here().mean_c, here().soil_c, here().rain_mm):
        assert len(curve) == 365
    assert all(low < mean < high for low, mean, high in zip(here().min_c, here().mean_c, here().max_c, strict=True))
    # the place that comes with the program was counted from the same days
    known = season("cambridge", 52.2)
    assert max(abs(a - b) for a, b in zip(here().mean_c, known.mean_c, strict=True)) < 0.05
    assert abs(sum(here().rain_mm) - 690.8) < 1  # the sum of the published months, less a part of 29 February
    assert season("plymouth", 50).rain_mm == ()


# ── Worked by hand ────────────────────────────────────────────────────────────────────────────────────────────────


def test_each_year_leads_into_the_next_and_the_last_into_the_first() -> None:
    """One degree-day a day in the one year and three in the other: from 1 December, 31 days of each, then the other.

    A hundred: 31, and 69 at three a day, on 23 January; 93, and 7 at one a day, on 7 January.
    """
    ensemble = Ensemble(lambda base: np.array([[1.0] * 365, [3.0] * 365]), follow=True)
    found = sorted(ensemble.reached(100, 5.0, date(2025, 12, 1).toordinal()).tolist())
    assert [date.fromordinal(day) for day in found] == [date(2026, 1, 7), date(2026, 1, 23)]
    alone = Ensemble(lambda base: np.array([[1.0] * 365]), follow=False)
    # 29 February counts as a day like the 28th
    assert alone.reached(3, 5.0, date(2028, 2, 28).toordinal()).tolist() == [date(2028, 3, 1).toordinal()]
    assert alone.reached(3, 5.0, date(2027, 2, 28).toordinal()).tolist() == [date(2027, 3, 2).toordinal()]


def test_the_last_day_taken_down_counts_from_itself_on() -> None:
    """A day of 25 to 35 °C holds 25 degree-days above 5."""
    place = _typed(LAST + 1, 25.0, 35.0)
    assert place.warmth(24.9, 5.0, LAST + 1) == (LAST + 1, LAST + 1, LAST + 1)
    later = place.warmth(25.1, 5.0, LAST + 1)
    assert later is not None
    assert later.low > LAST + 1


@pytest.mark.published
def test_a_mark_at_a_chance_is_the_first_day_not_before_its_rank() -> None:
    """Ranks 81.3, 103.5 and 131.5 of the year (climate-frost-estimate.csv, cambridge): days 82, 104 and 132."""
    place = RecordSeason(52.2, thirty_years("cambridge"), BRAEMAR, SCATTER)
    new_year = date(2027, 1, 1).toordinal() - 1
    assert [place.mark("last frost", chance, 2027) for chance in (10, 50, 90)] == [new_year + n for n in (82, 104, 132)]


def test_soil_that_is_never_so_warm_or_so_cold_has_no_day() -> None:
    for place in (here(), south()):
        assert place.mark("soil above", 25, 2025) is None
        assert place.mark("soil below", -5, 2025) is None
        assert place.mark("soil above", 25, 2021) is None


@pytest.mark.published
def test_soil_at_ten_centimetres_is_two_to_three_days_behind_the_air() -> None:
    """The yearly wave in moist loam, 0.6 mm²/s: 2.4 days late at 10 cm (damped annual wave, exact).

    Air that passes 10 °C on the way up on day 110.5 of every year, and down half a year later.
    """
    start, days = date(2001, 1, 1).toordinal(), np.arange(365 * 12 + 3)
    on = np.array([date.fromordinal(start + int(n)).timetuple().tm_yday for n in days])
    mean = 10 + 8 * np.sin(2 * np.pi * (on - 110.5) / 365.0)
    record = DailyRecord(start, mean - 4, mean + 4, np.zeros(len(days)))
    place = RecordSeason(52, record, BRAEMAR, SCATTER)
    up, down = place.mark("soil above", 10, 2027), place.mark("soil below", 10, 2027)
    assert up is not None
    assert down is not None
    new_year = date(2027, 1, 1).toordinal() - 1
    assert up - new_year == 113  # 110.5 and 2.4
    assert abs(down - new_year - (293 + 2.4)) <= 1


def test_more_than_an_average_year_holds_is_none_with_the_year_so_far_too() -> None:
    part = DailyRecord.of((SPRING + n, 5.0, 15.0, None) for n in range(30))
    place = season("braemar", 57, so_far=part)
    assert place.warmth(9000, 4.4, SPRING) is None
    assert place.why_warmth(9000, 4.4, SPRING) == ""
    assert place.warmth(100, 4.4, SPRING) is not None
