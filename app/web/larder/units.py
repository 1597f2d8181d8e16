"""Amounts of batches in the household's units: kept as they are counted, shown and read in pounds, ounces or pints."""

from app.units import UNITS, said, understood
from app.web.typed import Typed
from app.web.words import SP, amount

IMPERIAL = {"kg": "lb", "g": "oz", "l": "pint"}
ONE = {"jars": "jar", "packs": "pack", "bottles": "bottle", "heads": "head", "pieces": "piece", "eggs": "egg",
       "boxes": "box", "tubs": "tub"}  # fmt: skip
MOST = 1_000_000


def much(value: float, unit: str, imperial: bool = False) -> str:
    """So much of something, one of it as one: "1 jar", "2 jars", "1.5 kg", "3.3 lb"."""
    if imperial and unit in IMPERIAL:
        return said(value, IMPERIAL[unit]).replace(" ", SP)
    return amount(value, ONE.get(unit, unit) if value == 1 else unit)


def unit_of(unit: str, imperial: bool) -> str:
    """The unit that stands behind a box."""
    return UNITS[IMPERIAL[unit]].sign if imperial and unit in IMPERIAL else unit


def read_amount(form: Typed, name: str, unit: str, imperial: bool, needed: str = "") -> float | None:
    """An amount as it is kept; a unit that is written out ("3 lb", "400 g") wins over the one that was asked for.

    None, and a sentence taken down, where it can't be read.
    """
    text, asked = form.raw(name), IMPERIAL.get(unit, unit) if imperial else unit
    if not text or asked not in UNITS:
        return form.number(name, 0, MOST, needed=needed)
    try:
        value = understood(text, asked)
    except (ValueError, OverflowError):
        form.fault(name, f"A number is wanted, such as 2.5; it is taken in {UNITS[asked].sign}.")
        return None
    if not 0 <= value <= MOST:
        form.fault(name, "That is less than nothing." if value < 0 else "That is more than any larder holds.")
        return None
    return value
