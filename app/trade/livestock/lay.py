"""What a flock may be expected to lay: a curve by age, dimmed by short days, and how far what came lies below it."""

from collections.abc import Sequence
from typing import NamedTuple

from app.errors import OutOfRange

_RISE_WEEKS, _HELD_WEEKS = 8, 18
_ALARM_SHARE, _ALARM_DAYS = 0.8, 3
FULL_LIGHT_H, LEAST_LIGHT_H = 14.0, 9.0
LEAST_OLD, LEAST_PULLET = 0.5, 0.8
"""Lay at 9 hours of day against 14: hens in their second year and more, and pullets in their first winter.
Source: common practice; an estimate."""


class Layer(NamedTuple):
    """A kind of layer: ``start_weeks`` old at the first egg, ``peak`` eggs a bird a day, ``fall`` a week after it."""

    start_weeks: float = 20.0
    peak: float = 0.90
    fall: float = 0.01


HYBRID = Layer()


def lay_rate(age_weeks: float, layer: Layer = HYBRID) -> float:
    """Eggs a bird a day at an age in whole weeks: rising over 8 weeks from the first egg, held for 10, then falling.

    k = age - start; 0 before; peak * (k + 0.5) / 8 to week 8; peak to week 18; then peak - fall * (k - 18 + 0.5), no
    less than none. Without moult and short days.
    Valid: ages from 0; a peak above 0 and up to 1. Source: fitted to J. C. Hermes, Oregon State University Extension
    (first egg 18 to 20 weeks, peak above 90 % at 32 to 35, about 265 a year); a model. Raises: OutOfRange beyond that.
    """
    if age_weeks < 0:
        raise OutOfRange("An age in weeks", age_weeks, "0 and more")
    if not 0 < layer.peak <= 1:
        raise OutOfRange("Eggs a bird a day at the peak", layer.peak, "above 0, up to 1")
    k = age_weeks - layer.start_weeks
    if k < 0:
        return 0.0
    if k < _RISE_WEEKS:
        return layer.peak * (k + 0.5) / _RISE_WEEKS
    if k < _HELD_WEEKS:
        return layer.peak
    return max(0.0, layer.peak - layer.fall * (k - _HELD_WEEKS + 0.5))


def eggs_of_weeks(birds: float, from_week: int, weeks: int, layer: Layer = HYBRID) -> float:
    """Eggs of so many birds over whole weeks of age, beginning with ``from_week``.

    Valid: as `lay_rate`. Source: `lay_rate`, seven days a week.
    """
    return sum(7.0 * birds * lay_rate(week, layer) for week in range(from_week, from_week + weeks))


def light_factor(day_hours: float, first_winter: bool) -> float:
    """What the length of day leaves of the lay: 1 from 14 hours, falling in a line to 0.5 at 9 (pullets: to 0.8).

    Valid: 0 to 24 hours; below 9 as at 9. Source: common practice, an estimate; lay falls below 12 to 14 hours by
    J. C. Hermes, Oregon State University Extension. Raises: OutOfRange beyond that.
    """
    if not 0 <= day_hours <= 24:
        raise OutOfRange("A length of day in hours", day_hours, "0 to 24")
    least = LEAST_PULLET if first_winter else LEAST_OLD
    share = (max(day_hours, LEAST_LIGHT_H) - LEAST_LIGHT_H) / (FULL_LIGHT_H - LEAST_LIGHT_H)
    return min(1.0, least + (1.0 - least) * share)


def fell_suddenly(eggs_a_day: Sequence[float]) -> bool:
    """Whether lay fell by more than a fifth within three days: a reason to look at the birds, not a diagnosis.

    ``eggs_a_day`` in order of days, the latest last; fewer than four days say nothing.
    Source: common practice.
    """
    if len(eggs_a_day) <= _ALARM_DAYS or eggs_a_day[-1 - _ALARM_DAYS] <= 0:
        return False
    return eggs_a_day[-1] < _ALARM_SHARE * eggs_a_day[-1 - _ALARM_DAYS]


def best_before(laid: int) -> int:
    """The last day on which an egg may be given as best: 28 days from laying.

    Source: Business Companion, Chartered Trading Standards Institute.
    """
    return laid + 28
