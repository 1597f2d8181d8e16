"""Degree-days: a day's warmth between thresholds, by three methods; expected from a mean curve; summed over years."""

import math
from bisect import bisect_left
from calendar import isleap
from collections.abc import Sequence
from datetime import date
from itertools import accumulate

from app.errors import OutOfRange
from app.trade.climate.days import YEAR, index_in_year

_MOST_YEARS = 3


def _check(min_c: float, max_c: float, base_c: float, upper_c: float | None) -> None:
    if max_c < min_c:
        raise OutOfRange("A daily highest temperature", max_c, f"not below the lowest, {min_c:g} °C")
    if upper_c is not None and upper_c <= base_c:
        raise OutOfRange("An upper threshold", upper_c, f"above the base, {base_c:g} °C")


def _above(min_c: float, max_c: float, threshold_c: float) -> float:
    """The day's mean of max(T - threshold, 0) under one sine wave."""
    mean, half = (max_c + min_c) / 2.0, (max_c - min_c) / 2.0
    if threshold_c >= max_c:
        return 0.0
    if threshold_c <= min_c:
        return mean - threshold_c
    angle = math.asin(max(-1.0, min(1.0, (threshold_c - mean) / half)))  # rounding may carry it past either end
    return ((mean - threshold_c) * (math.pi / 2.0 - angle) + half * math.cos(angle)) / math.pi


def single_sine(min_c: float, max_c: float, base_c: float, upper_c: float | None = None) -> float:
    """A day's degree-days under one sine wave through its lowest and highest, with a horizontal cutoff at ``upper_c``.

    F(c) = mean over the day of max(T - c, 0); the answer is F(base) - F(upper). Any one scale of temperature will do.
    Source: Baskerville and Emin 1969 (from memory); horizontal cutoff, UC IPM glossary (ipm.ucdavis.edu, ddmoreinfo).
    Raises: OutOfRange when the highest is below the lowest, or the upper threshold not above the base.
    """
    _check(min_c, max_c, base_c, upper_c)
    return _above(min_c, max_c, base_c) - (0.0 if upper_c is None else _above(min_c, max_c, upper_c))


def averaging_1(min_c: float, max_c: float, base_c: float) -> float:
    """Degree-days by the mean: max((highest + lowest) / 2, base) - base.

    Source: McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, method 1.
    Raises: OutOfRange when the highest is below the lowest.
    """
    _check(min_c, max_c, base_c, None)
    return max((max_c + min_c) / 2.0, base_c) - base_c


def averaging_2(min_c: float, max_c: float, base_c: float, upper_c: float | None = None) -> float:
    """Degree-days by the mean of highest and lowest, each first raised to the base, lowered to the upper.

    Never less than method 1 without an upper threshold; a sum must be used with the method it was fitted by.
    Source: McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, method 2.
    Raises: OutOfRange when the highest is below the lowest, or the upper threshold not above the base.
    """
    _check(min_c, max_c, base_c, upper_c)
    low, high = max(min_c, base_c), max(max_c, base_c)
    if upper_c is not None:
        low, high = min(low, upper_c), min(high, upper_c)
    return (low + high) / 2.0 - base_c


def expected(mean_c: float, sd_c: float, base_c: float) -> float:
    """The degree-days to be expected of a day whose mean varies normally: s phi(z) + (M - a) Phi(z), z = (M - a) / s.

    Summing a smooth curve without this loses 4 to 12 % of a year's warmth, and nearly all of March in the cool north.
    Valid: sd above 0; agrees with method 1 counted from days within 2.5 % of a year's sum.
    Source: the mean of a normal variable cut off below; compared with daily series of England 1991-2020.
    Raises: OutOfRange when sd is not above 0.
    """
    if not sd_c > 0:
        raise OutOfRange("A standard deviation in °C", sd_c, "above 0")
    over = mean_c - base_c
    z = over / sd_c
    density = math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)
    return max(0.0, sd_c * density + over * 0.5 * math.erfc(-z / math.sqrt(2.0)))


class YearSum:
    """A year's warmth, the same every year, summed once from 1 January, so that a date is two look-ups and no loop.

    Source: prefix sums; 29 February has the warmth of the 28th.
    """

    def __init__(self, daily: Sequence[float]) -> None:
        leap_day = index_in_year(2, 28)
        self._common = list(accumulate(daily))
        self._leap = list(accumulate([*daily[: leap_day + 1], *daily[leap_day:]]))
        self.year = self._common[-1]
        """The degree-days of a common year."""

    def reached(self, total: float, since: int) -> int:
        """The first day on which the sum from the day ``since`` on, itself counted, is ``total`` or more.

        Three years after ``since`` where it takes longer: nothing is planned on that.
        Source: the definition of a sum.
        """
        if total > _MOST_YEARS * self.year:
            return since + _MOST_YEARS * YEAR
        year = date.fromordinal(since).year
        start = date(year, 1, 1).toordinal()
        sums = self._leap if isleap(year) else self._common
        wanted = total + (sums[since - start - 1] if since > start else 0.0)
        while wanted > sums[-1]:
            wanted -= sums[-1]
            start += len(sums)
            year += 1
            sums = self._leap if isleap(year) else self._common
        return max(start + bisect_left(sums, wanted), since)
