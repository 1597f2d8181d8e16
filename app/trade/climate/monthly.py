"""From twelve monthly means to a curve of days, and from one height to another."""

from collections.abc import Sequence
from functools import lru_cache

from app.errors import OutOfRange
from app.trade.climate.days import MONTH_DAYS, MONTH_STARTS

LAPSE_C_PER_M = 0.0065
"""How much colder it is a metre higher. Source: ICAO standard atmosphere, 6.5 K/km; the same in FAO-56, eq. 7."""

_PASSES = 365


@lru_cache(maxsize=64)
def daily_curve(monthly: tuple[float, ...], passes: int = _PASSES) -> tuple[float, ...]:
    """The 365 daily values of a smooth yearly curve whose months keep the twelve means given, to rounding.

    Every day begins as its month's mean; then, ``passes`` times, each becomes the mean of itself and its neighbours
    (the year taken as a ring), and every month is lifted or lowered to its mean again.
    Valid: any unit; values that may not be negative need another method.
    Source: Rymes and Myers 2001, Solar Energy 71:225-231, as described in codos ``int_acm`` (help page).
    Raises: OutOfRange when there are not twelve means.
    """
    if len(monthly) != 12:
        raise OutOfRange("The number of monthly means", len(monthly), "twelve, January first")
    curve = [mean for mean, days in zip(monthly, MONTH_DAYS, strict=True) for _ in range(days)]
    months = [
        (start, start + days, days, mean) for start, days, mean in zip(MONTH_STARTS, MONTH_DAYS, monthly, strict=True)
    ]
    for _ in range(passes):
        before, after = [curve[-1], *curve[:-1]], [*curve[1:], curve[0]]
        smooth = [(a + b + c) / 3.0 for a, b, c in zip(before, curve, after, strict=True)]
        curve = []
        for start, end, days, mean in months:
            part = smooth[start:end]
            lift = mean - sum(part) / days
            curve += [value + lift for value in part]
    return tuple(curve)


def at_altitude_c(temperature_c: float, from_m: float, to_m: float) -> float:
    """A mean temperature (°C) carried from one height above the sea to another: 0.65 °C colder for every 100 m up.

    Valid: -400 to 5000 m, for means; on still nights a hollow is colder than the slope above it, and the sign turns.
    Source: ICAO standard atmosphere (from memory); the constant 0.0065 in FAO-56 (Allen et al. 1998), eq. 7.
    Raises: OutOfRange outside those heights.
    """
    for height in (from_m, to_m):
        if not -400 <= height <= 5000:
            raise OutOfRange("A height in metres", height, "-400 to 5000 m")
    return temperature_c - LAPSE_C_PER_M * (to_m - from_m)


def mean_c(max_c: Sequence[float], min_c: Sequence[float]) -> tuple[float, ...]:
    """Mean temperatures from mean daily highest and lowest: half their sum, as station records reckon it.

    Source: Met Office, historic station data (metoffice.gov.uk/climate/uk/stationdata): tmean = (tmax + tmin) / 2.
    """
    return tuple((high + low) / 2.0 for high, low in zip(max_c, min_c, strict=True))


def daily_range_c(max_c: float, min_c: float) -> float:
    """The daily range: highest less lowest (°C).

    Source: its definition, WMO-No. 8 (from memory).
    Raises: OutOfRange when the highest is below the lowest.
    """
    if max_c < min_c:
        raise OutOfRange("A daily highest temperature", max_c, f"not below the lowest, {min_c:g} °C")
    return max_c - min_c
