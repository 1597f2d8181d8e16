"""A place's year as it usually is: month by month in figures, and the bands within which its days lie."""

from collections.abc import Callable, Sequence
from datetime import date
from functools import lru_cache, wraps
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from app.trade.climate.chill import chill_hours_of_days
from app.trade.climate.daylength import day_length_hours
from app.trade.climate.days import MONTH_DAYS, MONTH_STARTS, YEAR
from app.trade.climate.degreedays import expected
from app.trade.climate.dryness import dry_windows
from app.trade.climate.ensemble import sine_sums
from app.trade.climate.evapotranspiration import hargreaves_mm
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.radiation import above_the_air_mj
from app.trade.climate.record import MISSING_DAYS, DailyRecord, Floats, calendar
from app.trade.climate.record_season import RecordSeason

DRY_WINDOW_DAYS = 3
_BASES = (5.0, 10.0)
_SLICES = [NormalDist().inv_cdf((2 * k + 1) / 18) for k in range(9)]
"""Nine equal slices of a normal distribution, each by its middle."""
_AROUND_DAYS = 7
_COMMON = 2001
Rows = tuple[tuple[float, ...], ...]


def once_a_table(function: Callable[[Floats], Rows]) -> Callable[[Floats], Rows]:
    """Work a table of years out once: a day typed this year leaves the years before it as they were.

    Source: none; keeps the answers to the last few tables, by their numbers.
    """

    @lru_cache(maxsize=12)
    def known(numbers: bytes, rows: int) -> Rows:
        return function(np.frombuffer(numbers).reshape(rows, YEAR))

    @wraps(function)
    def answered(table: Floats) -> Rows:
        return known(table.tobytes(), len(table))

    return answered


class MonthOfYear(NamedTuple):
    """A month as it usually is. ``None`` where rain is not known.

    ``frost_nights`` and ``dry_days`` (less than 1 mm) are how many; ``day_hours`` the mean from sunrise to sunset;
    ``et0_mm`` what short grass would draw; ``dry_windows`` of three days, none overlapping; ``warmth_5`` and
    ``warmth_10`` degree-days above 5 and 10 °C; ``chill_h`` hours above 0 and up to 7.2 °C.
    """

    month: int
    max_c: float
    min_c: float
    rain_mm: float | None
    frost_nights: float
    day_hours: float
    et0_mm: float
    dry_days: float | None
    dry_windows: float | None
    warmth_5: float
    warmth_10: float
    chill_h: float

    @property
    def short_mm(self) -> float | None:
        """What short grass would draw beyond the rain that falls (mm); below 0 where more falls than it draws."""
        return None if self.rain_mm is None else self.et0_mm - self.rain_mm


class Band(NamedTuple):
    """Between which values eight years in ten lie: ``low`` (10 %) and ``high`` (90 %), a value for each of 365 days."""

    low: tuple[float, ...]
    high: tuple[float, ...]


def months_of(season: NormalsSeason) -> tuple[MonthOfYear, ...]:
    """The twelve months of a place, January first.

    Means from the place's daily normals; frost nights are the sum of each night's chance; water by `hargreaves_mm` of
    the normals; dry windows by `dry_windows`. Degree-days (single sine) and chill are means over the record's years
    where it has enough, else expected of the normals, whose days scatter about them: chill within 4 % of a winter's
    count in three English series.
    Source: the functions named.
    """
    warmth = {base: _warmth(season, base) for base in _BASES}
    columns = (
        season.max_c, season.min_c, _frost_nights(season), _daylight(season), _drawn(season), warmth[5.0],
        warmth[10.0], _chill(season),
    )  # fmt: skip
    found = []
    for month, (start, days) in enumerate(zip(MONTH_STARTS, MONTH_DAYS, strict=True), 1):
        sums = [float(sum(column[start : start + days])) for column in columns]
        wet = season.normals.wet_days[month - 1] if season.normals.wet_days else None
        found.append(
            MonthOfYear(
                month,
                sums[0] / days,
                sums[1] / days,
                season.normals.rain_mm[month - 1] if season.normals.rain_mm else None,
                sums[2],
                sums[3] / days,
                sums[4],
                None if wet is None else days - wet,
                None if wet is None else dry_windows(wet / days, days, DRY_WINDOW_DAYS),
                *sums[5:],
            )
        )
    return tuple(found)


def _frost_nights(season: NormalsSeason) -> list[float]:
    first = date(_COMMON, 1, 1).toordinal()
    return [season.frost_percent(first + index) / 100.0 for index in range(YEAR)]


def _daylight(season: NormalsSeason) -> list[float]:
    return [day_length_hours(season.latitude_deg, index + 1) for index in range(YEAR)]


