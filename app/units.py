"""Units for people: metric inside, and what they read and write on the way out and in. There is no global mode: every
call names its unit.

Source: the international yard and pound (1959): 1 lb = 0.453 592 37 kg, 1 ft = 0.3048 m, 1 in = 25.4 mm, exactly;
Weights and Measures Act 1985 (UK), schedule 1: 1 pint = 0.568 261 25 litres, exactly; both as in NIST SP 811 and
ISO 80000. Degrees Fahrenheit: °F = 1.8 °C + 32, exactly (BIPM, SI Brochure; NIST SP 811, B.8).
"""

import re
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple


class Unit(NamedTuple):
    """A unit: what people write for it, its metric ``base``, and base = value * ``factor`` + ``offset``."""

    name: str
    sign: str
    base: str
    factor: Decimal
    offset: Decimal = Decimal(0)
    decimals: int = 1


_F = Decimal(5) / Decimal(9)

UNITS: dict[str, Unit] = {
    unit.name: unit
    for unit in (
        Unit("kg", "kg", "kg", Decimal(1), decimals=2),
        Unit("g", "g", "g", Decimal(1), decimals=0),
        Unit("lb", "lb", "kg", Decimal("0.45359237")),
        Unit("oz", "oz", "g", Decimal("28.349523125")),
        Unit("m", "m", "m", Decimal(1)),
        Unit("cm", "cm", "cm", Decimal(1)),
        Unit("mm", "mm", "mm", Decimal(1), decimals=0),
        Unit("ft", "ft", "m", Decimal("0.3048")),
        Unit("in", "in", "mm", Decimal("25.4")),
        Unit("l", "litres", "l", Decimal(1), decimals=2),
        Unit("ml", "ml", "ml", Decimal(1), decimals=0),
        Unit("pint", "pints", "l", Decimal("0.56826125")),
        Unit("c", "°C", "c", Decimal(1)),
        Unit("f", "°F", "c", _F, -32 * _F, decimals=0),
    )
}

_WORDS = {
    "lbs": "lb",
    "pound": "lb",
    "pounds": "lb",
    "kilo": "kg",
    "kilos": "kg",
    "gram": "g",
    "grams": "g",
    "ounce": "oz",
    "ounces": "oz",
    "metre": "m",
    "metres": "m",
    "foot": "ft",
    "feet": "ft",
    "inch": "in",
    "inches": "in",
    "litre": "l",
    "litres": "l",
    "pints": "pint",
    "pt": "pint",
    "°c": "c",
    "°f": "f",
}
_WRITTEN = re.compile(r"([+\-−]?\d+(?:[.,]\d+)?|[+\-−]?[.,]\d+)\s*(\D*)")


def to_metric(value: float, unit: str) -> float:
    """A value in ``unit`` as its metric base: lb to kg, oz to g, ft to m, in to mm, pints to l, °F to °C.

    Source: the exact factors at the head of this module.
    Raises: KeyError for a unit that is not in `UNITS`.
    """
    known = UNITS[unit]
    return float(Decimal(str(value)) * known.factor + known.offset)


def from_metric(value: float, unit: str) -> float:
    """A value in the metric base of ``unit``, in that unit: the inverse of `to_metric`.

    Source: the exact factors at the head of this module.
    Raises: KeyError for a unit that is not in `UNITS`.
    """
    known = UNITS[unit]
    return float((Decimal(str(value)) - known.offset) / known.factor)


def said(value: float, unit: str, decimals: int | None = None) -> str:
    """A metric value as people read it in ``unit``: `said(1.5, "lb")` is "3.3 lb". Halves round away from zero.

    Source: none; wording. Rounded for reading; what is kept stays exact.
    Raises: KeyError for a unit that is not in `UNITS`.
    """
    known = UNITS[unit]
    places = known.decimals if decimals is None else decimals
    figure = Decimal(str(from_metric(value, unit))).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    text = f"{figure:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if text in ("-0", "0"):
        text = "0"
    sign = "pint" if known.name == "pint" and text == "1" else known.sign
    return f"{text.replace('-', '−')} {sign}"


def understood(text: str, unit: str) -> float:
    """What somebody wrote, as the metric base of ``unit``: "2.5", "2,5", "5 lb", "1 ft", "50 °F".

    A unit written out wins over ``unit``, when both measure the same thing.
    Source: the exact factors at the head of this module.
    Raises: ValueError with a sentence for a person, when it is no such amount.
    """
    known = UNITS[unit]
    found = _WRITTEN.fullmatch(text.strip())
    if not found:
        raise ValueError(f"{text.strip()!r} is not a number in {known.sign}.")
    number = float(found[1].replace(",", ".").replace("−", "-"))
    word = found[2].strip().lower()
    written = _WORDS.get(word, word) or unit
    if written not in UNITS:
        raise ValueError(f"{found[2].strip()!r} is not a unit that is known here.")
    return _in_base(to_metric(number, written), UNITS[written], known)


_STEPS = {("g", "kg"): Decimal("0.001"), ("ml", "l"): Decimal("0.001"), ("mm", "m"): Decimal("0.001")}
_STEPS |= {("cm", "m"): Decimal("0.01"), ("mm", "cm"): Decimal("0.1")}
_STEPS |= {(to, of): 1 / step for (of, to), step in _STEPS.items()}


def _in_base(value: float, written: Unit, wanted: Unit) -> float:
    if written.base == wanted.base:
        return value
    step = _STEPS.get((written.base, wanted.base))
    if step is None:
        raise ValueError(f"{written.sign} cannot be turned into {wanted.sign}.")
    return float(Decimal(str(value)) * step)
