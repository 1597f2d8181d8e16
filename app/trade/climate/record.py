"""A place's own days: lowest, highest and rain, with gaps, and the rule by which its years count."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from app.errors import OutOfRange
from app.trade.climate.days import YEAR

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

ENOUGH_YEARS = 10
"""With fewer years than this nothing is said of chances: one year in ten has not been seen yet."""
MISSING_DAYS = 10
"""A year that lacks so many days, or more, does not count. Source: Utah Climate Center, freeze dates (help page)."""
_EPOCH = date(1970, 1, 1).toordinal()
_LEAP_AT = 59

DayRow = tuple[int, float | None, float | None, float | None]


def calendar(days: Ints) -> tuple[Ints, Ints]:
    """The calendar year and the index in the common year (0 to 364) of day numbers.

    Source: ISO 8601-1:2019, 4.2.1; 29 February counts as the 28th, as `app.trade.climate.days.index_of`.
    """
    stamps = (days - _EPOCH).astype("datetime64[D]")
    whole = stamps.astype("datetime64[Y]")
    years = whole.astype(np.int64) + 1970
    at = (stamps - whole.astype("datetime64[D]")).astype(np.int64)
    leap = ((years % 4 == 0) & (years % 100 != 0)) | (years % 400 == 0)
    return years, at - (leap & (at >= _LEAP_AT))


class YearOnRecord(NamedTuple):
    """One calendar year of a record: how many days lack a lowest or highest, how many lack rain, and if it counts."""

    year: int
    missing: int
    missing_rain: int

    @property
    def counts(self) -> bool:
        """Whether it counts among the years of warmth: fewer than ten days missing."""
        return self.missing < MISSING_DAYS

    @property
    def said(self) -> str:
        """In a sentence."""
        days = "1 day is" if self.missing == 1 else f"{self.missing or 'no'} days are"
        return f"{self.year}: {days} missing{'' if self.counts else '; left out'}."


class DailyRecord:
    """Days of weather from ``first_day`` on, one after another: ``min_c``, ``max_c``, ``rain_mm``, NaN where not known.

    Source: the household's thermometer and rain gauge, or a station's file.
    Raises: OutOfRange where arrays differ in length, a lowest lies above its highest, or a value is not finite.
    """

    def __init__(self, first_day: int, min_c: Floats, max_c: Floats, rain_mm: Floats) -> None:
        self.first_day = first_day
        self.min_c, self.max_c, self.rain_mm = (
            np.array(one, dtype=np.float64) for one in (min_c, max_c, rain_mm)
        )  # fmt: skip
        if not len(self.min_c) == len(self.max_c) == len(self.rain_mm):
            raise OutOfRange("The number of highest temperatures", len(self.max_c), f"{len(self.min_c)}, as of lowest")
        wrong = np.flatnonzero(self.min_c > self.max_c)
        if len(wrong):
            at = int(wrong[0])
            limit = f"not below the lowest, {self.min_c[at]:g} °C"
            raise OutOfRange("A daily highest temperature", float(self.max_c[at]), limit)
        for one in (self.min_c, self.max_c, self.rain_mm):
            if np.isinf(one).any():
                raise OutOfRange("A day's weather", float("inf"), "a finite number")
            one.flags.writeable = False

    @classmethod
    def of(cls, rows: Iterable[DayRow]) -> "DailyRecord":
        """A record from rows of (day number, lowest, highest, rain), in any order; None where not known.

        Raises: OutOfRange as the record itself.
        """
        rows = list(rows)
        if not rows:
            return cls(1, np.empty(0), np.empty(0), np.empty(0))
        return cls(*_filled(rows, min(row[0] for row in rows), max(row[0] for row in rows)))

    def with_days(self, rows: Iterable[DayRow]) -> "DailyRecord":
        """The same record with some days put in place of what it had of them, made longer where they lie beyond.

        Raises: OutOfRange as the record itself.
        """
        rows = list(rows)
        if not rows or not len(self):
            return DailyRecord.of(rows) if rows else self
        first = min(self.first_day, *(row[0] for row in rows))
        last = max(self.last_day, *(row[0] for row in rows))
        put = _filled(rows, first, last)
        values = np.full((3, last - first + 1), np.nan)
        at = self.first_day - first
        values[:, at : at + len(self)] = (self.min_c, self.max_c, self.rain_mm)
        for new, old in zip(put[1:], values, strict=True):
            days = [row[0] - first for row in rows]
            old[days] = new[days]
        return DailyRecord(first, *values)

    def until(self, last_day: int) -> "DailyRecord":
        """The record as it stood when ``last_day`` was its last day."""
        keep = max(0, last_day - self.first_day + 1)
        return DailyRecord(self.first_day, self.min_c[:keep], self.max_c[:keep], self.rain_mm[:keep])

    def __len__(self) -> int:
        return len(self.min_c)

    @property
    def last_day(self) -> int:
        """The last day of the arrays; one before the first where there are none."""
        return self.first_day + len(self) - 1

    @property
    def known(self) -> NDArray[np.bool_]:
        """For each day whether both its lowest and its highest are known."""
        return ~(np.isnan(self.min_c) | np.isnan(self.max_c))

    @property
    def last_known(self) -> int | None:
        """The last day of which lowest and highest are known; None where there is none."""
        found = np.flatnonzero(self.known)
        return self.first_day + int(found[-1]) if len(found) else None

    @property
    def days(self) -> Ints:
        """The day numbers."""
        return np.arange(self.first_day, self.first_day + len(self), dtype=np.int64)

    def years(self) -> tuple[YearOnRecord, ...]:
        """Every calendar year that the record touches, with what it lacks.

        Source: the rule of fewer than ten missing days, Utah Climate Center (freeze dates, help page).
        """
        if not len(self):
            return ()
        first, last = date.fromordinal(self.first_day).year, date.fromordinal(self.last_day).year
        at = calendar(self.days)[0] - first
        known = np.bincount(at, self.known, last - first + 1)
        wet = np.bincount(at, ~np.isnan(self.rain_mm), last - first + 1)
        found = []
        for year in range(first, last + 1):
            days = date(year + 1, 1, 1).toordinal() - date(year, 1, 1).toordinal()
            found.append(YearOnRecord(year, days - int(known[year - first]), days - int(wet[year - first])))
        return tuple(found)

    def by_year(self, years: Iterable[int]) -> tuple[Floats, Floats]:
        """Lowest and highest of whole years, a row of 365 days each, their gaps filled with the other years' mean.

        29 February is left out. Source: the mean of that day over the years that have it, else of the year's days.
        Raises: ValueError for years that the record does not hold.
        """
        rows = []
        for series in (self.min_c, self.max_c):
            table = np.array([self._row(series, year) for year in years]).reshape(-1, YEAR)
            gaps = np.isnan(table)
            if gaps.any():
                counted = (~gaps).sum(axis=0)
                sums = np.nansum(table, axis=0)
                usual = np.where(counted > 0, sums / np.maximum(counted, 1), np.nanmean(table))
                table = np.where(gaps, usual, table)
            rows.append(table)
        return rows[0], rows[1]

    def _row(self, series: Floats, year: int) -> Floats:
        start, end = date(year, 1, 1).toordinal() - self.first_day, date(year + 1, 1, 1).toordinal() - self.first_day
        row = np.full(end - start, np.nan)
        low, high = max(start, 0), min(end, len(series))
        if high <= low:
            raise ValueError(f"the record has no days of {year}")
        row[low - start : high - start] = series[low:high]
        return row if len(row) == YEAR else np.delete(row, _LEAP_AT)


def _filled(rows: Sequence[DayRow], first: int, last: int) -> tuple[int, Floats, Floats, Floats]:
    """The rows put in their places from ``first`` to ``last``, NaN where there is none; of two for a day the last."""
    values = np.full((3, last - first + 1), np.nan)
    table = np.array([row[1:] for row in rows], dtype=np.float64)  # None becomes NaN
    values[:, np.array([row[0] - first for row in rows])] = table.T
    return first, values[0], values[1], values[2]
