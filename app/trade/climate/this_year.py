"""This year so far against what the place is used to: warmth, cold nights, rain."""

from datetime import date
from typing import NamedTuple

import numpy as np

from app.trade.climate.days import FIRST_JULY, MONTH_DAYS, YEAR, day_of, index_of
from app.trade.climate.degreedays import expected
from app.trade.climate.ensemble import sine_sums
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.record import ENOUGH_YEARS, DailyRecord, Floats
from app.trade.climate.record_season import RecordSeason
from app.trade.climate.year import Rows, by_season_year, daily_percentiles, filled, once_a_table, rain_years

_ONE_IN_TEN = 1.2815515655446004
_LITTLE = 20.0
"""Degree-days below which a lead in days says nothing: a single mild day in January would be weeks."""


class Usual(NamedTuple):
    """What is usual from the season year's first day on: 10, 50 and 90 years in 100 lie below; a value for each of 365
    days. ``low`` and ``high`` are empty where the spread is not known."""

    low: tuple[float, ...]
    middle: tuple[float, ...]
    high: tuple[float, ...]


class SoFar(NamedTuple):
    """A row of this year's days from its ``first`` on, beside what is ``usual``; None where a day is not known.

    Sums take the usual day's share where a day is not known; ``missing`` is how many of the days that is.
    """

    first: int
    values: tuple[float | None, ...]
    missing: int
    usual: Usual

    @property
    def last(self) -> int:
        """The last day of which something is known."""
        return self.first + len(self.values) - 1

    @property
    def now(self) -> float:
        """Where the year stands on its last day."""
        return next(value for value in reversed(self.values) if value is not None)

    @property
    def at(self) -> int:
        """The index of the last day in what is usual."""
        return (index_of(self.last) - index_of(self.first)) % YEAR

    def _beside(self, row: tuple[float, ...]) -> list[tuple[int, float, float]]:
        """Each known day with its value and that of a usual row."""
        places = _indexes(self.first, len(self.values))
        return [
            (self.first + day, value, row[at])
            for day, (value, at) in enumerate(zip(self.values, places, strict=True))
            if value is not None
        ]

    @property
    def apart(self) -> float:
        """By how much the known days lie above the usual ones on average.

        Source: the mean of the differences.
        """
        beside = self._beside(self.usual.middle)
        return sum(value - usual for _, value, usual in beside) / len(beside)

    @property
    def least(self) -> tuple[int, float]:
        """The day with the lowest value, and that value.

        Source: none.
        """
        return min(((day, value) for day, value, _ in self._beside(self.usual.middle)), key=lambda one: one[1])

    @property
    def rare(self) -> int:
        """How many of the known days lie below what nine years in ten have.

        Source: none; a tenth of them is usual.
        """
        return sum(value < usual for _, value, usual in self._beside(self.usual.low)) if self.usual.low else 0

    @property
    def ahead_days(self) -> int | None:
        """By how many days a rising sum is ahead of an ordinary year (below 0: behind); None where that says nothing.

        Source: the day on which the middle year reaches what this year has now; none within 20 degree-days of the
        year's beginning, or beyond what an ordinary year comes to.
        """
        middle = self.usual.middle
        if middle[self.at] < _LITTLE or self.now < _LITTLE or self.now > middle[-1]:
            return None
        return next(index for index, value in enumerate(middle) if value >= self.now - 1e-9) - self.at


def season_first(day: int, *, north: bool) -> int:
    """The first day of the season year that holds a day: 1 January, in the south 1 July.

    Source: `app.trade.climate.days`.
    """
    when = date.fromordinal(day)
    if north:
        return date(when.year, 1, 1).toordinal()
    return date(when.year - (when.month < 7), 7, 1).toordinal()


def _days(record: DailyRecord, series: Floats, first: int, today: int) -> Floats:
    """The days from ``first`` up to the last one known that does not lie after ``today``; NaN where not known."""
    values = np.full(max(0, today - first + 1), np.nan)
    low, high = max(first, record.first_day), min(today, record.last_day)
    if high >= low:
        values[low - first : high - first + 1] = series[low - record.first_day : high - record.first_day + 1]
    known = np.flatnonzero(~np.isnan(values))
    return values[: int(known[-1]) + 1] if len(known) else values[:0]


def _order(season: NormalsSeason, curve: Floats) -> Floats:
    """A curve of the common year, beginning with the season year's first day."""
    return curve if season.latitude_deg >= 0 else np.roll(curve, -FIRST_JULY, axis=-1)


def _indexes(first: int, count: int) -> list[int]:
    start = index_of(first)
    return [(index_of(first + day) - start) % YEAR for day in range(count)]


def _filled(values: Floats, first: int, usual_day: Floats) -> Floats:
    return np.where(np.isnan(values), usual_day[_indexes(first, len(values))], values)


