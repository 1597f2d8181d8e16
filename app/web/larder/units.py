"""Amounts of batches in the household's units: kept as they are counted, shown and read in pounds, ounces or pints."""

import re

from app.units import UNITS, said, understood
from app.web.typed import Typed
from app.web.words import SP, amount

IMPERIAL = {"kg": "lb", "g": "oz", "l": "pint"}
ONE = {"jars": "jar", "packs": "pack", "bottles": "bottle", "heads": "head", "pieces": "piece", "eggs": "egg",
       "boxes": "box", "tubs": "tub"}  # fmt: skip
MOST = 1_000_000
_NUMBER = re.compile(r"[+\-−]?(\d{1,300}([.,]\d*)?|[.,]\d+)")


def much(value: float, unit: str, imperial: bool = False) -> str:
    """So much of something, one of it as one: "1 jar", "2 jars", "1.5 kg", "3.3 lb"."""
    if imperial and unit in IMPERIAL:
        return said(value, IMPERIAL[unit]).replace(" ", SP)
    return amount(value, ONE.get(unit, unit) if value == 1 else unit)


def unit_of(unit: str, imperial: bool) -> str:
    """The unit that stands behind a box."""
    return UNITS[IMPERIAL[unit]].sign if imperial and unit in IMPERIAL else unit


def read_amount(
    form: Typed, name: str, unit: str, imperial: bool, needed: str = "", *, some: bool = False
) -> float | None:
    """An amount as it is kept; a unit that is written out ("3 lb", "400 g") wins over the one that was asked for.

    With ``some``, nought is no answer. None, and a sentence taken down, where it can't be read.
    """
    text, asked = form.raw(name), IMPERIAL.get(unit, unit) if imperial else unit
    if not text:
        if needed:
            form.fault(name, needed)
        return None
    known = asked in UNITS
    try:
        value = understood(text, asked) if known else _counted(text)
    except (ValueError, OverflowError):
        form.fault(name, f"A number is wanted, such as 2.5{f'; it is taken in {UNITS[asked].sign}' if known else ''}.")
        return None
    if not (value > 0 if some else value >= 0) or value > MOST:
        nought = "Nought changes nothing." if value == 0 else "That is less than nothing."
        form.fault(name, "That is more than any larder holds." if value > MOST else nought)
        return None
    return value


def _counted(text: str) -> float:
    """A plain number. Raises: ValueError."""
    if not _NUMBER.fullmatch(text):
        raise ValueError(text)
    return float(text.replace("−", "-").replace(",", "."))
