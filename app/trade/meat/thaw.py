"""How long a frozen joint needs in the fridge."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_MOST_KG = 11.0
"""The heaviest piece that the thawing tables list (24 lb)."""


@work
def thaw_days(kg: float, kg_a_day: float) -> Reckoned:
    """Days in the fridge: ``max(1, ceil(kg / kg_a_day))``.

    Valid: pieces of up to 11 kg.
    Source: the rate stands on the sheet (24 hours for 1.8 to 2.3 kg; the slow end is taken).
    Raises: OutOfRange beyond that.
    """
    if not 0 < kg <= _MOST_KG:
        advice = "Ask for it boned and halved, and thaw the pieces."
        raise OutOfRange("A weight", kg, f"up to {_MOST_KG:g} kg", advice)
    if kg_a_day <= 0:
        raise OutOfRange("A rate", kg_a_day, "more than 0 kg a day")
    return days(max(1, ceil(round(kg / kg_a_day, 6))), f"{round(kg, 2):g} kg at {kg_a_day:g} kg a day in the fridge")
