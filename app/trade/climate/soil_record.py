"""When the soil passes a temperature for good, year by year on record: air smoothed over a month, damped and late."""

import math

import numpy as np

from app.trade.climate.days import YEAR, day_of
from app.trade.climate.ensemble import spread_out
from app.trade.climate.ranks import weibull
from app.trade.climate.record import DailyRecord, Floats
from app.trade.climate.soil import DEPTH_M, damping_depth_m

AROUND_DAYS = 15
"""Air is smoothed over so many days on either side: a mild week in January warms no soil for good. Own choice."""
_DIFFUSIVITY_MM2_S = 0.6
_MARGIN_DAYS = AROUND_DAYS + 4
_ANY_YEAR = 2002
"""A year that stands for all of which nothing is known: there is no 29 February in it, nor before nor after it."""


class SoilOnRecord:
    """The days on which soil at 10 cm passes a temperature for good, as an ensemble: one for each year on record.

    ``air_c`` are the members' 365 daily means, each year followed by the next round the ring; ``warmest`` is the index,
    from 1 January of the season year on, of the time when soil is warmest, between which and the next it warms again.
    Days of ``so_far`` count in their own season year as they were.
    Source: `soil_curve_c` for the damping and the delay; the running mean of air, common practice.
    """

    def __init__(self, air_c: Floats, warmest: int, so_far: DailyRecord | None = None, warmer_c: float = 0.0) -> None:
        self._air_c = air_c
        self._warmest = warmest
        self._so_far = so_far
        self._warmer_c = warmer_c
        self._tables: dict[tuple[int, bool], Floats] = {}

    def above(self, value_c: float, year: int) -> int | None:
        """The middle day, among the years, from which on the soil stays at or above ``value_c`` till it is warmest.

        Where it is never below, the coldest day. None where more than half of the years never are so warm.
        Source: as the class.
        """
        table = self._table(year, back=True)
        below = table < value_c
        last = YEAR - 1 - np.argmax(below[:, ::-1], axis=1)
        at = np.where(below.any(axis=1), last + 1, np.argmin(table, axis=1)).astype(np.float64)
        at[below[:, -1]] = math.inf
        return self._middle(at, year, self._warmest - YEAR + 1)

    def below(self, value_c: float, year: int) -> int | None:
        """The middle day, among the years, on which the soil first falls below ``value_c`` after it was warmest.

        None where in more than half of the years it does not.
        Source: as the class.
        """
        below = self._table(year, back=False) < value_c
        at = np.where(below.any(axis=1), np.argmax(below, axis=1), math.inf)
        return self._middle(at, year, self._warmest)

    def _middle(self, at: Floats, year: int, first: int) -> int | None:
        found = weibull(np.sort(at).tolist(), 50.0)
        if math.isinf(found):
            return None
        days = math.ceil(found - 1e-9)
        return day_of(year, first) + days if self._knows(year) else day_of(year, first + days)

    def _table(self, year: int, *, back: bool) -> Floats:
        """Soil on the 365 days that end (or begin) when it is warmest, a row for each member."""
        knows = self._knows(year)
        asked = (year if knows else _ANY_YEAR, back)
        if asked not in self._tables:
            first = day_of(asked[0], self._warmest - YEAR + 1 if back else self._warmest)
            days = np.arange(first - _MARGIN_DAYS, first + YEAR + AROUND_DAYS, dtype=np.int64)
            air = spread_out(self._air_c, days, asked[0], follow=True)
            if knows and self._so_far is not None:
                air = _with_days(air, int(days[0]), self._so_far, self._warmer_c)
            self._tables[asked] = _soil(air)
        return self._tables[asked]

    def _knows(self, year: int) -> bool:
        """Whether days that have been fall into the two half-years about a season year's warmest time."""
        last = self._so_far.last_known if self._so_far is not None else None
        if last is None:
            return False
        first = day_of(year, self._warmest - YEAR + 1) - _MARGIN_DAYS
        return first <= last < first + 2 * YEAR


def _with_days(air: Floats, first: int, record: DailyRecord, warmer_c: float) -> Floats:
    """The members' air with the days that have been put in their places."""
    low, high = max(first, record.first_day), min(first + air.shape[1], record.last_day + 1)
    if high <= low:
        return air
    part = slice(low - record.first_day, high - record.first_day)
    been = (record.min_c[part] + record.max_c[part]) / 2.0 + warmer_c
    place = slice(low - first, high - first)
    air[:, place] = np.where(np.isnan(been), air[:, place], been)
    return air


def _soil(air: Floats) -> Floats:
    """Air smoothed, then damped and late as the annual wave at 10 cm."""
    sums = np.concatenate([np.zeros((len(air), 1)), np.cumsum(air, axis=1)], axis=1)
    width = 2 * AROUND_DAYS + 1
    smooth = (sums[:, width:] - sums[:, :-width]) / width
    ratio = DEPTH_M / damping_depth_m(_DIFFUSIVITY_MM2_S)
    whole, part = divmod(ratio * YEAR / (2.0 * math.pi), 1.0)
    late = int(whole)
    end = smooth.shape[1]
    start = end - YEAR
    shifted = (1.0 - part) * smooth[:, start - late : end - late] + part * smooth[:, start - late - 1 : end - late - 1]
    mean = air.mean(axis=1, keepdims=True)
    table: Floats = mean + math.exp(-ratio) * (shifted - mean)
    return table
