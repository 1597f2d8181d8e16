"""The place's year month by month, and this year against it: as counted elsewhere, and as reckoned by hand."""

from datetime import date

import numpy as np
import pytest

from app.sheets.places import places
from app.trade.climate.chill import chill_hours_of_day
from app.trade.climate.days import MONTH_DAYS, MONTH_STARTS
from app.trade.climate.normals import Normals
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.ordinary import OrdinaryYear, ordinary_year
from app.trade.climate.record import DailyRecord
from app.trade.climate.record_season import RecordSeason
from app.trade.climate.season import Spread
from app.trade.climate.this_year import SoFar, Usual, minima_so_far, rain_so_far, season_first, warmth_so_far
from app.trade.climate.year import bands_of, by_season_year, months_of
from tests.climate import weather
from tests.climate.tables import season, table

NORMALS = places().normals["cambridge"]


def recorded(record: DailyRecord, latitude_deg: float = 53.0, normals: Normals = NORMALS) -> RecordSeason:
    return RecordSeason(latitude_deg, record, normals, places().scatter)


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def steady(first: str, last: str, mean_of_year: dict[int, float], rain_mm: float = 2.0) -> DailyRecord:
    """Made up: every day of a year has one temperature, by night as by day, and every day the same rain."""
    days = range(day(first), day(last) + 1)
    mean = np.array([mean_of_year[date.fromordinal(one).year] for one in days])
    return DailyRecord(days[0], mean, mean, np.full(len(days), rain_mm))


# ── The usual year ────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
@pytest.mark.parametrize("name", ["cambridge", "suffolk", "north_yorks"])
def test_months_of_a_record_as_counted_elsewhere(name: str) -> None:
    """Daily series of England 1991-2020 (aquacrop 3.1.0), counted with pandas.

    Means to 0.02 °C, rain to 0.1 mm, wet days to 0.02, of a common year's February; frost nights within 1.3, since each
    night's chance is that of the fortnight around it.
    """
    rows = [row for row in table("climate-normals.csv") if row["series"] == name]
    found = months_of(recorded(weather.thirty_years(name)))
    for row, month in zip(rows, found, strict=True):
        assert abs(float(row["tmax_mean_c"]) - month.max_c) < 0.02
        assert abs(float(row["tmin_mean_c"]) - month.min_c) < 0.02
        assert month.rain_mm is not None
        assert month.dry_days is not None
        part = MONTH_DAYS[month.month - 1] / (int(row["n_days"]) / 30)
        assert abs(part * float(row["rain_mm"]) - month.rain_mm) < 0.1
        assert abs(MONTH_DAYS[month.month - 1] - part * float(row["days_ge_1mm"]) - month.dry_days) < 0.02
        assert abs(float(row["air_frost_days_lt0"]) - month.frost_nights) < 1.3
    frosts = sum(float(row["air_frost_days_lt0"]) for row in rows)
    assert abs(frosts - sum(month.frost_nights for month in found)) < 0.5


@pytest.mark.published
@pytest.mark.parametrize(("name", "base", "total"), [("suffolk", 5, 2188), ("north_yorks", 10, 535)])
def test_a_records_warmth_is_that_of_its_days(name: str, base: int, total: float) -> None:
    """Single sine over the days of 1991-2020 (aquacrop 3.1.0), by numerical integration elsewhere."""
    found = months_of(recorded(weather.thirty_years(name)))
    assert abs(total - sum(month.warmth_5 if base == 5 else month.warmth_10 for month in found)) < 0.005 * total


@pytest.mark.published
@pytest.mark.parametrize(("place", "total_5", "total_10"), [("north-yorkshire", 1439, 457), ("cambridge", 2075, 874)])
def test_monthly_means_give_the_years_warmth(place: str, total_5: float, total_10: float) -> None:
    """Degree-days counted by day (method 1) in the same series 1991-2020: from their monthly means within 2.5 %, of the
    higher base within 5 %."""
    found = months_of(season(place))
    assert abs(total_5 - sum(month.warmth_5 for month in found)) < 0.025 * total_5
    assert abs(total_10 - sum(month.warmth_10 for month in found)) < 0.05 * total_10


