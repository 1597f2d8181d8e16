"""Days to cure or dry a crop, between what a warm room and a cool one take."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work


@work
def days_by_room(room_c: float, warm_c: float, warm_days: float, cool_c: float, cool_days: float) -> Reckoned:
    """Days on a straight line between ``warm_days`` at ``warm_c`` and ``cool_days`` at ``cool_c``, rounded up.

    A room warmer than ``warm_c`` is given no less time. The window runs on to the cool room's days.
    Valid: rooms no cooler than ``cool_c``.
    Source: both points stand on the sheet; the line between them is our own.
    Raises: OutOfRange in a cooler room, where the crop is more likely to rot than to dry.
    """
    if warm_c <= cool_c or cool_days < warm_days:
        raise OutOfRange("A warm room", warm_c, f"above {cool_c:g} °C and no slower than the cool one")
    if room_c < cool_c:
        raise OutOfRange(
            "A room", room_c, f"{cool_c:g} °C or more", "Find it somewhere warmer: cold and damp, it rots."
        )
    share = (min(room_c, warm_c) - cool_c) / (warm_c - cool_c)
    best = ceil(cool_days - share * (cool_days - warm_days))
    because = f"{warm_days:g} days at {warm_c:g} °C, {cool_days:g} at {cool_c:g} °C; here {room_c:g} °C"
    return Reckoned(best, best, max(best, ceil(cool_days)), (because,))
