"""Chance of frost by night, and frost dates at a chance: from monthly means, or from the household's own dates."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from statistics import NormalDist
from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.climate.days import YEAR

_NORMAL = NormalDist()
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
    """How the first and the last frost of a cold season are distributed, from the chance of frost of each night.

    ``chances`` are the 365 nights from midsummer to midsummer. Nights remember each other: P(no frost on a set of
    nights) = prod (1 - p)^memory, memory 1 for independent nights, about 0.5 in an oceanic climate. Reckoned in the
    logarithm and summed once.

    Source: normal model of nights; memory fitted to eight daily series 1976-2020 (own comparison: mean error about six
    days over the 10, 50 and 90 % dates). An estimate: a daily record of the place is better.
    """

    def __init__(self, chances: Sequence[float], memory: float) -> None:
        if not 0 < memory <= 1:
            raise OutOfRange("The memory of nights", memory, "above 0 and up to 1")
        frostless = [memory * math.log(max(1.0 - chance, _TAIL)) for chance in chances]
        total = 0.0
        self._come = []
        for value in frostless:
            total += value
            self._come.append(-math.expm1(total))
        self.never = math.exp(total)
        """The chance of a season without any frost."""
        rest = 0.0
        over = []
        for value in reversed(frostless):
            over.append(math.exp(rest))
            rest += value
        self._over = over[::-1]

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
