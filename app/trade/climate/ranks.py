"""The value at a chance among so many years."""

import math
from collections.abc import Sequence

from app.errors import OutOfRange


def weibull(ordered: Sequence[float], percent: float) -> float:
    """The value that so many years of a hundred do not pass, by Weibull's rank p (n + 1), linear between neighbours.

    ``ordered`` is ascending and may begin with -inf or end with +inf (years in which it never came, or never ended):
    where the rank touches such a year, so does the answer. Ranks beyond the ends give the first and the last.
    Valid: above 0 and below 100 %; the dates 10, 20 .. 90 give 10, 50 and 90 at 10, 50 and 90 %.
    Source: Weibull 1939 plotting position (from memory); Hyndman and Fan 1996, type 6.
    Raises: OutOfRange for a chance that is none, or no values.
    """
    if not 0 < percent < 100:
        raise OutOfRange("A chance in percent", percent, "above 0 and below 100")
    if not len(ordered):
        raise OutOfRange("The number of years", 0, "1 or more")
    rank = min(max(percent / 100.0 * (len(ordered) + 1), 1.0), float(len(ordered)))
    part, whole = math.modf(rank)
    low = float(ordered[int(whole) - 1])
    if part < 1e-9:
        return low
    high = float(ordered[int(whole)])
    if math.isinf(low) or math.isinf(high):
        return low if math.isinf(low) else high
    return low + part * (high - low)