@once_a_table
def _sums(table: Floats) -> Rows:
    """What is usual of sums: each year's row summed up, gaps filled with the day's mean."""
    found = np.percentile(filled(table).cumsum(axis=1), [10, 50, 90], axis=0, method="weibull")
    return tuple(tuple(one) for one in found.tolist())


def _sum_so_far(values: Floats, first: int, usual_day: Floats, usual: Usual) -> SoFar:
    missing = int(np.isnan(values).sum())
    return SoFar(first, tuple(_filled(values, first, usual_day).cumsum().tolist()), missing, usual)


def warmth_so_far(season: NormalsSeason, record: DailyRecord, today: int, base: float = 5.0) -> SoFar | None:
    """Degree-days above ``base`` since the season year began, summed; None where no day of it is known.

    Single sine, on the flat. Usual: each year on record summed so; where there are too few, an average, a warm and a
    cold year reckoned from the monthly means, as `NormalsSeason.warmth`.
    Source: `sine_sums`, `expected`.
    """
    north = season.latitude_deg >= 0
    first = season_first(today, north=north)
    values = _days(record, sine_sums(record.min_c, record.max_c, base), first, today)
    if not len(values):
        return None
    if isinstance(season, RecordSeason) and season.is_counted:
        table = by_season_year(record, sine_sums(record.min_c, record.max_c, base), _whole(season, today), north=north)
        return _sum_so_far(values, first, np.nanmean(table, axis=0), Usual(*_sums(table)))
    by, spread = _ONE_IN_TEN * season.scatter.year_sd_c, season.scatter.day_sd_c
    cold, average, warm = (
        _order(season, np.array([expected(mean + shift, spread, base) for mean in season.mean_c]))
        for shift in (-by, 0.0, by)
    )
    sums = [tuple(one.cumsum().tolist()) for one in (cold, average, warm)]
    return _sum_so_far(values, first, average, Usual(*sums))


def minima_so_far(season: NormalsSeason, record: DailyRecord, today: int) -> SoFar | None:
    """This year's lowest temperatures, day by day; None where no day of it is known.

    Usual: the days on record within a week either side, or the normal curve with its nights' scatter.
    Source: `daily_percentiles`; the scatter stands, with its source, in the file of normals.
    """
    north = season.latitude_deg >= 0
    first = season_first(today, north=north)
    values = _days(record, record.min_c, first, today)
    if not len(values):
        return None
    if isinstance(season, RecordSeason) and season.is_counted:
        table = by_season_year(record, record.min_c, _whole(season, today), north=north)
        usual = Usual(*daily_percentiles(table))
    else:
        months = season.normals.min_sd_c or (season.scatter.night_sd_c,) * 12
        spread = np.repeat(np.array(months), MONTH_DAYS)
        middle = np.array(season.min_c)
        usual = Usual(
            *(tuple(_order(season, middle + by * spread).tolist()) for by in (-_ONE_IN_TEN, 0.0, _ONE_IN_TEN))
        )
    missing = int(np.isnan(values).sum())
    return SoFar(first, tuple(None if np.isnan(one) else float(one) for one in values), missing, usual)


def rain_so_far(season: NormalsSeason, record: DailyRecord, today: int) -> SoFar | None:
    """Rain since the season year began, summed (mm); None where none of its days is known, or what is usual is not.

    Usual: each year on record that lacks rain on fewer than ten days; where there are too few, the months' normals,
    of which the spread is not known.
    Source: `numpy.percentile`, method "weibull".
    """
    north = season.latitude_deg >= 0
    first = season_first(today, north=north)
    values = _days(record, record.rain_mm, first, today)
    if not len(values):
        return None
    years = [year for year in rain_years(record) if year < date.fromordinal(today).year + (not north)]
    if len(years) >= ENOUGH_YEARS:
        table = by_season_year(record, record.rain_mm, years, north=north)
        return _sum_so_far(values, first, np.nanmean(table, axis=0), Usual(*_sums(table)))
    if not season.rain_mm:
        return None
    average = _order(season, np.array(season.rain_mm))
    return _sum_so_far(values, first, average, Usual((), tuple(average.cumsum().tolist()), ()))


def _whole(season: RecordSeason, today: int) -> list[int]:
    """The season years that count, without this one: in the south a year's row reaches back into the one before."""
    before = [year for year in season.years if year < date.fromordinal(today).year]
    if season.latitude_deg >= 0:
        return before or list(season.years)
    return [year for year in before if year - 1 in season.years] or list(season.years)


def usual_day(index: int, first: int) -> int:
    """The day number, in the season year that begins on ``first``, of an index in what is usual.

    Source: `app.trade.climate.days.day_of`.
    """
    when = date.fromordinal(first)
    return day_of(when.year, index_of(first) + index)
