"""Frost dates counted on a record: the first and the last of every cold season, and the date at a chance."""

import math
from datetime import date
from typing import Literal, NamedTuple

import numpy as np

from app.errors import OutOfRange
from app.trade.climate.days import YEAR
from app.trade.climate.ranks import weibull
from app.trade.climate.record import MISSING_DAYS, DailyRecord, Floats, calendar

Which = Literal["last frost", "first frost"]


class FrostOnRecord(NamedTuple):
    """One season's frost: its ``day`` (None where none came) and how many nights of the time at risk are missing.

    ``year`` is the season year (see `app.trade.climate.days`). ``over``: the time at risk lies wholly on record.
    """

    year: int
    day: int | None
    missing: int
    over: bool

    @property
    def counts(self) -> bool:
        """Whether the season counts: over, and fewer than ten nights at risk missing."""
        return self.over and self.missing < MISSING_DAYS


class _Cold(NamedTuple):
    """A cold season from midsummer to midsummer: its first day, its nights (NaN where not known), its frosts."""

    year: int
    first: int
    nights: Floats
    frosts: list[int]


def frosts_on_record(
    record: DailyRecord, which: Which, *, north: bool = True, threshold_c: float = 0.0
) -> tuple[FrostOnRecord, ...]:
    """The last (or first) night below ``threshold_c`` of every cold season that the record touches, oldest first.

    A frost is a lowest temperature strictly below the threshold. Cold seasons part at midsummer, 15 July in the north
    and 15 January in the south. The time at risk runs from the earliest to the latest such date of any season; what
    counts as missing is only what could have changed the answer: nights after the last frost, before the first.
    A season without frost is one without frost, not a missing one.
    Source: Utah Climate Center, freeze dates (help page), for the ten missing days; own choice of halves.
    """
    cold = _cold_seasons(record, north, threshold_c)
    last = which == "last frost"
    ends = [(one.frosts[-1] if last else one.frosts[0]) - one.first for one in cold if one.frosts]
    early, late = (min(ends), max(ends)) if ends else (0, YEAR - 1)
    found = []
    for one in cold:
        if not one.frosts:
            day, risk = None, one.nights[early : late + 1]
        elif last:
            day = one.frosts[-1]
            risk = one.nights[day - one.first : late + 1]
        else:
            day = one.frosts[0]
            risk = one.nights[early : day - one.first + 1]
        over = one.first + late <= record.last_day
        year = one.year if north else one.year - 1 + last
        found.append(FrostOnRecord(year + (north and last), day, int(np.isnan(risk).sum()), over))
    return tuple(found)


def _cold_seasons(record: DailyRecord, north: bool, threshold_c: float) -> list[_Cold]:
    """The cold seasons with any night on record, by the calendar year in which they begin."""
    found: list[_Cold] = []
    if not len(record):
        return found
    month = 7 if north else 1
    for year in range(date.fromordinal(record.first_day).year - 1, date.fromordinal(record.last_day).year + 1):
        first, end = date(year, month, 15).toordinal(), date(year + 1, month, 15).toordinal()
        low, high = max(first, record.first_day), min(end, record.last_day + 1)
        nights = np.full(end - first, np.nan)
        if high > low:
            nights[low - first : high - first] = record.min_c[low - record.first_day : high - record.first_day]
        if np.isnan(nights).all():
            continue
        frosts = [first + int(at) for at in np.flatnonzero(nights < threshold_c)]
        found.append(_Cold(year, first, nights, frosts))
    return found


class FrostDates:
    """The dates of one kind of frost over the seasons that count, as days since the season year's beginning, ranked.

    A last frost that never came lies before all others, a first frost that never came after them.
    Source: `weibull`; NOAA's older method takes seasons without a freeze as a share of all, not as missing.
    """

    def __init__(self, seasons: tuple[FrostOnRecord, ...], which: Which, *, north: bool = True) -> None:
        self.seasons = tuple(one for one in seasons if one.counts)
        self._north = north
        never = -math.inf if which == "last frost" else math.inf
        days = [never if one.day is None else one.day - self._start(one.year) + 1 for one in self.seasons]
        self.ranked = sorted(float(day) for day in days)

    def _start(self, year: int) -> int:
        return date(year, 1 if self._north else 7, 1).toordinal()

    @property
    def without(self) -> int:
        """How many of the seasons that count had no such frost."""
        return sum(one.day is None for one in self.seasons)

    def day_of_year(self, percent: float) -> float | None:
        """The day at a chance, counted from the season year's first day as 1; None: more years than that had none.

        Source: `weibull`.
        Raises: OutOfRange for a chance that is none, or where no season counts.
        """
        found = weibull(self.ranked, percent)
        return None if math.isinf(found) else found

    def day(self, percent: float, year: int) -> int | None:
        """The same as a day number of the season ``year``: the first whole day that does not lie before it.

        Source: `weibull`.
        Raises: OutOfRange as `day_of_year`.
        """
        found = self.day_of_year(percent)
        return None if found is None else self._start(year) + math.ceil(found - 1e-9) - 1


def frost_shares(record: DailyRecord, threshold_c: float = 0.0, around_days: int = 7) -> Floats:
    """For each of the 365 days the share of nights on record below the threshold, within so many days around it.

    Source: the definition of a relative frequency; the window of a fortnight is our own choice.
    Raises: OutOfRange where no night is known.
    """
    if np.isnan(record.min_c).all():
        raise OutOfRange("The number of nights on record", 0, "1 or more")
    known = ~np.isnan(record.min_c)
    indexes = calendar(record.days)[1][known]
    nights = np.bincount(indexes, minlength=YEAR).astype(np.float64)
    frosts = np.bincount(indexes, record.min_c[known] < threshold_c, YEAR)
    near = range(-around_days, around_days + 1)
    counted = sum((np.roll(nights, by) for by in near), np.zeros(YEAR))
    found = sum((np.roll(frosts, by) for by in near), np.zeros(YEAR))
    return np.where(counted > 0, found / np.maximum(counted, 1.0), frosts.sum() / nights.sum())
