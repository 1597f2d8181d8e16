"""How long before growth stops a last sowing must be made."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work


@work
def last_sowing_days(maturity_days: float, short_day_days: float = 0) -> Reckoned:
    """Days from the last useful sowing to the end of growth: days to maturity, and what short days add to them.

    Count them back from the first frost for a half-hardy crop, else from the day on which there is less than ten
    hours of light.
    Source: common practice; the days stand on the sheet.
    Raises: OutOfRange for a crop with no time to grow.
    """
    if maturity_days <= 0 or short_day_days < 0:
        raise OutOfRange("Days to maturity", maturity_days, "more than none")
    because = f"{maturity_days:g} days to grow, and {short_day_days:g} for the shortening days"
    return days(ceil(maturity_days + short_day_days), because)
