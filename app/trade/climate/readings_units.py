"""Whether readings can be in the unit they are taken for: Fahrenheit taken for Celsius, tenths, inches.

Nothing is ever turned silently: a doubt is a question, and the answer is the household's.
"""

from collections.abc import Sequence
from typing import NamedTuple

from app.trade.climate.readings_cells import in_metric

HOT_SUMMER_C = 45.0
"""Maxima that lie above this day after day are no Celsius anywhere that is farmed."""
A_YEARS_ROWS = 300
NAMES = {"c": "°C", "f": "°F", "tenths c": "tenths of °C", "mm": "mm", "in": "inches", "tenths mm": "tenths of mm"}


class Guess(NamedTuple):
    """A unit, "" when it must be asked, and the sentence that asks."""

    unit: str
    doubt: str = ""


def temperature_guess(highs: Sequence[float], lows: Sequence[float], stated: str, latitude_deg: float) -> Guess:
    """The unit of temperatures: as stated, else °C, unless the readings can't be that at this latitude.

    ``highs`` and ``lows`` are the daily maxima and minima as they stand, any number of them.
    Source: from memory: hardly a place on earth has ordinary summer maxima above 45 °C; at latitudes beyond 45° the
    middle of a day's highest and lowest stays below 27 °C on the median day, and beyond 60° below 22 °C.
    """
    assumed = stated or "c"
    if not highs and not lows:
        return Guess(assumed)
    if _plausible(highs, lows, assumed, latitude_deg):
        return Guess(assumed)
    others = [unit for unit in ("f", "c", "tenths c") if unit != assumed]
    may = [unit for unit in others if _plausible(highs, lows, unit, latitude_deg)]
    said = f"in {NAMES[may[0]]} they could. Which is it?" if may else "Which unit is it in?"
    top = sorted(highs or lows)[max(0, int(len(highs or lows) * 0.98) - 1)]
    return Guess("", f"In {NAMES[assumed]} highest readings of {top:g} can't be right for this place; {said}")


def rain_guess(falls: Sequence[float], stated: str, rows_a_year: int = 365) -> Guess:
    """The unit of rain: as stated, else mm, unless a year of it would be far too little or too much.

    ``rows_a_year`` is 365 for days, 12 for months; most of a year's must be there before anything is asked.
    Source: from memory: places that are farmed get 150 to 5 000 mm in a year.
    """
    assumed = stated or "mm"
    if len(falls) < rows_a_year * A_YEARS_ROWS / 365:
        return Guess(assumed)
    a_year = sum(falls) * rows_a_year / len(falls)
    if assumed == "mm" and 0 < a_year < 120:
        return Guess("", f"In mm that is only {a_year:.0f} mm in a year. Is it inches?")
    if assumed == "mm" and a_year > 6000:
        return Guess("", f"In mm that is {a_year:.0f} mm in a year. Is it tenths of mm?")
    return Guess(assumed)


def _plausible(highs: Sequence[float], lows: Sequence[float], unit: str, latitude_deg: float) -> bool:
    step = in_metric(unit)
    top = sorted(step(value) for value in highs or lows)
    # The very highest may be a slip of the pen, which its own row answers for.
    hot, middle = top[max(0, int(len(top) * 0.98) - 1)], top[len(top) // 2]
    cold = sorted(step(value) for value in lows or highs)
    between = (middle + cold[len(cold) // 2]) / 2
    away = abs(latitude_deg)
    if hot > HOT_SUMMER_C or cold[int(len(cold) * 0.02)] < -65:
        return False
    if between > (22 if away > 60 else 27 if away > 45 else 36):
        return False
    # A whole year that never gets warm is none either, save near the poles.
    return not (len(top) >= A_YEARS_ROWS and hot < (5 if away > 60 else 10) and away < 68)
