"""How long to blanch, and how much a freezer takes in a day."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work

_HIGH_M = 1524.0
"""5000 ft, where blanching takes a minute more."""

_LEAST_KG_L, _MOST_KG_L = 0.032, 0.048
"""2 to 3 lb a cubic foot a day."""


def blanch_minutes(book_minutes: float, altitude_m: float) -> float:
    """Minutes from the return to the boil: the table's, and one more from 5000 ft (1524 m).

    Valid: 0 to 15 minutes (0: not blanched), 0 to 3000 m. Shorter than the table is worse than none.
    Source: Utah State University Extension, Vegetable Freezing.
    Raises: OutOfRange beyond that.
    """
    if not 0 <= book_minutes <= 15:
        raise OutOfRange("Minutes of blanching", book_minutes, "0 to 15")
    if not 0 <= altitude_m <= 3000:
        raise OutOfRange("An altitude", altitude_m, "0 to 3000 m")
    return book_minutes + 1 if book_minutes and altitude_m >= _HIGH_M else book_minutes


def long_enough(minutes: float, book_minutes: float, altitude_m: float) -> bool:
    """Whether produce was blanched as long as the table says at this height.

    Valid: as `blanch_minutes`.
    Source: `blanch_minutes`.
    Raises: OutOfRange as there.
    """
    return minutes >= blanch_minutes(book_minutes, altitude_m)


def day_load_kg(freezer_l: float) -> tuple[float, float]:
    """Fresh food a freezer hardens in a day, least and most: 32 to 48 g a litre.

    Valid: freezers of 20 to 1000 litres, at -18 °C or colder.
    Source: USDA, Canning, Freezing, Storing Garden Produce: 2 to 3 lb a cubic foot in 24 hours.
    Raises: OutOfRange beyond that.
    """
    if not 20 <= freezer_l <= 1000:
        raise OutOfRange("A freezer", freezer_l, "20 to 1000 litres")
    return freezer_l * _LEAST_KG_L, freezer_l * _MOST_KG_L


@work
def freezer_load_days(kg: float, freezer_l: float) -> Reckoned:
    """Days to put so much in, a day's load at a time: at the most a day, the middle, and the least.

    Valid: up to 14 days in all.
    Source: `day_load_kg`.
    Raises: OutOfRange beyond that.
    """
    if kg <= 0:
        raise OutOfRange("A weight", kg, "more than 0 kg")
    least, most = day_load_kg(freezer_l)
    low, best, high = (ceil(round(kg / load, 6)) for load in (most, (least + most) / 2, least))
    if high > 14:
        raise OutOfRange("Days of freezing", high, "up to 14", "Bottle, dry or give away a part.")
    because = f"{kg:g} kg into {freezer_l:g} litres, {least:.1f} to {most:.1f} kg a day"
    return Reckoned(low, best, high, (because,))
