"""Warmth as an ensemble: what has come this year, joined to the rest of each year that may follow it."""

from collections.abc import Callable
from datetime import date

import numpy as np

from app.errors import OutOfRange
from app.trade.climate.days import YEAR
from app.trade.climate.record import DailyRecord, Floats, Ints, calendar

MOST_DAYS = 3 * YEAR
"""A sum that takes longer than this is not followed further: nothing is planned on it."""
_SLACK = 1e-6
"""Degree-days by which a sum may miss its total: the rounding of long sums must not cost a day."""
_CYCLE = date(2000, 1, 1).toordinal()
_CYCLE_DAYS = date(2008, 1, 1).toordinal() - _CYCLE
_BACK_YEARS, _AHEAD_YEARS = 2, 4


def sine_sums(min_c: Floats, max_c: Floats, base_c: float, upper_c: float | None = None) -> Floats:
    """Degree-days of many days at once by the single sine, with a horizontal cutoff; NaN stays NaN.

    Source: `app.trade.climate.degreedays.single_sine`, of which this is the form for arrays.
    Raises: OutOfRange for an upper threshold that is not above the base.
    """
    if upper_c is not None and upper_c <= base_c:
        raise OutOfRange("An upper threshold", upper_c, f"above the base, {base_c:g} °C")
    found = _above(min_c, max_c, base_c)
    return found if upper_c is None else found - _above(min_c, max_c, upper_c)


def _above(min_c: Floats, max_c: Floats, threshold_c: float) -> Floats:
    mean, half = (max_c + min_c) / 2.0, (max_c - min_c) / 2.0
    found = np.where(max_c <= threshold_c, 0.0, mean - threshold_c)
    cross = (min_c < threshold_c) & (threshold_c < max_c)
    up, wide = mean[cross] - threshold_c, half[cross]
    angle = np.arcsin(np.clip(-up / wide, -1.0, 1.0))  # rounding may carry it past either end
    found[cross] = (up * (np.pi / 2.0 - angle) + wide * np.cos(angle)) / np.pi
    return np.where(np.isnan(mean), np.nan, found)


class _Sums:
    """Sums from a first day on, a row for each member, so laid end to end that one search answers for all of them."""

    def __init__(self, first: int, daily: Floats) -> None:
        members, days = daily.shape
        self.first = first
        self._sums = np.zeros((members, days + 1))
        np.cumsum(daily, axis=1, out=self._sums[:, 1:])
        step = 2.0 * float(self._sums[:, -1].max(initial=0.0)) + 1.0
        self._sums += step * np.arange(members)[:, None]  # each row lies wholly above the one before it
        self._rows = np.arange(members) * (days + 1)

    def reached(self, total: float, since: int) -> Ints:
        """The day on which each member's sum, the day ``since`` counted, comes to ``total``; ``MOST_DAYS`` at most."""
        at = since - self.first
        wanted = self._sums[:, at] + max(0.0, total - _SLACK)
        found = np.searchsorted(self._sums.ravel(), wanted) - self._rows - 1
        days: Ints = since + np.clip(found - at, 0, MOST_DAYS)
        return days

    def between(self, first: int, last: int) -> Floats:
        """Each member's sum over some days, both counted."""
        sums: Floats = self._sums[:, last + 1 - self.first] - self._sums[:, first - self.first]
        return sums


