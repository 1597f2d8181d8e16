"""Whether lime may be laid: warmth now, and time to set before a frost is likely."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Literal, NamedTuple

from app.errors import OutOfRange
from app.trade.upkeep.drying import hydraulic_lime_days

Lime = Literal["putty", "NHL2", "NHL3.5", "NHL5"]
BLOCK_WEEKS: dict[Lime, int] = {"putty": 8, "NHL2": 8, "NHL3.5": 6, "NHL5": 4}
"""Weeks without a likely frost that each kind wants after it: our own, from "weeks to months" of the merchants."""
LEAST_C = 5.0
FORECAST_DAYS = 14
PUTTY_ENDS = (10, 1)
PUTTY_RESUMES = (4, 1)
COLDEST_SETTING_C = 5.0


class LimeSay(NamedTuple):
    """Whether lime may be laid on a day, the sentence to read, and when to try again (None where it may)."""

    go: bool
    says: str
    again: date | None = None


def lime_say(
    lime: Lime,
    on: date,
    likely_frost: date | None,
    forecast_low_c: float | None = None,
    south: bool = False,
) -> LimeSay:
    """Whether a kind of lime may be laid out of doors on a day.

    ``likely_frost`` is the first air frost after that day that one year in five has; ``forecast_low_c`` the lowest of
    the fortnight to come, where there is a forecast. Putty outside rests from October to April (in the south from April
    to October), whatever the forecast.
    Source: 5 °C, and weeks to months without frost: a lime merchant's guidance (lime.org.uk); putty until early
    October and from April: a lime merchant's winter guidance (anglialime.com); the weeks by kind are our own.
    Raises: OutOfRange for a lime it does not know.
    """
    if lime not in BLOCK_WEEKS:
        raise OutOfRange("A lime", 0, f"one of {', '.join(BLOCK_WEEKS)}, not {lime}")
    if lime == "putty" and _putty_rests(on, south):
        again = _next(on, PUTTY_ENDS if south else PUTTY_RESUMES)
        return LimeSay(False, "Lime putty outside rests over the winter: it would not harden before the frosts.", again)
    if forecast_low_c is not None and forecast_low_c < LEAST_C:
        says = f"{forecast_low_c:g} °C is forecast within a fortnight; lime wants {LEAST_C:g} °C and more."
        return LimeSay(False, says, on + timedelta(days=FORECAST_DAYS))
    weeks = BLOCK_WEEKS[lime]
    if likely_frost is not None and likely_frost < on + timedelta(weeks=weeks):
        says = f"A frost is likely from {likely_frost:%-d %B}, and {lime} wants {weeks} weeks before it."
        return LimeSay(False, says, _next(on, PUTTY_ENDS if south else PUTTY_RESUMES))
    return LimeSay(True, f"{weeks} weeks without a likely frost lie ahead.")


def _putty_rests(on: date, south: bool) -> bool:
    at = (on.month, on.day)
    if south:
        return PUTTY_RESUMES < at < PUTTY_ENDS
    return not PUTTY_RESUMES <= at <= PUTTY_ENDS


def _next(on: date, day: tuple[int, int]) -> date:
    this = date(on.year, *day)
    return this if this > on else date(on.year + 1, *day)


def latest_start(
    likely_frost: date, monthly_mean_c: Sequence[float], days_at_19_c: float = 90.0, slower_a_kelvin: float = 0.05
) -> date | None:
    """The last day on which hydraulic lime can be laid and still stand the first likely frost; None when there is none.

    Walked back day by day: each day adds 1 / (days it would take at that month's mean), until they make one. A day
    below 5 °C adds nothing.
    Source: `hydraulic_lime_days`; the walk is our own.
    Raises: OutOfRange for anything but twelve months.
    """
    if len(monthly_mean_c) != 12:
        raise OutOfRange("Monthly means", len(monthly_mean_c), "twelve")
    done, day = 0.0, likely_frost
    for _ in range(366):
        day -= timedelta(days=1)
        mean_c = monthly_mean_c[day.month - 1]
        if mean_c >= COLDEST_SETTING_C:
            done += 1.0 / hydraulic_lime_days(min(mean_c, 20.0), days_at_19_c, slower_a_kelvin)
        if done >= 1.0 - 1e-9:
            return day
    return None
