"""The season of a place of which days are on record: counted where the years suffice, from monthly means where not."""

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from app.trade.climate.days import MONTH_DAYS, MONTH_STARTS, index_of
from app.trade.climate.ensemble import Ensemble, sine_sums
from app.trade.climate.frost import OwnFrost
from app.trade.climate.frost_record import FrostDates, Which, frost_shares, frosts_on_record
from app.trade.climate.lie import Lie
from app.trade.climate.monthly import daily_curve
from app.trade.climate.normals import Normals, Scatter, Twelve
from app.trade.climate.normals_season import NormalsSeason, check_warmth
from app.trade.climate.ranks import weibull
from app.trade.climate.record import ENOUGH_YEARS, DailyRecord, Floats, Ints, calendar
from app.trade.climate.season import Basis, Spread
from app.trade.climate.soil_record import SoilOnRecord
from app.trade.climate.told import came, span, year_so_far

_WET_MM = 1.0
"""A wet day has so much rain, or more. Source: Met Office, days of rain >= 1 mm."""


class RecordSeason(NormalsSeason):
    """Answers a `Season` from days on record. Pure; deterministic; answers are kept once given.

    From ten whole years on, dates by warmth are those of an ensemble: this year so far, joined to the rest of each year
    on record; and the curves are those of the record's own monthly means. From ten cold seasons on, frost dates are
    counted. Below that, ``normals`` stand in (with ``altitude_m`` and the household's own frost dates), and the record
    gives the year so far.
    Source: `Ensemble`, `FrostDates`, `NormalsSeason`.
    Raises: OutOfRange for a latitude beyond the poles.
    """

    def __init__(
        self,
        latitude_deg: float,
        record: DailyRecord,
        normals: Normals,
        scatter: Scatter,
        altitude_m: float | None = None,
        last_frost: OwnFrost | None = None,
        first_frost: OwnFrost | None = None,
        *,
        lie: Lie = Lie(),  # noqa: B008 - a constant
        said: str = "",
        before: "RecordSeason | None" = None,
    ) -> None:
        self.record = record
        self.years = tuple(one.year for one in record.years() if one.counts)
        self.is_counted = len(self.years) >= ENOUGH_YEARS
        """Whether dates by warmth are counted from the record's own years."""
        own = record_normals(record, self.years) if self.is_counted else normals
        height = None if self.is_counted else altitude_m
        super().__init__(
            latitude_deg, own, scatter, height, last_frost, first_frost,
            so_far=record, lie=lie, basis=_basis(record, self.years, normals, lie, said),
        )  # fmt: skip
        self._dates: dict[Which, FrostDates] = {}
        self._shares: Floats | None = None
        self._why = said
        if self.is_counted:
            self._low, self._high = record.by_year(self.years)
            same = before is not None and before.is_counted and self._as_before(before)
            if same and before is not None:
                self._ensemble = before._ensemble.renewed(record)
            else:
                self._ensemble = Ensemble(self._daily, True, record, lie.warmer_c)
            air_c = (self._low + self._high) / 2.0 + lie.warmer_c
            self._soil = SoilOnRecord(air_c, self._warmest(), record, lie.warmer_c)
        if before is not None:
            before._ensemble.rest()  # who keeps an old season, keeps little

    def _as_before(self, before: "RecordSeason") -> bool:
        return (
            self.lie == before.lie
            and np.array_equal(self._low, before._low)
            and np.array_equal(self._high, before._high)
        )

    def _daily(self, base: float) -> Floats:
        warmer = self.lie.warmer_c
        return sine_sums(self._low + warmer, self._high + warmer, base)

    # ── Frost ─────────────────────────────────────────────────────────────────────────────────────────────────────

    def frosts(self, which: Which) -> FrostDates:
        """The frosts of one kind on record, of the seasons that count.

        Source: `frosts_on_record`, below 0 °C, or below what `Lie` says of a hollow.
        """
        if which not in self._dates:
            north = self.latitude_deg >= 0
            found = frosts_on_record(self.record, which, north=north, threshold_c=self.lie.hollow_c)
            self._dates[which] = FrostDates(found, which, north=north)
        return self._dates[which]

    def frost_days(self, which: Which) -> tuple[int | None, ...]:
        """The day of each season's frost, oldest first; None for a season without. Only the seasons that count.

        Source: `frosts`, which also tells the season years.
        """
        return tuple(one.day for one in self.frosts(which).seasons)

    def counts_frost(self, which: Which) -> bool:
        """Whether the record has cold seasons enough to say a chance.

        Source: `ENOUGH_YEARS`.
        """
        return len(self.frosts(which).seasons) >= ENOUGH_YEARS

    def _last_frost(self, percent: float, year: int) -> int | None:
        if self.counts_frost("last frost"):
            return self.frosts("last frost").day(percent, year)
        return super()._last_frost(percent, year)

    def _first_frost(self, percent: float, year: int) -> int | None:
        if self.counts_frost("first frost"):
            return self.frosts("first frost").day(percent, year)
        return super()._first_frost(percent, year)

    def frost_percent(self, day: int) -> float:
        """The chance (%) of a frost in the night of a day number.

        Source: `frost_shares` where the record has years enough, else as `NormalsSeason`.
        """
        if not self.is_counted:
            return super().frost_percent(day)
        if self._shares is None:
            self._shares = 100.0 * frost_shares(self.record, self.lie.hollow_c)
        return float(self._shares[index_of(day)])

    # ── Soil ──────────────────────────────────────────────────────────────────────────────────────────────────────

    def _soil_day(self, name: str, turn: Callable[[float], int | None], value_c: float, year: int) -> int | None:
        if not self.is_counted:
            return super()._soil_day(name, turn, value_c, year)
        return self._soil.above(value_c, year) if name == "soil above" else self._soil.below(value_c, year)

    # ── Warmth ────────────────────────────────────────────────────────────────────────────────────────────────────

    def warmth(self, total: float, base: float, since: int) -> Spread | None:
        """When ``total`` degree-days above ``base`` °C have come, the day ``since`` counted: 10, 50 and 90 %.

        Each year on record gives a day: the days that have been since then as they were (where one is not known, as in
        that year), then that year's own remainder, then the year's that followed it, the last one leading into the
        first. The three are Weibull's ranks of these days, each the first whole day that does not lie before it. None
        where a year on record does not hold so much warmth on average, unless it has come.
        Valid: bases of -20 to 40 °C; single sine.
        Source: `Ensemble`, `weibull`.
        Raises: OutOfRange for a sum below 0 or such a base.
        """
        if not self.is_counted:
            return super().warmth(total, base, since)
        check_warmth(total, base)
        if total > self._ensemble.year_sum(base) and not self._ensemble.has_come(total, base, since):
            return None
        return self._spread(total, base, since)

    def _spread(self, total: float, base: float, since: int, *, alone: bool = False) -> Spread:
        days = np.sort(self._ensemble.reached(total, base, since, alone=alone)).tolist()
        low, best, high = (math.ceil(weibull(days, percent) - 1e-9) for percent in (10.0, 50.0, 90.0))
        return Spread(low, best, high)

    def why_warmth(self, total: float, base: float, since: int) -> str:
        """What a date by warmth rests on, and how this year so far has moved it; "" where there is no date.

        Source: `warmth`, beside what it would be without the days that have been.
        """
        if not self.is_counted:
            return super().why_warmth(total, base, since)
        found = self.warmth(total, base, since)
        if found is None:
            return ""
        if self._ensemble.has_come(total, base, since):
            return came(found.best)
        said = f"reached {span(found.low, found.high)} in 8 of 10 years, by {len(self.years)} years on your record"
        if self._ensemble.covers(since):
            later = found.best - self._spread(total, base, since, alone=True).best
            return f"{said}; {year_so_far(later)}"
        return said

    def renewed(self, record: DailyRecord, normals: Normals, altitude_m: float | None = None) -> "RecordSeason":
        """The same place with other days on record; what does not rest on them is kept.

        Source: none; the same as made anew.
        """
        return RecordSeason(
            self.latitude_deg, record, normals, self.scatter, altitude_m, self._own["last frost"],
            self._own["first frost"], lie=self.lie, said=self._why, before=self,
        )  # fmt: skip


