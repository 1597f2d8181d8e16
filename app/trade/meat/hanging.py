"""Days that a carcase hangs, cold, before it is cut."""

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work

HANGING_DAYS: dict[str, tuple[int, int]] = {
    "pork": (2, 7), "lamb": (5, 10), "mutton": (10, 14), "beef": (14, 28), "venison": (4, 10), "poultry": (1, 2),
}  # fmt: skip
"""At 1 to 3 °C, 4 °C at most. Source: common practice; pork and lamb gain for about a week, beef up to a month: McGee,
On Food and Cooking."""
_MOST_C = 4.0


@work
def hanging_days(low_days: int, high_days: int, store_c: float) -> Reckoned:
    """Days to hang: from ``low_days`` to ``high_days``, halfway best; both stand on the sheet.

    Valid: a cold room of -1 to 4 °C.
    Source: `HANGING_DAYS`.
    Raises: OutOfRange in a warmer one, and it is said what to do.
    """
    if not -1 <= store_c <= _MOST_C:
        advice = "Above 4 °C it does not hang: cut it up at once, cooled through first, and freeze it."
        raise OutOfRange("A cold room of °C", store_c, f"-1 to {_MOST_C:g} °C", advice)
    if not 0 <= low_days <= high_days:
        raise OutOfRange("Days", low_days, f"0 to {high_days}")
    said = f"{low_days} to {high_days} days at {store_c:g} °C"
    return Reckoned(low_days, (low_days + high_days) // 2, high_days, (said,))
