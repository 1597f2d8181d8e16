"""How many days of a month are fit for painting, from the place's means; and whether a job fits into them."""

import math
from collections.abc import Sequence
from statistics import NormalDist
from typing import NamedTuple

from app.errors import OutOfRange

WET_AFTER_DRY = 0.75
SPREAD_OF_DAYS_C = 3.5
SPREAD_OF_RANGE_C = 3.0
DAYLIGHT_LOST_H = 4.0
DAYS_ONE_CAN_USE = 0.6
_PHI = NormalDist().cdf


class MonthMeans(NamedTuple):
    """A month: its days, days of 1 mm rain or more, days of air frost, mean highest and lowest (°C), day length (h)."""

    days: int
    rain_days: float
    frost_days: float
    high_c: float
    low_c: float
    light_h: float


def dry_starts(month: MonthMeans, run: int) -> float:
    """Days of a month that begin a run of so many dry ones: N (1 - f) (1 - 0.75 f)^(run - 1), f the share of wet days.

    Source: a two-state chain of wet and dry days (Richardson and Wright, WGEN, USDA-ARS-8, 1984), wet after dry at
    0.75 f: from memory, Geng, Penning de Vries and Supit 1986.
    Raises: OutOfRange for a month that cannot be, or a run that is not 1 to 7.
    """
    if not (28 <= month.days <= 31 and 0 <= month.rain_days <= month.days and 0 <= month.frost_days <= month.days):
        raise OutOfRange("A month's days of rain or frost", month.rain_days, f"0 to {month.days}")
    if not 1 <= run <= 7:
        raise OutOfRange("A run of dry days", run, "1 to 7")
    wet = month.rain_days / month.days
    return month.days * (1 - wet) * (1 - WET_AFTER_DRY * wet) ** (run - 1)


def painting_days(
    month: MonthMeans, run: int = 2, least_c: float = 10.0, hours: float = 4.0, low_above_dew_c: float = 0.0
) -> float:
    """Days of a month on which painting can be expected: dry, warm, clear of dew for some hours, without frost.

    ``run`` is 2 for the day and the next, 3 with the day before, as masonry wants; ``low_above_dew_c`` how far the
    night's lowest stays above the dew point (0 in a damp climate). No day counts that is too short for the hours
    wanted, two hours left off at either end. For planning months ahead only; on the day, `fit_to_paint`.
    Source: `dry_starts`; the rest (a day as a cosine, spreads of 3.5 and 3 °C, independence) is our own model.
    Raises: OutOfRange as there, or for hours outside 1 to 12.
    """
    if not 1 <= hours <= 12 or month.high_c < month.low_c:
        raise OutOfRange("Hours wanted", hours, "1 to 12, and the mean highest no less than the lowest")
    if month.light_h - DAYLIGHT_LOST_H < hours:
        return 0.0
    c = math.cos(math.pi * hours / 24)
    swing = (month.high_c - month.low_c) / 2
    warm = _PHI((month.high_c - (least_c + swing * (1 - c))) / SPREAD_OF_DAYS_C)
    clear = _PHI((2 * swing - 2 * (3.0 - low_above_dew_c) / (1 + c)) / SPREAD_OF_RANGE_C)
    return dry_starts(month, run) * warm * clear * (1 - month.frost_days / month.days)


def fits_month(job_days: float, fit_days: float) -> bool:
    """Whether a job fits a month: no more than 0.6 of its fit days, since days must also be free.

    Source: our own model.
    """
    return job_days <= DAYS_ONE_CAN_USE * fit_days


def month_for(job_days: float, fit: Sequence[float], wanted: int) -> int | None:
    """The month (1 to 12) nearest to ``wanted`` that a job fits, the earlier of two as near; None when none does.

    Source: design rule: the nearest month whose fit days cover the job, earlier rather than later.
    Raises: OutOfRange for anything but twelve months.
    """
    if len(fit) != 12 or not 1 <= wanted <= 12:
        raise OutOfRange("Months", len(fit), "twelve, and the one wanted among them")
    good = [month for month in range(1, 13) if fits_month(job_days, fit[month - 1])]
    return min(good, key=lambda month: (_apart(month, wanted), (month - wanted) % 12 < 6), default=None)


def _apart(month: int, wanted: int) -> int:
    return min((month - wanted) % 12, (wanted - month) % 12)
