"""Days that stand on a sheet: a share of them, the time between two of them, or all of them if something is so."""

from math import ceil, floor

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


@work
def days_between(low_days: int, high_days: int) -> Reckoned:
    """From ``low_days``, which is best, to ``high_days``.

    Source: both figures stand on the sheet.
    Raises: OutOfRange when they run backwards or lie before the day itself.
    """
    if not 0 <= low_days <= high_days:
        raise OutOfRange("A least time", low_days, f"from 0 to {high_days:g} days")
    return Reckoned(ceil(low_days), ceil(low_days), ceil(high_days), (f"{low_days:g} to {high_days:g} days",))


@work
def days_if(so: bool, days: int) -> Reckoned:
    """So many days where something is so, and none where it is not.

    Valid: no fewer than no days.
    Source: none; the days stand on the sheet.
    Raises: OutOfRange below none.
    """
    if days < 0:
        raise OutOfRange("A number of days", days, "none or more")
    found = days if so else 0
    return Reckoned(found, found, found, (f"{found:g} days",))