def _drawn(season: NormalsSeason) -> list[float]:
    return [
        hargreaves_mm(low, max(low, high), above_the_air_mj(season.latitude_deg, index + 1))
        for index, (low, high) in enumerate(zip(season.min_c, season.max_c, strict=True))
    ]


def _warmth(season: NormalsSeason, base: float) -> Sequence[float]:
    if isinstance(season, RecordSeason) and season.is_counted:
        return _counted(_by_year(season))[0 if base == _BASES[0] else 1]
    return [expected(mean, season.scatter.day_sd_c, base) for mean in season.mean_c]


def _chill(season: NormalsSeason) -> Sequence[float]:
    if isinstance(season, RecordSeason) and season.is_counted:
        return _counted(_by_year(season))[2]
    # Chill comes in winter, when days scatter about their means as widely as nights do.
    spread = np.repeat(season.normals.min_sd_c or (season.scatter.night_sd_c,) * 12, MONTH_DAYS)
    off = spread * np.array(_SLICES)[:, None]
    low, high = off + np.array(season.min_c), off + np.array(season.max_c)
    means: list[float] = chill_hours_of_days(low, np.maximum(low, high)).mean(axis=0).tolist()
    return means


def _by_year(season: RecordSeason) -> Floats:
    """The record's years in one table: all their lowest temperatures, and below them all their highest."""
    return np.concatenate(season.record.by_year(season.years))


@once_a_table
def _counted(table: Floats) -> Rows:
    """The mean warmth above each base, and the mean chill, of each day of the years."""
    low, high = np.split(table, 2)
    found = [*(sine_sums(low, high, base) for base in _BASES), chill_hours_of_days(low, high)]
    return tuple(tuple(one.mean(axis=0).tolist()) for one in found)


def by_season_year(record: DailyRecord, series: Floats, years: Sequence[int], *, north: bool = True) -> Floats:
    """A series of a record as rows of 365 days, one for each of the years; NaN where a day is not known.

    ``years`` ascend, and are one or more. A row begins on 1 January; in the south on 1 July of the year before, and
    ends with the year's June. 29 February is left out.
    Source: none; `app.trade.climate.days`.
    """
    of_year, index = calendar(record.days)
    whole = (index != MONTH_STARTS[2] - 1) | (np.roll(index, 1) != index)
    if not north:
        late = index >= MONTH_STARTS[6]
        of_year = of_year + late
        index = (index - MONTH_STARTS[6]) % YEAR
    wanted = np.array(years, dtype=np.int64)
    row = np.minimum(np.searchsorted(wanted, of_year), len(wanted) - 1)
    use = (wanted[row] == of_year) & whole
    table = np.full((len(years), YEAR), np.nan)
    table[row[use], index[use]] = series[use]
    return table


def bands_of(season: NormalsSeason) -> tuple[Band, Band] | None:
    """Within what the single days' lowest and highest lie in eight years of ten; None without a record long enough.

    Source: `daily_percentiles`.
    """
    if not isinstance(season, RecordSeason) or not season.is_counted:
        return None
    record = season.record
    low, high = (
        _band(by_season_year(record, series, season.years)) for series in (record.min_c, record.max_c)
    )  # fmt: skip
    return low, high


def _band(table: Floats) -> Band:
    low, _, high = daily_percentiles(table)
    return Band(low, high)


def filled(table: Floats) -> Floats:
    """Rows of years with each gap filled by that day's mean over the years.

    Source: as `DailyRecord.by_year`.
    """
    gaps = np.isnan(table)
    return np.where(gaps, np.nanmean(table, axis=0), table) if gaps.any() else table


@once_a_table
def daily_percentiles(table: Floats) -> Rows:
    """The 10, 50 and 90 % values of the days within a week either side, then their running mean over a fortnight.

    Source: `numpy.percentile`, method "weibull" (Hyndman and Fan 1996, type 6); the fortnight is our own choice.
    """
    near = range(-_AROUND_DAYS, _AROUND_DAYS + 1)
    whole = filled(table)
    pooled = np.concatenate([np.roll(whole, by, axis=1) for by in near])
    ends = np.percentile(pooled, [10, 50, 90], axis=0, method="weibull")
    smooth = sum((np.roll(ends, by, axis=1) for by in near), np.zeros_like(ends)) / len(near)
    return tuple(tuple(one) for one in smooth.tolist())


def rain_years(record: DailyRecord) -> tuple[int, ...]:
    """The calendar years of a record that lack rain on fewer than ten days.

    Source: the rule of ten missing days, as `YearOnRecord`.
    """
    return tuple(one.year for one in record.years() if one.missing_rain < MISSING_DAYS)
