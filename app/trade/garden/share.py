"""A share of a crop's days, where a job comes before or amid them."""

from math import floor

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work


@work
def part_of_days(days: float, percent: float) -> Reckoned:
    """So many per cent of a number of days, rounded down: ``floor(days * percent / 100)``.

    Valid: no fewer than no days, and 0 to 100 %.
    Source: arithmetic; both figures stand on the sheet.
    Raises: OutOfRange beyond that.
    """
    if days < 0:
        raise OutOfRange("A number of days", days, "none or more")
    if not 0 <= percent <= 100:
        raise OutOfRange("A share", percent, "0 to 100 %")
    best = floor(days * percent / 100)
    return Reckoned(best, best, best, (f"{percent:g} % of {days:g} days",))
