"""How long dried stores keep their quality at a temperature."""

from calendar import monthrange
from datetime import date
from math import floor

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_REFERENCE_C = 15.56
_HALVES_EVERY_C = 11.11
"""60 °F, and the 20 °F over which the published life of dried fruit halves: twelve months there, six at 80 °F."""


def dried_months(store_c: float, months_cool: float) -> float:
    """Months of good quality: ``months_cool * 2 ** -((T - 15.56) / 11.11)``.

    ``months_cool`` is the life at 15.56 °C (60 °F).
    Valid: stores of 0 to 35 °C.
    Source: fitted to the pair in Packaging and Storing Dried Foods (NCHFP): 12 months at 60 °F, 6 at 80 °F.
    Raises: OutOfRange beyond that.
    """
    if not 0 <= store_c <= 35:
        raise OutOfRange("A store", store_c, "0 to 35 °C", "Keep dried food cool, dark and dry.")
    if months_cool <= 0:
        raise OutOfRange("A life in months", months_cool, "more than 0")
    return float(months_cool * 2 ** (-(store_c - _REFERENCE_C) / _HALVES_EVERY_C))


@work
def dried_keeping_days(store_c: float, months_cool: float, most_months: int, on: int) -> Reckoned:
    """Days from packing to "eat first": whole calendar months, rounded down, ``most_months`` at most.

    Valid: as `dried_months`, where a month or more is left.
    Source: `dried_months`; the figures stand on the sheet.
    Raises: OutOfRange where less than a month is left.
    """
    life = dried_months(store_c, months_cool)
    whole = min(floor(life), most_months)
    if whole < 1:
        raise OutOfRange("A store", store_c, "cool enough for a month", "Freeze it, or use it at once.")
    because = f"{months_cool:g} months at 15.6 °C are {life:.3g} at {store_c:g} °C, and {most_months} at most"
    return days(_months_on(on, whole) - on, because)


def _months_on(day: int, months: int) -> int:
    start = date.fromordinal(day)
    years, month = divmod(start.month - 1 + months, 12)
    year = start.year + years
    return date(year, month + 1, min(start.day, monthrange(year, month + 1)[1])).toordinal()
