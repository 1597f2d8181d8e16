"""Hours and days fit for painting out of doors: warm enough, dry enough, and no dew to come on the fresh coat."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.climate.humidity import dew_point_c

DEW_SPREAD_C = 3.0
MOST_HUMIDITY_PERCENT = 85.0
LEAST_HOURS = 6


class Hour(NamedTuple):
    """An hour's air: temperature (°C), relative humidity (%), and whether it is daylight."""

    air_c: float
    humidity_percent: float
    light: bool = True


def paints(hour: Hour, least_c: float = 10.0, most_percent: float = MOST_HUMIDITY_PERCENT) -> bool:
    """Whether paint takes in this hour: T >= least, RH <= limit, T - dew point >= 3 °C.

    It is the surface that counts: on a clear morning it is 2 °C colder than the air (common practice). The product's
    data sheet rules over it.
    Source: ISO 8502-4 and ISO 12944-7 as told by trade pages (sahawatthanakit1988.com, seaspirit.ru); 10 °C for
    water-based paint: ICI Paints, FAQ 9 (icipaints.co.uk); Diamond Vogel technical bulletin, 50 °F.
    Raises: OutOfRange for air that cannot be.
    """
    spread_c = hour.air_c - dew_point_c(hour.air_c, hour.humidity_percent)
    return hour.air_c >= least_c and hour.humidity_percent <= most_percent and spread_c >= DEW_SPREAD_C


def longest_run(good: Iterable[bool]) -> int:
    """The most that follow one another without a break.

    Source: its definition.
    """
    longest = now = 0
    for each in good:
        now = now + 1 if each else 0
        longest = max(longest, now)
    return longest


def paint_days(
    days: Iterable[Sequence[Hour]], least_c: float = 10.0, most_percent: float = MOST_HUMIDITY_PERCENT
) -> int:
    """How many of the days have six hours of daylight on end in which paint takes.

    Rain is not asked after: a coat wants dry hours after it too, and still air on a ladder.
    Source: `paints`; six hours on end is common practice.
    Raises: OutOfRange for air that cannot be, or a least temperature outside -10 to 40 °C.
    """
    if not -10 <= least_c <= 40:
        raise OutOfRange("A least temperature for paint", least_c, "-10 to 40 °C")
    return sum(
        longest_run(hour.light and paints(hour, least_c, most_percent) for hour in day) >= LEAST_HOURS for day in days
    )