@pytest.mark.parametrize(
    ("name", "place"), [("cambridge", "cambridge"), ("suffolk", "suffolk"), ("north_yorks", "north-yorkshire")]
)
def test_chill_from_monthly_means_comes_near_that_of_the_days(name: str, place: str) -> None:
    """Each day of 1991-2020 by its own two readings (aquacrop 3.1.0), summed by a loop, against the twelve means and
    their scatter: the months within 30 hours, the winter within 4 %."""
    record = weather.thirty_years(name)
    counted = [0.0] * 13
    for at, (low, high) in enumerate(zip(record.min_c.tolist(), record.max_c.tolist(), strict=True)):
        counted[date.fromordinal(record.first_day + at).month] += chill_hours_of_day(low, high) / 30
    for month in months_of(recorded(record)):
        assert abs(counted[month.month] - month.chill_h) < 5  # counted without the leap days
    found = months_of(season(place))
    for month in found:
        assert abs(counted[month.month] - month.chill_h) < 30
    winter = (10, 11, 12, 1, 2, 3)
    total = sum(counted[month] for month in winter)
    assert abs(total - sum(month.chill_h for month in found if month.month in winter)) < 0.04 * total


def test_what_is_not_known_of_the_rain_stays_unknown() -> None:
    dry = NORMALS._replace(rain_mm=(), wet_days=())
    for month in months_of(NormalsSeason(53.0, dry, places().scatter)):
        assert month.rain_mm is month.dry_days is month.dry_windows is month.short_mm is None
        assert month.et0_mm > 0


def test_eight_years_in_ten_lie_in_the_shade() -> None:
    """Of a record's own days about eighty in a hundred: by what 10 and 90 % mean (aquacrop 3.1.0, Suffolk)."""
    record = weather.thirty_years("suffolk")
    bands = bands_of(recorded(record))
    assert bands is not None
    for band, series in zip(bands, (record.min_c, record.max_c), strict=True):
        rows = by_season_year(record, series, range(1991, 2021))
        inside = (rows >= np.array(band.low)) & (rows <= np.array(band.high))
        assert abs(0.8 - float(inside.mean())) < 0.01
    assert bands_of(season("cambridge")) is None


def test_rows_of_the_southern_year_begin_in_july_and_leave_out_the_leap_day() -> None:
    """By hand: days numbered on from 1 January 2023."""
    days = range(day("2023-01-01"), day("2025-12-31") + 1)
    numbers = np.arange(float(len(days)))
    record = DailyRecord(days[0], numbers, numbers, numbers)
    north = by_season_year(record, record.rain_mm, [2023, 2024])
    assert north[0, 0] == 0
    assert north[1, 58] == 365 + 58
    assert north[1, 59] == 365 + 60
    south = by_season_year(record, record.rain_mm, [2024], north=False)
    assert south[0, 0] == day("2023-07-01") - days[0]
    assert south[0, -1] == day("2024-06-30") - days[0]
    assert not np.isnan(south).any()
    assert np.isnan(by_season_year(record, record.rain_mm, [2023], north=False)[0, : 365 - MONTH_STARTS[6]]).all()


# ── This year ─────────────────────────────────────────────────────────────────────────────────────────────────────

ELEVEN = {2010 + k: 7.0 + 0.5 * k for k in range(11)}  # 7 to 12 °C: the middle one has 9.5, so 4.5 degree-days a day


@pytest.mark.parametrize(("this_c", "ahead"), [(14.0, 60), (9.5, 0), (7.25, -30)])
def test_warmth_ahead_and_behind_by_hand(this_c: float, ahead: int) -> None:
    """Eleven made-up years, the middle one with 4.5 degree-days a day over 5 °C. After 60 days at 14 °C, 9 a day, there
    are 540: an ordinary year has them on day 120, 60 days on; at 7.25 °C, 2.25 a day, 135, as on its day 30."""
    record = steady("2010-01-01", "2021-03-01", ELEVEN | {2021: this_c})
    found = warmth_so_far(recorded(record), record, day("2021-03-05"))
    assert found is not None
    assert len(found.values) == 60
    assert found.now == pytest.approx(60 * (this_c - 5))
    assert found.usual.middle[59] == pytest.approx(60 * 4.5)
    # Weibull: of eleven, 10 and 90 % have the ranks 1.2 and 10.8
    assert found.usual.low[59] == pytest.approx(60 * (2 + 0.2 * 0.5))
    assert found.usual.high[59] == pytest.approx(60 * (6.5 + 0.8 * 0.5))
    assert found.ahead_days == ahead


def test_days_that_are_not_known_have_the_usual_days_warmth() -> None:
    """By hand: ten of sixty days missing have the years' mean, 4.5, the others 9."""
    record = steady("2010-01-01", "2021-03-01", ELEVEN | {2021: 14.0})
    gap = day("2021-01-11")
    holes = record.with_days((gap + k, None, None, None) for k in range(10))
    found = warmth_so_far(recorded(holes), holes, day("2021-03-05"))
    assert found is not None
    assert found.missing == 10
    assert found.now == pytest.approx(50 * 9 + 10 * 4.5)


