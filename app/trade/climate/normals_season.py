"""The season of a place of which only monthly normals are known, and perhaps the household's own frost dates."""

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from app.errors import OutOfRange
from app.trade.climate.daylength import day_hours, day_longer_than, day_shorter_than
from app.trade.climate.days import FIRST_JULY, MONTH_DAYS, YEAR, day_of, index_in_year, index_of
from app.trade.climate.degreedays import YearSum, expected
from app.trade.climate.ensemble import Ensemble
from app.trade.climate.frost import FrostYear, OwnFrost, frost_chance, moved_nights, own_frost_shift_days
from app.trade.climate.lie import Lie
from app.trade.climate.monthly import at_altitude_c, daily_curve, mean_c
from app.trade.climate.normals import Normals, Scatter
from app.trade.climate.record import DailyRecord, Floats
from app.trade.climate.season import Basis, Spread
from app.trade.climate.soil import soil_curve_c
from app.trade.climate.told import came, span, year_so_far

_ONE_IN_TEN = 1.2815515655446004
"""The normal score of 90 %."""
_MIDSUMMER_N = index_in_year(7, 15)


class NormalsSeason:
    """Answers a `Season` from twelve monthly means, for one place. Deterministic; answers are kept once given.

    ``so_far`` are days that have been, of which dates by warmth take account; ``lie`` is the lie of the land. The
    365 daily normals ``min_c``, ``max_c``, ``mean_c``, ``soil_c`` and ``rain_mm`` (a day; empty where not known) are
    those of the flat, in the screen.
    """

    def __init__(
        self,
        latitude_deg: float,
        normals: Normals,
        scatter: Scatter,
        altitude_m: float | None = None,
        last_frost: OwnFrost | None = None,
        first_frost: OwnFrost | None = None,
        *,
        so_far: DailyRecord | None = None,
        lie: Lie = Lie(),  # noqa: B008 - a constant
        basis: Basis | None = None,
    ) -> None:
        if not -90 <= latitude_deg <= 90:
            raise OutOfRange("A latitude", latitude_deg, "-90 to 90 degrees")
        self.latitude_deg = latitude_deg
        self.normals = normals
        self.scatter = scatter
        self.lie = lie
        self.basis = basis or Basis("months", 0, None, None, f"Reckoned from monthly means: {normals.name}.")
        self._own = {"last frost": last_frost, "first frost": first_frost}
        self._start = 0 if latitude_deg >= 0 else FIRST_JULY
        self._midsummer = (_MIDSUMMER_N + self._start) % YEAR
        self.min_c = self._curve(normals.min_c, altitude_m)
        self.mean_c = self._curve(mean_c(normals.max_c, normals.min_c), altitude_m)
        self.max_c = self._curve(normals.max_c, altitude_m)
        self.rain_mm = _rain_curve(normals.rain_mm)
        self.soil_c = soil_curve_c([mean + lie.warmer_c for mean in self.mean_c])
        nights, spreads = self._nights()
        turn = self._midsummer
        self._frost = _frost_year(nights[turn:] + nights[:turn], spreads[turn:] + spreads[:turn], scatter.season_share)
        chances = [frost_chance(mean, sd) for mean, sd in zip(nights, spreads, strict=True)]
        self._chances = moved_nights(chances, self._anchors())
        self._marks: dict[tuple[str, float, int], int | None] = {}
        self._turns: dict[tuple[str, float], int | None] = {}
        self._sums: dict[float, tuple[YearSum, YearSum, YearSum]] = {}
        self._ensemble = Ensemble(self._three_years, False, so_far, lie.warmer_c)
        self._ways: dict[str, Callable[[float, int], int | None]] = {
            "last frost": self._last_frost,
            "first frost": self._first_frost,
            "soil above": lambda c, year: self._soil_day("soil above", self._soil_above, c, year),
            "soil below": lambda c, year: self._soil_day("soil below", self._soil_below, c, year),
            "day longer than": lambda hours, year: day_longer_than(self.latitude_deg, hours, year),
            "day shorter than": lambda hours, year: day_shorter_than(self.latitude_deg, hours, year),
        }

    def _curve(self, monthly: tuple[float, ...], altitude_m: float | None) -> tuple[float, ...]:
        curve = daily_curve(monthly)
        here = self.normals.altitude_m
        if altitude_m is None or here is None:
            return curve
        return tuple(at_altitude_c(value, here, altitude_m) for value in curve)

    def _nights(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """The mean lowest temperature of each night as the plot lies, and its scatter in one garden (°C)."""
        by_month = self.normals.min_sd_c or (self.scatter.night_sd_c,) * 12
        wider = self.scatter.station_factor if self.normals.grid else 1.0
        spreads = tuple(wider * sd for sd, days in zip(by_month, MONTH_DAYS, strict=True) for _ in range(days))
        return tuple(mean - self.lie.hollow_c for mean in self.min_c), spreads

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

    def _anchors(self) -> list[tuple[int, int]]:
        """The household's middle frost dates beside those of the normals, as indexes, to carry the nights between."""
        estimates = {"last frost": self._frost.last(50), "first frost": self._frost.first(50)}
        anchors = []
        for name, offset in estimates.items():
            own = self._own[name]
            if offset is not None:
                index = (self._midsummer + offset) % YEAR
                anchors.append((index if own is None else index_in_year(own.month, own.day), index))
        return anchors

    def _midsummer_index(self) -> int:
        """The index of midsummer, counted from 1 January of the season year: in the south it lies in the next one."""
        return _MIDSUMMER_N + self._start

    def _own_day(self, own: OwnFrost, percent: float, sd_days: float, from_index: int, year: int) -> int:
        index = index_in_year(own.month, own.day)
        middle = from_index + (index - from_index) % YEAR
        return day_of(year, middle) + own_frost_shift_days(own, percent, sd_days)

    def _soil_day(self, name: str, turn: Callable[[float], int | None], value_c: float, year: int) -> int | None:
        asked = (name, value_c)
        if asked not in self._turns:
            self._turns[asked] = turn(value_c)
        index = self._turns[asked]
        return None if index is None else day_of(year, index)

    def _soil_above(self, value_c: float) -> int | None:
        warmest = self._warmest()
        if self.soil_c[warmest % YEAR] < value_c:
            return None
        back = range(warmest, warmest - YEAR, -1)
        coldest = min(back, key=lambda index: self.soil_c[index % YEAR])
        return next((index + 1 for index in back if self.soil_c[index % YEAR] < value_c), coldest)

    def _soil_below(self, value_c: float) -> int | None:
        warmest = self._warmest()
        ahead = range(warmest, warmest + YEAR)
        return next((index for index in ahead if self.soil_c[index % YEAR] < value_c), None)

    def _warmest(self) -> int:
        return max(range(self._start, self._start + YEAR), key=lambda index: self.soil_c[index % YEAR])

    # ── Warmth ────────────────────────────────────────────────────────────────────────────────────────────────────

    def warmth(self, total: float, base: float, since: int) -> Spread | None:
        """When ``total`` degree-days above ``base`` °C have come, the day ``since`` counted: in a warm year, an average
        and a cold one (10, 50 and 90 in 100 years have reached it).

        Each day gives `expected` of the normal curve; a warm and a cold year run 1.28 standard deviations of a growing
        season's mean temperature above and below it. Days that have been count as they were, so that the spread is
        that of the days still to come. None where an average year does not hold so much warmth.
        Valid: bases of -20 to 40 °C.
        Source: `expected`; the spread between years stands, with its source, in the file of normals.
        Raises: OutOfRange for a sum below 0 or such a base.
        """
        check_warmth(total, base)
        warm, average, cold = self._sums.get(base) or self._sum(base)
        if self._ensemble.covers(since):
            if total > average.year and not self._ensemble.has_come(total, base, since):
                return None
            low, best, high = (int(day) for day in self._ensemble.reached(total, base, since))
            return Spread(low, best, high)
        if total > average.year:
            return None
        return Spread(warm.reached(total, since), average.reached(total, since), cold.reached(total, since))

    def why_warmth(self, total: float, base: float, since: int) -> str:
        """What a date by warmth rests on, and how this year so far has moved it; "" where there is no date.

        Source: `warmth`, beside what it would be without the days that have been.
        """
        found = self.warmth(total, base, since)
        if found is None:
            return ""
        if self._ensemble.has_come(total, base, since):
            return came(found.best)
        said = f"reached {span(found.low, found.high)} in 8 of 10 years, by monthly means"
        if self._ensemble.covers(since):
            _, average, _ = self._sums[base]
            return f"{said}; {year_so_far(found.best - average.reached(total, since))}"
        return said

    def _three_years(self, base: float) -> Floats:
        """The degree-days of each day of a warm year, an average and a cold one."""
        by = _ONE_IN_TEN * self.scatter.year_sd_c
        warmer, spread = self.lie.warmer_c, self.scatter.day_sd_c
        return np.array(
            [[expected(mean + warmer + shift, spread, base) for mean in self.mean_c] for shift in (by, 0.0, -by)]
        )

    def _sum(self, base: float) -> tuple[YearSum, YearSum, YearSum]:
        warm, average, cold = (YearSum(year) for year in self._ensemble.daily(base).tolist())
        self._sums[base] = warm, average, cold
        return self._sums[base]

    # ── For the month page ────────────────────────────────────────────────────────────────────────────────────────

    def frost_percent(self, day: int) -> float:
        """The chance (%) of a frost in the night of a day number.

        Where the household gave its own frost dates, the year's nights are moved so that their middles fall on them.
        Source: `frost_chance` of the normal curve, `moved_nights`.
        """
        return 100.0 * self._chances[index_of(day)]

    def daylight_hours(self, day: int) -> float:
        """The hours between sunrise and sunset of a day number.

        Source: `day_hours`.
        """
        return day_hours(self.latitude_deg, day)


@lru_cache(maxsize=16)
def _frost_year(mean_min_c: tuple[float, ...], sd_c: tuple[float, ...], season_share: float) -> FrostYear:
    """A `FrostYear`, kept for the next season with the same nights (a day typed makes the season anew)."""
    return FrostYear(mean_min_c, sd_c, season_share)


def check_warmth(total: float, base: float) -> None:
    """Say so where a sum of warmth or its base can't be.

    Source: none; the valid range of `NormalsSeason.warmth`.
    Raises: OutOfRange for a sum below 0, or a base outside -20 to 40 °C.
    """
    if total < 0:
        raise OutOfRange("A sum of warmth in degree-days", total, "0 or more")
    if not -20 <= base <= 40:
        raise OutOfRange("A base temperature", base, "-20 to 40 °C")


def _rain_curve(monthly_mm: tuple[float, ...]) -> tuple[float, ...]:
    """Rain a day (mm) on each of the 365 days; empty where the months are not known."""
    if not monthly_mm:
        return ()
    curve = daily_curve(tuple(rain / days for rain, days in zip(monthly_mm, MONTH_DAYS, strict=True)))
    return tuple(max(0.0, rain) for rain in curve)
