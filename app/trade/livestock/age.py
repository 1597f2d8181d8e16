"""Days until an animal that came at one age has reached another."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work


@work
def days_to_age(age_d: float, low_weeks: float, best_weeks: float, high_weeks: float) -> Reckoned:
    """Days from arrival to an age in weeks, with its spread: ``7 * weeks - age_d``, never less than none.

    Valid: an age on arrival of 0 days and more, and less than ``high_weeks``.
    Source: the ages stand on the sheet; arithmetic.
    Raises: OutOfRange for one that is past it.
    """
    if not low_weeks <= best_weeks <= high_weeks:
        raise OutOfRange("An age in weeks", best_weeks, f"{low_weeks:g} to {high_weeks:g}")
    if not 0 <= age_d <= 7 * high_weeks:
        raise OutOfRange("An age in days", age_d, f"0 to {7 * high_weeks:g}", "They are past this already.")
    low, best, high = (max(0, ceil(7 * weeks - age_d)) for weeks in (low_weeks, best_weeks, high_weeks))
    return Reckoned(low, best, high, (f"{best_weeks:g} weeks old, {age_d:g} days of them before they came",))