def record_normals(record: DailyRecord, years: tuple[int, ...]) -> Normals:
    """The monthly normals of some years of a record.

    Means over all known days of a month; ``min_sd_c`` about the curve of the month's means; rain over the days known.
    Source: the definitions in `Normals`; wet days of 1 mm or more, Met Office.
    """
    of_year, index = calendar(record.days)
    months = np.searchsorted(np.array(MONTH_STARTS), index, side="right") - 1
    use = np.isin(of_year, years)
    low, high = (_monthly(series, months, use) for series in (record.min_c, record.max_c))
    off = record.min_c - np.array(daily_curve(low))[index]
    rain = _monthly(record.rain_mm, months, use)
    wet = _monthly(np.where(np.isnan(record.rain_mm), np.nan, record.rain_mm >= _WET_MM), months, use)
    days = np.array(MONTH_DAYS)
    has_rain = not any(math.isnan(one) for one in rain)
    return Normals(
        id="record",
        name=f"your record, {min(years)} to {max(years)}",
        max_c=high,
        min_c=low,
        rain_mm=tuple((days * rain).tolist()) if has_rain else (),
        wet_days=tuple((days * wet).tolist()) if has_rain else (),
        min_sd_c=tuple(max(0.1, math.sqrt(one)) for one in _monthly(off * off, months, use)),
        basis="published",
        source="the household's own record",
    )


def _monthly(series: Floats, months: Ints, use: NDArray[np.bool_]) -> Twelve:
    known = use & ~np.isnan(series)
    counted = np.bincount(months[known], minlength=12)
    sums = np.bincount(months[known], series[known], 12)
    return tuple(float(total / count) if count else math.nan for total, count in zip(sums, counted, strict=True))


def _basis(record: DailyRecord, years: tuple[int, ...], normals: Normals, lie: Lie, said: str) -> Basis:
    """What the season rests on, in sentences."""
    first, last = (years[0], years[-1]) if years else (None, None)
    if first is not None and last is not None and len(years) >= ENOUGH_YEARS:
        told = f"Counted from your daily record: {len(years)} years, {first} to {last}."
        return Basis(
            "record", len(years), first, last, " ".join(filter(None, (told, _left_out(record, years), lie.said)))
        )
    whole = "no whole year" if not years else "1 whole year" if len(years) == 1 else f"{len(years)} whole years"
    told = (
        f"Your daily record has {whole}, too few to tell chances, which need {ENOUGH_YEARS}: they come from monthly "
        f"means ({normals.name}). The days on record count as this year so far."
    )
    return Basis("months", len(years), first, last, " ".join(filter(None, (told, said, lie.said))))


def _left_out(record: DailyRecord, years: tuple[int, ...]) -> str:
    """The years between the first and the last that count, which do not."""
    gone = [str(one.year) for one in record.years() if years[0] < one.year < years[-1] and not one.counts]
    if not gone:
        return ""
    if len(gone) == 1:
        return f"{gone[0]} is left out: ten days or more are missing."
    return f"{', '.join(gone[:-1])} and {gone[-1]} are left out: ten days or more are missing."
