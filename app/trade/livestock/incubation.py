"""A clutch in the incubator: candled, left alone for the last three days, hatched; its loss of weight on the way."""

from typing import NamedTuple

from app.errors import OutOfRange

LOCKDOWN_DAYS = 3
"""Turning stops and humidity rises three days before the hatch. Source: Mississippi State University Extension."""
LOSS_PERCENT = 13.0
LOSS_LOW, LOSS_HIGH = 12.0, 14.0
"""Of the weight when set, by lockdown. Source: from memory, Merck Veterinary Manual: 12 to 14."""
_LARGE_EGGS_DAYS = 28
STORED_BEST_DAYS, STORED_MOST_DAYS = 7, 10
"""Eggs waiting to be set, at 13 to 18 °C. Source: from memory, Mississippi State University Extension."""


class Hatching(NamedTuple):
    """Day numbers: candle and take out the clear, stop turning, hatch."""

    candle: tuple[int, ...]
    lockdown: int
    hatch: int


def hatching(set_on: int, hatch_days: int) -> Hatching:
    """The days of a clutch: ``hatch = set + hatch_days``, the day of setting being day 0; ``lockdown = hatch - 3``.

    Candled on day 7 and 14, large eggs (28 days and more) on day 21 too.
    Valid: 14 to 42 days. Source: Mississippi State University Extension; candling is common practice.
    Raises: OutOfRange beyond that.
    """
    if not 14 <= hatch_days <= 42:
        raise OutOfRange("Days to the hatch", hatch_days, "14 to 42")
    lockdown = hatch_days - LOCKDOWN_DAYS
    candle = (7, 14, 21) if hatch_days >= _LARGE_EGGS_DAYS else (7, 14)
    return Hatching(tuple(set_on + day for day in candle if day <= lockdown), set_on + lockdown, set_on + hatch_days)


def loss_percent(set_g: float, now_g: float) -> float:
    """Weight lost since the eggs were set: ``100 * (set - now) / set``.

    Valid: weights above 0, and no gain. Source: definition. Raises: OutOfRange beyond that.
    """
    if not 0 < now_g <= set_g:
        raise OutOfRange("The eggs' weight in g", now_g, f"more than 0, up to the {set_g:g} g they were set with")
    return 100.0 * (set_g - now_g) / set_g


def wanted_loss_percent(day: float, hatch_days: float) -> float:
    """Loss wanted by a day of brooding: ``13 * day / lockdown``, a straight line.

    More lost says raise the humidity, less says lower it.
    Valid: from setting to lockdown. Source: from memory, Merck Veterinary Manual, 12 to 14 % by lockdown.
    Raises: OutOfRange beyond that.
    """
    lockdown = hatch_days - LOCKDOWN_DAYS
    if not 0 <= day <= lockdown:
        raise OutOfRange("A day of brooding", day, f"0 to {lockdown:g}")
    return LOSS_PERCENT * day / lockdown
