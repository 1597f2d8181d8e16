"""Chance of frost by night, and frost dates at a chance: from monthly means, or from the household's own dates."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from statistics import NormalDist
from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.climate.days import YEAR

_NORMAL = NormalDist()
SEASONS = (
    (-4.512745863, 0.0000223458), (-3.205429003, 0.0027891413), (-2.076847979, 0.0499164068),
    (-1.023255664, 0.2440975029), (0.0, 0.4063492063), (1.023255664, 0.2440975029), (2.076847979, 0.0499164068),
    (3.205429003, 0.0027891413), (4.512745863, 0.0000223458),
)  # fmt: skip
"""Nine seasons, from a cold one to a mild one, as normal scores with their shares. Source: Gauss-Hermite quadrature,
Abramowitz and Stegun, table 25.10, n = 9, for the weight of the normal distribution."""
_TAIL = 1e-15
"""The least chance of a night without frost: it keeps the logarithm finite where every night freezes."""


def frost_chance(mean_min_c: float, sd_c: float) -> float:
    """The chance (0 to 1) that a night is below 0 °C in the screen: Phi(-mean / sd).

    ``mean_min_c`` is that night's mean lowest temperature, ``sd_c`` the standard deviation of single nights about it.
    Valid: sd above 0; lowest temperatures are taken as normally distributed.
    Source: the normal distribution; frost as a screen minimum below 0 °C, Met Office.
    Raises: OutOfRange when sd is not above 0.
    """
    if not sd_c > 0:
        raise OutOfRange("A standard deviation in °C", sd_c, "above 0")
    return 0.5 * math.erfc(mean_min_c / sd_c / math.sqrt(2.0))


def _check_chance(percent: float) -> float:
    if not 0 < percent < 100:
        raise OutOfRange("A chance in percent", percent, "above 0 and below 100")
    return percent / 100.0


class FrostYear:
    """How the first and the last frost of a cold season are distributed, from its nights and how seasons differ.

    ``mean_min_c`` and ``sd_c`` are the mean lowest temperature of the 365 nights from midsummer to midsummer, and the
    standard deviation of single nights about it. Of that, ``season_share`` is a whole season's being cold or mild: in
    one season all nights are so much off together, and beyond that they are independent. Without it, independent nights
    would tell spring too late in its early years and too early in its late ones.

    Source: normal model of nights; the share fitted to eight daily series 1976-2020, beside which the counted scatter
    of months between years gives much the same (own comparison: mean error 4 days over the 10, 50 and 90 % dates, bias
    below 4). An estimate: a daily record of the place is better.
    Raises: OutOfRange for a share outside 0 to below 1, or an sd that is not above 0.
    """

    def __init__(self, mean_min_c: Sequence[float], sd_c: Sequence[float], season_share: float) -> None:
        if not 0 <= season_share < 1:
            raise OutOfRange("The share of the season in a night's scatter", season_share, "0 to below 1")
        within = math.sqrt(1.0 - season_share * season_share)
        self._come = [0.0] * len(mean_min_c)
        self._over = [0.0] * len(mean_min_c)
        self.never = 0.0
        """The chance of a season without any frost."""
        for score, share in SEASONS if season_share else ((0.0, 1.0),):
            self._add(
                share,
                [
                    math.log(max(1.0 - frost_chance(mean + score * season_share * sd, within * sd), _TAIL))
                    for mean, sd in zip(mean_min_c, sd_c, strict=True)
                ],
            )

    def _add(self, share: float, frostless: Sequence[float]) -> None:
        """Add the seasons of one kind, by the logarithm of each night's chance of no frost."""
        total = 0.0
        for index, value in enumerate(frostless):
            total += value
            self._come[index] -= share * math.expm1(total)
        self.never += share * math.exp(total)
        rest = 0.0
        for index in range(len(frostless) - 1, -1, -1):
            self._over[index] += share * math.exp(rest)
            rest += frostless[index]

    def last(self, percent: float) -> int | None:
        """The offset from midsummer of the night by which the last frost is over in so many years of a hundred.

        None where that share of years has no frost at all.
        Source: P(last <= d) = P(no frost after d).
        Raises: OutOfRange for a chance outside 0 to 100 %.
        """
        wanted = _check_chance(percent)
        return None if self.never >= wanted else bisect_left(self._over, wanted)

    def first(self, percent: float) -> int | None:
        """The offset from midsummer of the night by which the first frost has come in so many years of a hundred.

        None where fewer years than that have a frost.
        Source: P(first <= d) = 1 - P(no frost up to d).
        Raises: OutOfRange for a chance outside 0 to 100 %.
        """
        wanted = _check_chance(percent)
        found = bisect_left(self._come, wanted)
        return found if found < len(self._come) else None


class OwnFrost(NamedTuple):
    """A frost date as the household knows it: the middle one as ``month`` and ``day``, and how it spreads.

    ``early_days`` and ``late_days`` are how many days before and after the middle the one year in ten lies on each
    side (10 and 90 %); None where that is not known.
    """

    month: int
    day: int
    early_days: float | None = None
    late_days: float | None = None


def own_frost_shift_days(own: OwnFrost, percent: float, sd_days: float) -> int:
    """Days from the household's middle frost date to the date at a chance; negative before it.

    Each side is half a normal distribution through its 10 or 90 % date; where that is not known, its standard
    deviation is ``sd_days``. 50 % gives 0.
    Valid: 1 to 99 %; further out nobody's memory reaches.
    Source: the normal distribution; frost dates are near enough normal for planning (common practice).
    Raises: OutOfRange for a chance outside 1 to 99 %, or a spread below 0 or above 120 days.
    """
    if not 1 <= percent <= 99:
        raise OutOfRange("A chance in percent", percent, "1 to 99 for dates from memory")
    side = own.early_days if percent < 50 else own.late_days
    if side is not None and not 0 <= side <= 120:
        raise OutOfRange("A spread in days", side, "0 to 120")
    score = _NORMAL.inv_cdf(percent / 100.0)
    unit = sd_days if side is None else side / _NORMAL.inv_cdf(0.9)
    return round(score * unit)


def moved_nights(chances: Sequence[float], anchors: Sequence[tuple[int, int]]) -> list[float]:
    """The year's 365 chances of frost, moved so that the chance at each anchor's first index is that at its second.

    Between anchors the nights are stretched evenly, round the year; without any, they stay as they are.
    Source: linear interpolation; that a hollow's frosts keep the shape of the year's is common practice.
    """
    at = sorted(set(anchors))
    if len({own for own, _ in at}) < len(at) or not at:
        return list(chances)
    moved = [0.0] * YEAR
    for (own, usual), (next_own, next_usual) in zip(at, [*at[1:], at[0]], strict=True):
        length = (next_own - own) % YEAR or YEAR
        usual_length = (next_usual - usual) % YEAR or YEAR
        for step in range(length):
            moved[(own + step) % YEAR] = chances[round(usual + step * usual_length / length) % YEAR]
    return moved