def test_rain_and_nights_by_hand() -> None:
    record = steady("2010-01-01", "2021-03-01", ELEVEN | {2021: 6.0})
    wet = record.with_days((day("2021-01-01") + k, 6.0, 6.0, 5.0) for k in range(60))
    rain = rain_so_far(recorded(wet), wet, day("2021-03-01"))
    assert rain is not None
    assert (rain.now, rain.usual.middle[rain.at]) == pytest.approx((300, 120))
    nights = minima_so_far(recorded(wet), wet, day("2021-03-01"))
    assert nights is not None
    assert nights.apart == pytest.approx(6 - 9.5)
    assert nights.rare == 60
    assert nights.least == (day("2021-01-01"), 6.0)


def test_nothing_known_of_this_year_is_nothing() -> None:
    record = steady("2010-01-01", "2020-12-31", ELEVEN)
    made = recorded(record)
    assert warmth_so_far(made, record, day("2021-03-01")) is None
    assert minima_so_far(made, record, day("2021-03-01")) is None
    assert rain_so_far(made, record, day("2021-03-01")) is None
    assert ordinary_year(made, day("2021-03-01")) is None
    assert ordinary_year(season("cambridge"), day("2021-03-01")) is None


def test_with_few_years_the_monthly_means_say_what_is_usual() -> None:
    """A record of two months: the bands are those of the normals and hold their own middle; rain has no spread."""
    record = steady("2021-01-01", "2021-02-28", {2021: 10.0}, rain_mm=4.0)
    made = recorded(record)
    warmth = warmth_so_far(made, record, day("2021-03-01"))
    assert warmth is not None
    assert warmth.now == pytest.approx(59 * 5)
    for low, middle, high in zip(*warmth.usual, strict=True):
        assert low <= middle <= high
    assert abs(sum(month.warmth_5 for month in months_of(season("cambridge"))) - warmth.usual.middle[-1]) < 1e-6
    rain = rain_so_far(made, record, day("2021-03-01"))
    assert rain is not None
    assert rain.usual.low == rain.usual.high == ()
    assert rain.now == pytest.approx(59 * 4)
    assert abs(58.6 + 47.2 - rain.usual.middle[58]) < 0.5  # the normals' own January and February
    unknown = recorded(record, normals=NORMALS._replace(rain_mm=()))
    assert rain_so_far(unknown, record, day("2021-03-01")) is None


def test_early_in_the_year_and_beyond_it_no_lead_is_told() -> None:
    """By hand: ten degree-days against five say nothing, and no ordinary year has three hundred of two hundred."""
    little = Usual((), tuple(0.5 * (k + 1) for k in range(365)), ())
    assert SoFar(day("2021-01-01"), (1.0,) * 10, 0, little).ahead_days is None
    much = Usual((), tuple(min(200.0, 2.0 * (k + 1)) for k in range(365)), ())
    assert SoFar(day("2021-01-01"), (300.0,) * 200, 0, much).ahead_days is None


def test_the_southern_year_so_far_begins_in_july() -> None:
    assert season_first(day("2021-03-05"), north=False) == day("2020-07-01")
    assert season_first(day("2021-07-01"), north=False) == day("2021-07-01")
    assert season_first(day("2021-07-01"), north=True) == day("2021-01-01")
    record = steady("2010-01-01", "2021-08-29", ELEVEN | {2021: 14.0})
    found = warmth_so_far(recorded(record, -37.0), record, day("2021-08-29"))
    assert found is not None
    assert len(found.values) == 60
    assert found.now == pytest.approx(60 * 9)


def test_an_ordinary_year_knows_nothing_of_this_one() -> None:
    """By hand: twelve years at 10 °C give 5 degree-days a day. After 60 days at 15 °C there are 600 of 1000, and the
    other 400 take 80 more, to day 140; without this year it is day 200. A sum begun last year keeps what came then."""
    record = steady("2009-01-01", "2021-03-01", {2009 + k: 10.0 for k in range(12)} | {2021: 15.0})
    made = recorded(record)
    ordinary = ordinary_year(made, day("2021-03-02"))
    since = day("2021-01-01")
    assert isinstance(ordinary, OrdinaryYear)
    assert made.warmth(1000, 5, since) == Spread(*[since + 139] * 3)
    assert ordinary.warmth(1000, 5, since) == Spread(*[since + 199] * 3)
    assert ordinary.mark("last frost", 50, 2021) == made.mark("last frost", 50, 2021)
    autumn = day("2020-12-02")  # 30 days of December by 150, then 600 this year: 100 days, or 200
    assert made.warmth(1000, 5, autumn) == Spread(*[autumn + 30 + 60 + 50 - 1] * 3)
    assert ordinary.warmth(1000, 5, autumn) == Spread(*[autumn + 199] * 3)
