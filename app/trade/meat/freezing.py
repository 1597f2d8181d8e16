"""How many days a delivery takes to freeze, when a freezer takes only so much a day."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work


def freezer_takes_kg(freezer_l: float, kg_a_100_l: float) -> float:
    """What a freezer freezes hard in a day: ``freezer_l / 100 * kg_a_100_l``.

    Valid: freezers of 20 litres and more.
    Source: the rate stands on the sheet.
    Raises: OutOfRange below that.
    """
    if freezer_l < 20:
        raise OutOfRange("A freezer", freezer_l, "20 litres and more", "Ask the butcher to freeze it for you.")
    if kg_a_100_l <= 0:
        raise OutOfRange("A rate", kg_a_100_l, "more than 0 kg for 100 litres")
    return freezer_l / 100 * kg_a_100_l


@work
def freezing_days(kg: float, freezer_l: float, kg_a_100_l: float, most_days: int) -> Reckoned:
    """Days from the first load to the last, one load a day: ``ceil(kg / load) - 1``.

    Valid: as long as the last load goes in within ``most_days``, while it is still good in the fridge.
    Source: `freezer_takes_kg`; the figures stand on the sheet.
    Raises: OutOfRange where it would take longer.
    """
    if kg <= 0:
        raise OutOfRange("A weight", kg, "more than 0 kg")
    load = freezer_takes_kg(freezer_l, kg_a_100_l)
    last = ceil(round(kg / load, 6)) - 1
    if last > most_days:
        advice = "Have the butcher freeze part of it, or cure, cook or give away what is over."
        raise OutOfRange("A wait of days", last, f"up to {most_days} days in the fridge", advice)
    because = f"{kg:g} kg, and {freezer_l:g} litres of freezer take {load:.3g} kg a day: {last + 1} loads"
    return Reckoned(0, last, most_days, (because,))
