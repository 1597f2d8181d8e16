"""The season of a place of which only monthly normals are known, and perhaps the household's own frost dates."""

from bisect import bisect_left
from calendar import isleap
from collections.abc import Callable
from datetime import date
from itertools import accumulate

from app.errors import OutOfRange
from app.trade.climate.daylength import day_hours, day_longer_than, day_shorter_than
from app.trade.climate.days import FIRST_JULY, MONTH_DAYS, YEAR, day_of, index_in_year, index_of
from app.trade.climate.degreedays import expected
from app.trade.climate.frost import FrostYear, OwnFrost, frost_chance, own_frost_shift_days
from app.trade.climate.monthly import at_altitude_c, daily_curve, mean_c
from app.trade.climate.normals import Normals, Scatter
from app.trade.climate.season import Spread
from app.trade.climate.soil import soil_curve_c

_ONE_IN_TEN = 1.2815515655446004
"""The normal score of 90 %."""
_MIDSUMMER_N = index_in_year(7, 15)
_MOST_YEARS = 3


class NormalsSeason:
    """Answers a `Season` from twelve monthly means, for one place. Deterministic; answers are kept once given."""

    def __init__(
        self,
        latitude_deg: float,
        normals: Normals,
        scatter: Scatter,
        altitude_m: float | None = None,
        last_frost: OwnFrost | None = None,
        first_frost: OwnFrost | None = None,
    ) -> None:
        if not -90 <= latitude_deg <= 90:
            raise OutOfRange("A latitude", latitude_deg, "-90 to 90 degrees")
        self.latitude_deg = latitude_deg
        self.normals = normals
        self.scatter = scatter
        self._own = {"last frost": last_frost, "first frost": first_frost}
        self._start = 0 if latitude_deg >= 0 else FIRST_JULY
        self._midsummer = (_MIDSUMMER_N + self._start) % YEAR
        self.min_c = self._curve(normals.min_c, altitude_m)
        self.mean_c = self._curve(mean_c(normals.max_c, normals.min_c), altitude_m)
        self.soil_c = soil_curve_c(self.mean_c)
        self._chances = self._night_chances()
        memory = scatter.monthly_memory if normals.min_sd_c else scatter.memory
        turn = self._midsummer
        self._frost = FrostYear(self._chances[turn:] + self._chances[:turn], memory)
        self._marks: dict[tuple[str, float, int], int | None] = {}
        self._sums: dict[tuple[float, int], _Sums] = {}
        self._ways: dict[str, Callable[[float, int], int | None]] = {
            "last frost": self._last_frost,
            "first frost": self._first_frost,
            "soil above": self._soil_above,
            "soil below": self._soil_below,
            "day longer than": lambda hours, year: day_longer_than(self.latitude_deg, hours, year),
            "day shorter than": lambda hours, year: day_shorter_than(self.latitude_deg, hours, year),
        }

    def _curve(self, monthly: tuple[float, ...], altitude_m: float | None) -> tuple[float, ...]:
        curve = daily_curve(monthly)
        here = self.normals.altitude_m
        if altitude_m is None or here is None:
            return curve
        return tuple(at_altitude_c(value, here, altitude_m) for value in curve)

    def _night_chances(self) -> list[float]:
        by_month = self.normals.min_sd_c or (self.scatter.night_sd_c,) * 12
        spreads = [sd for sd, days in zip(by_month, MONTH_DAYS, strict=True) for _ in range(days)]
        return [frost_chance(mean, sd) for mean, sd in zip(self.min_c, spreads, strict=True)]

    # ── Marks ─────────────────────────────────────────────────────────────────────────────────────────────────────

    def mark(self, name: str, value: float, year: int) -> int | None:
        """The day of a season's mark in the season ``year``; None where it never comes there.

        "last frost", "first frost" (chance in %): from the household's own date where given, else from `FrostYear`.
        "soil above", "soil below" (°C at 10 cm): where the normal curve of `soil_curve_c` passes it for good; the
        coldest (warmest) day where it is always above (below). "day longer than", "day shorter than" (hours): as
        `day_longer_than`. Season years as in `app.trade.climate.days`.
        Source: the functions named.
        Raises: ValueError for a mark of another name; OutOfRange for a value that cannot be.
        """
        asked = (name, value, year)
        if asked not in self._marks:
            if name not in self._ways:
                raise ValueError(f"{name!r} is no mark of the season; there are {', '.join(self._ways)}")
            self._marks[asked] = self._ways[name](value, year)
        return self._marks[asked]

    def _last_frost(self, percent: float, year: int) -> int | None:
        own = self._own["last frost"]
        if own is not None:
            return self._own_day(own, percent, self.scatter.last_frost_sd_days, self._midsummer_index() - YEAR, year)
        found = self._frost.last(percent)
        return None if found is None else day_of(year, self._midsummer_index() - YEAR + found)

    def _first_frost(self, percent: float, year: int) -> int | None:
        own = self._own["first frost"]
        if own is not None:
            return self._own_day(own, percent, self.scatter.first_frost_sd_days, self._midsummer_index(), year)
        found = self._frost.first(percent)
        return None if found is None else day_of(year, self._midsummer_index() + found)

    def _midsummer_index(self) -> int:
        """The index of midsummer, counted from 1 January of the season year: in the south it lies in the next one."""
        return _MIDSUMMER_N + self._start

    def _own_day(self, own: OwnFrost, percent: float, sd_days: float, from_index: int, year: int) -> int:
        index = index_in_year(own.month, own.day)
        middle = from_index + (index - from_index) % YEAR
        return day_of(year, middle) + own_frost_shift_days(own, percent, sd_days)

    def _soil_above(self, value_c: float, year: int) -> int | None:
        warmest = self._warmest()
        if self.soil_c[warmest % YEAR] < value_c:
            return None
        back = range(warmest, warmest - YEAR, -1)
        coldest = min(back, key=lambda index: self.soil_c[index % YEAR])
        below = (index + 1 for index in back if self.soil_c[index % YEAR] < value_c)
        return day_of(year, next(below, coldest))

    def _soil_below(self, value_c: float, year: int) -> int | None:
        warmest = self._warmest()
        ahead = (index for index in range(warmest, warmest + YEAR) if self.soil_c[index % YEAR] < value_c)
        found = next(ahead, None)
        return None if found is None else day_of(year, found)

    def _warmest(self) -> int:
        return max(range(self._start, self._start + YEAR), key=lambda index: self.soil_c[index % YEAR])

    # ── Warmth ────────────────────────────────────────────────────────────────────────────────────────────────────

    def warmth(self, total: float, base: float, since: int) -> Spread | None:
        """When ``total`` degree-days above ``base`` °C have come, the day ``since`` counted: in a warm year, an average
        and a cold one (10, 50 and 90 in 100 years have reached it).

        Each day gives `expected` of the normal curve; a warm and a cold year run 1.28 standard deviations of a growing
        season's mean temperature above and below it. None where an average year does not hold so much warmth.
        Valid: bases of -20 to 40 °C.
        Source: `expected`; the spread between years stands, with its source, in the file of normals.
        Raises: OutOfRange for a sum below 0 or such a base.
        """
        if total < 0:
            raise OutOfRange("A sum of warmth in degree-days", total, "0 or more")
        if not -20 <= base <= 40:
            raise OutOfRange("A base temperature", base, "-20 to 40 °C")
        average = self._sum(base, 0)
        if total > average.common[-1]:
            return None
        warm, cold = self._sum(base, 1), self._sum(base, -1)
        return Spread(warm.reached(total, since), average.reached(total, since), cold.reached(total, since))

    def _sum(self, base: float, side: int) -> "_Sums":
        asked = (base, side)
        if asked not in self._sums:
            shift = side * _ONE_IN_TEN * self.scatter.year_sd_c
            self._sums[asked] = _Sums([expected(mean + shift, self.scatter.day_sd_c, base) for mean in self.mean_c])
        return self._sums[asked]

    # ── For the month page ────────────────────────────────────────────────────────────────────────────────────────

    def frost_percent(self, day: int) -> float:
        """The chance (%) of a frost in the night of a day number.

        Source: `frost_chance` of the normal curve.
        """
        return 100.0 * self._chances[index_of(day)]

    def daylight_hours(self, day: int) -> float:
        """The hours between sunrise and sunset of a day number.

        Source: `day_hours`.
        """
        return day_hours(self.latitude_deg, day)


class _Sums:
    """A year's warmth summed from 1 January, for common and for leap years."""

    def __init__(self, daily: list[float]) -> None:
        self.common = list(accumulate(daily))
        leap_day = index_in_year(2, 28)
        self.leap = list(accumulate([*daily[: leap_day + 1], *daily[leap_day:]]))

    def reached(self, total: float, since: int) -> int:
        """The first day on which the sum from ``since`` on, itself included, is ``total`` or more."""
        when = date.fromordinal(since)
        year, passed = when.year, since - date(when.year, 1, 1).toordinal()
        if total > _MOST_YEARS * self.common[-1]:
            return since + _MOST_YEARS * YEAR
        wanted = total + (self._of(year)[passed - 1] if passed else 0.0)
        while wanted > self._of(year)[-1]:
            wanted -= self._of(year)[-1]
            year += 1
        found = date(year, 1, 1).toordinal() + bisect_left(self._of(year), wanted)
        return max(found, since)

    def _of(self, year: int) -> list[float]:
        return self.leap if isleap(year) else self.common