class Ensemble:
    """Days by which warmth has come, one for each member: a year on record, or a warm, an average and a cold one.

    ``daily`` gives the degree-days above a base of each member's 365 days. Where members ``follow`` each other, the
    one year's end leads into the next one's beginning, round the ring; else each repeats itself. ``so_far`` are days
    that have been: on them every member has what has been, and where a day is not known, what it has itself.

    Source: the ensemble of recorded remainders is common practice in forecasting crop stages.
    """

    def __init__(
        self, daily: Callable[[float], Floats], follow: bool, so_far: DailyRecord | None = None, warmer_c: float = 0.0
    ) -> None:
        self._make = daily
        self._follow = follow
        self._warmer_c = warmer_c
        self.so_far = so_far
        self.last = so_far.last_known if so_far is not None else None
        self.first = 0
        if so_far is not None and self.last is not None:
            self.first = max(so_far.first_day, date(date.fromordinal(self.last).year - _BACK_YEARS, 1, 1).toordinal())
        self._daily: dict[float, Floats] = {}
        self._year: dict[float, float] = {}
        self._any: dict[float, _Sums] = {}
        self._joined: dict[float, _Sums] = {}

    def renewed(self, so_far: DailyRecord) -> "Ensemble":
        """The same members after other days have been: their own sums are kept."""
        other = Ensemble(self._make, self._follow, so_far, self._warmer_c)
        other._daily, other._any, other._year = self._daily, self._any, self._year
        return other

    def daily(self, base: float) -> Floats:
        """The degree-days above ``base`` of each member's 365 days."""
        if base not in self._daily:
            self._daily[base] = self._make(base)
        return self._daily[base]

    def year_sum(self, base: float) -> float:
        """The degree-days that a member's year holds on average."""
        if base not in self._year:
            self._year[base] = float(self.daily(base).sum(axis=1).mean())
        return self._year[base]

    def covers(self, since: int) -> bool:
        """Whether the year so far says anything of a sum that begins on a day."""
        return self.last is not None and self.first <= since <= self.last

    def reached(self, total: float, base: float, since: int, *, alone: bool = False) -> Ints:
        """The days by which ``total`` has come, one for each member; ``alone`` leaves out the year so far.

        ``MOST_DAYS`` after ``since`` where it takes longer.
        Source: the definition of a sum.
        """
        if not alone and self.covers(since):
            return self._sums_so_far(base).reached(total, since)
        year = date.fromordinal(since).year
        away = date(year, 1, 1).toordinal() - date(2000 + year % 4, 1, 1).toordinal()
        if base not in self._any:
            days = np.arange(_CYCLE, _CYCLE + _CYCLE_DAYS, dtype=np.int64)
            self._any[base] = _Sums(_CYCLE, spread_out(self.daily(base), days, 2000, self._follow))
        # In the one year in a century that is no leap year, 29 February may be a day beyond the cycle's year.
        return self._any[base].reached(total, since - away) + away

    def has_come(self, total: float, base: float, since: int) -> bool:
        """Whether ``total`` has come already, in what has been of the year."""
        if self.last is None or not self.covers(since):
            return False
        come = self._sums_so_far(base).between(since, self.last)
        return bool((come >= total - _SLACK).all())

    def rest(self) -> None:
        """Let go of the sums of this year; asked again, they are made again."""
        self._joined.clear()

    def _sums_so_far(self, base: float) -> _Sums:
        known = self._joined.get(base)
        if known is None:
            assert self.so_far is not None
            assert self.last is not None
            year = date.fromordinal(self.last).year
            end = date(year + _AHEAD_YEARS, 1, 1).toordinal()
            days = np.arange(self.first, end, dtype=np.int64)
            table = spread_out(self.daily(base), days, year, self._follow)
            part = slice(self.first - self.so_far.first_day, self.last + 1 - self.so_far.first_day)
            low, high = self.so_far.min_c[part], self.so_far.max_c[part]
            been = sine_sums(low + self._warmer_c, high + self._warmer_c, base)
            count = self.last + 1 - self.first
            table[:, :count] = np.where(np.isnan(been), table[:, :count], been)
            known = self._joined[base] = _Sums(self.first, table)
        return known


def spread_out(daily: Floats, days: Ints, year_0: int, follow: bool) -> Floats:
    """Each member's 365 values on real days: member k has its own year in ``year_0``, and the next ones after it.

    Where members do not follow each other, each has its own year again and again.
    Source: 29 February has what the 28th has, as `calendar`.
    """
    years, indexes = calendar(days)
    if not follow:
        return daily[:, indexes]
    members = len(daily)
    rows = (np.arange(members)[:, None] + (years - year_0)[None, :]) % members
    table: Floats = daily[rows, indexes[None, :]]
    return table
