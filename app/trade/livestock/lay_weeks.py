"""Eggs to expect of a flock by week, with its losses and the length of day; and how what came lies beside them."""

from collections.abc import Sequence
from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.livestock.lay import HYBRID, Layer, lay_rate, light_factor

LAY_WEEKS, MOULT_WEEKS = 52, 10
LATER_SHARE = 0.85
"""After each moult of 8 to 12 weeks with almost none, 10 to 20 % fewer eggs than the year before.
Source: common practice; the middle of both."""


class Week(NamedTuple):
    """A week from the day number ``first``: eggs ``expected``, and those that ``came`` (None: not counted)."""

    first: int
    expected: float
    came: float | None = None

    @property
    def share(self) -> float | None:
        """What came of what was expected; None where either is missing."""
        return self.came / self.expected if self.came is not None and self.expected else None


def rate_with_moults(age_weeks: float, layer: Layer = HYBRID) -> float:
    """Eggs a bird a day over the years: the curve for 52 weeks, ten of moult with none, then again at 85 % of it.

    Valid: as `lay_rate`. Source: `lay_rate`; `LATER_SHARE`. Birds moult in autumn and not on a birthday: an estimate.
    """
    since = age_weeks - layer.start_weeks
    if since < 0:
        return 0.0
    years, week = divmod(since, LAY_WEEKS + MOULT_WEEKS)
    if week >= LAY_WEEKS:
        return 0.0
    return float(LATER_SHARE**years) * lay_rate(layer.start_weeks + week, layer)


def eggs_by_week(
    heads: Sequence[int], hatched: int, first: int, day_hours: Sequence[float] = (), layer: Layer = HYBRID
) -> list[Week]:
    """Eggs to expect for each seven days from ``first``, a last part of a week left out.

    ``heads`` alive on each day; ``day_hours`` of daylight on each, left out where lamps lengthen the day.
    Valid: a first day no earlier than the hatch; as many hours as heads, or none.
    Source: `rate_with_moults` and `light_factor`. Raises: OutOfRange beyond that.
    """
    if first < hatched:
        raise OutOfRange("An age in days", first - hatched, "0 and more")
    if day_hours and len(day_hours) != len(heads):
        raise OutOfRange("Days with a length", len(day_hours), f"{len(heads)}, as many as days")
    daily = []
    for at, head in enumerate(heads):
        weeks = (first + at - hatched) // 7
        pullet = weeks < layer.start_weeks + LAY_WEEKS
        light = light_factor(day_hours[at], pullet) if day_hours else 1.0
        daily.append(head * rate_with_moults(weeks, layer) * light)
    return [Week(first + at, sum(daily[at : at + 7])) for at in range(0, len(daily) - 6, 7)]


def against(weeks: Sequence[Week], collected: Sequence[tuple[int, float]]) -> list[Week]:
    """The same weeks with what was collected: pairs of (day, eggs); a week without a count stays uncounted.

    Source: counting.
    """
    found = []
    for week in weeks:
        eggs = [count for day, count in collected if week.first <= day < week.first + 7]
        found.append(week._replace(came=sum(eggs) if eggs else None))
    return found
