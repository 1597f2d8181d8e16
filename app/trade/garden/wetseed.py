"""How long seed stands in its own juice before it is rinsed."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work

_COLDEST_C, _WARMEST_C = 10.0, 32.0
"""Outside these a jar neither ferments nor keeps to any published number of days."""


@work
def ferment_days(room_c: float, least_days: int, most_days: int, cool_below_c: float) -> Reckoned:
    """Days in the jar: from ``least_days`` to ``most_days``, and a day more in a room cooler than ``cool_below_c``.

    The best day is the first: seed left too long begins to sprout.
    Valid: rooms of 10 to 32 °C.
    Source: the days stand on the sheet; a day more in the cool is common practice.
    Raises: OutOfRange in a colder or hotter room.
    """
    if not _COLDEST_C <= room_c <= _WARMEST_C:
        raise OutOfRange("A room", room_c, f"{_COLDEST_C:g} to {_WARMEST_C:g} °C", "Stand the jar somewhere else.")
    if least_days < 1 or most_days < least_days:
        raise OutOfRange("A least time", least_days, f"from 1 day to {most_days}")
    extra = 1 if room_c < cool_below_c else 0
    because = f"{least_days} to {most_days} days" + (f", and one more below {cool_below_c:g} °C" if extra else "")
    return Reckoned(ceil(least_days) + extra, ceil(least_days) + extra, ceil(most_days) + extra, (because,))


def fruits_needed(seeds: int, seeds_a_fruit: float, usable: float) -> int:
    """Fruits to keep for so many good seeds: ``seeds / (seeds_a_fruit * usable)``, rounded up.

    Valid: ``usable`` above 0 and up to 1.
    Source: arithmetic.
    Raises: OutOfRange beyond that.
    """
    if not 0 < usable <= 1:
        raise OutOfRange("A usable share", usable, "above 0, up to 1")
    if seeds_a_fruit <= 0:
        raise OutOfRange("Seeds in a fruit", seeds_a_fruit, "more than none")
    return ceil(seeds / (seeds_a_fruit * usable))
