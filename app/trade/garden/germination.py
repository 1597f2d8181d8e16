"""What a germination test of a few seeds tells, and how thickly to sow after it."""

from math import sqrt
from typing import Literal, NamedTuple

from app.errors import OutOfRange

Z_95 = 1.95996
"""The normal deviate of a two-sided chance of 95 %."""

TOLERANCES: tuple[tuple[float, int], ...] = ((96, 5), (90, 6), (80, 7), (70, 8), (60, 9), (0, 10))
"""How far two tests of 400 seeds may differ (%) when their mean is at least so much (%)."""

HALF_OF_STANDARD = 0.5


class Share(NamedTuple):
    """A share of one, with the ends of its 95 % interval."""

    low: float
    found: float
    high: float


Verdict = Literal["sow as usual", "sow thicker", "resow thick or discard"]


def wilson(came_up: int, tried: int, z: float = Z_95) -> Share:
    """The share that came up with Wilson's interval: honest for twenty seeds, and never beyond 0 or 1.

    ``(p + z²/2n ± z·√(p(1−p)/n + z²/4n²)) / (1 + z²/n)``.
    Valid: one seed or more, no more up than were tried.
    Source: Wilson 1927, Journal of the American Statistical Association 22, page 209.
    Raises: OutOfRange beyond that.
    """
    if tried < 1:
        raise OutOfRange("A test", tried, "one seed or more")
    if not 0 <= came_up <= tried:
        raise OutOfRange("A count of seedlings", came_up, f"0 to {tried}, as many as were tried")
    found = came_up / tried
    middle = found + z * z / (2 * tried)
    reach = z * sqrt(found * (1 - found) / tried + z * z / (4 * tried * tried))
    scale = 1 + z * z / tried
    low, high = (middle - reach) / scale, (middle + reach) / scale
    return Share(min(max(0.0, low), found), found, max(min(1.0, high), found))


def sow_times(found_percent: float, standard_percent: float) -> float:
    """How many times as much to sow as of seed at the standard: ``standard / p``.

    Source: arithmetic of a seed rate.
    Raises: OutOfRange when nothing came up, or beyond 100 %.
    """
    if not 0 < found_percent <= 100:
        raise OutOfRange("A germination", found_percent, "above 0, up to 100 %", "Seed that does not stir is no seed.")
    if not 0 < standard_percent <= 100:
        raise OutOfRange("A standard", standard_percent, "above 0, up to 100 %")
    return standard_percent / found_percent


def verdict(found_percent: float, standard_percent: float) -> Verdict:
    """What to do with seed of this germination; under half the standard it is resown thick or thrown away.

    Source: common practice; the standards are those of 7 CFR 201.31 or of Directive 2002/55/EC, Annex II.
    """
    if found_percent >= standard_percent:
        return "sow as usual"
    return "sow thicker" if found_percent >= HALF_OF_STANDARD * standard_percent else "resow thick or discard"


def tolerance_percent(mean_percent: float) -> int:
    """How far two tests of 400 seeds each may differ, in per cent, before one of them is doubted.

    Valid: a mean of 0 to 100 %.
    Source: 7 CFR 201.63.
    Raises: OutOfRange beyond that.
    """
    if not 0 <= mean_percent <= 100:
        raise OutOfRange("A germination", mean_percent, "0 to 100 %")
    return next(tolerance for least, tolerance in TOLERANCES if mean_percent >= least)


def resow_after_days(table_days: float, slow_factor: float = 2.0) -> float:
    """Days from sowing after which a bare row is sown again: twice what the table gives.

    Source: common practice: published emergence differs by up to twice (onion at 10 °C: 13 days or 25).
    """
    return table_days * slow_factor
