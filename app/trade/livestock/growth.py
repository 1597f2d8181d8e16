"""Days until an animal has reached its weight, sharpened by every weighing."""

from collections.abc import Sequence
from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_LEAST_GAIN_KG = 0.05
"""A slower gain says that something is wrong, and gives no date."""


def gain_kg_a_day(kg: float, weighed: Sequence[tuple[int, float]]) -> float:
    """Daily gain: the slope of the least-squares line through the first weight and all that came after it.

    ``weighed`` are pairs of (days since the first weight, kg).
    Valid: at least one weighing on a later day.
    Source: ordinary least squares.
    Raises: OutOfRange without one.
    """
    points = [(0.0, kg), *((float(day), weight) for day, weight in weighed)]
    mean_day = sum(day for day, _ in points) / len(points)
    mean_kg = sum(weight for _, weight in points) / len(points)
    spread = sum((day - mean_day) ** 2 for day, _ in points)
    if not spread:
        raise OutOfRange("A number of weighings", len(weighed), "one or more on a later day")
    return sum((day - mean_day) * (weight - mean_kg) for day, weight in points) / spread


@work
def growth_days(
    kg: float, target_kg: float, usual_gain_kg: float, weighed: Sequence[tuple[int, float]] = ()
) -> Reckoned:
    """Days from the first weight to ``target_kg``: ``ceil((target - weight) / gain)`` from the latest weighing.

    The gain is ``usual_gain_kg`` a day until there is a weighing, then what the weighings show.
    Valid: targets above the first weight; gains above 0.05 kg a day.
    Source: the usual gain stands on the sheet; arithmetic.
    Raises: OutOfRange beyond that.
    """
    if target_kg <= kg:
        raise OutOfRange("A target weight", target_kg, f"more than the {kg:g} kg it came with")
    later = sorted(pair for pair in weighed if pair[0] > 0)
    day, weight = later[-1] if later else (0, kg)
    if weight >= target_kg:
        return days(day, f"it weighed {weight:g} kg after {day} days, and {target_kg:g} kg was wanted")
    gain = gain_kg_a_day(kg, later) if later else usual_gain_kg
    if gain < _LEAST_GAIN_KG:
        advice = "Weigh again; if it is so, look to feed, water, worms and health."
        raise OutOfRange("A gain in kg a day", gain, f"{_LEAST_GAIN_KG:g} and more", advice)
    more = ceil(round((target_kg - weight) / gain, 6))
    whence = f"weighed {len(later)} times" if later else "not weighed since: the usual gain"
    because = f"from {weight:g} to {target_kg:g} kg at {gain:.2f} kg a day ({whence}) is {more} days"
    return days(day + more, because)
