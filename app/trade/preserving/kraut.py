"""Days of fermenting cabbage in salt, by the warmth of the room."""

from math import ceil, floor

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work


@work
def kraut_days(
    room_c: float,
    least_c: float,
    cool_c: float,
    cool_days: float,
    warm_c: float,
    warm_days: float,
    most_c: float,
    spread_days: float,
) -> Reckoned:
    """Days until it is sour: ``cool_days`` in a cool room, ``warm_days`` in a warm one, on a line between them.

    Valid: rooms of ``least_c`` to ``most_c``; ``spread_days`` either side.
    Source: the figures stand on the sheet, which says where they are printed; the line is our own.
    Raises: OutOfRange in a colder or hotter room.
    """
    if not least_c <= room_c <= most_c:
        advice = "In the cold it may not sour, in the warm it goes soft and spoils: find it another room."
        raise OutOfRange("A room", room_c, f"{least_c:g} to {most_c:g} °C", advice)
    share = min(1.0, max(0.0, (room_c - cool_c) / (warm_c - cool_c)))
    middle = cool_days + share * (warm_days - cool_days)
    because = f"{cool_days:g} days at {cool_c:g} °C, {warm_days:g} at {warm_c:g} °C; here {room_c:g} °C"
    return Reckoned(floor(middle - spread_days), ceil(middle), ceil(middle + spread_days), (because,))
