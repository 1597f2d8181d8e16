"""What the columns of a table of readings are called in common, and the units their heads state.

Source: none; common names of daily weather files in English, and the short names of the World Meteorological
Organization's codes (TN, TX, RR).
"""

import re
from collections.abc import Sequence
from typing import NamedTuple


class Columns(NamedTuple):
    """Which column is which, counted from nought; None where there is none."""

    date: int | None = None
    year: int | None = None
    month: int | None = None
    day: int | None = None
    min: int | None = None
    max: int | None = None
    rain: int | None = None


ROLES = Columns._fields

TEMPERATURES = ("c", "f", "tenths c")
RAINS = ("mm", "in", "tenths mm")

_TEMPERATURE_UNITS = {
    "c": "c", "degc": "c", "deg c": "c", "celsius": "c", "centigrade": "c", "degrees c": "c", "degrees celsius": "c",
    "f": "f", "degf": "f", "deg f": "f", "fahrenheit": "f", "degrees f": "f", "degrees fahrenheit": "f",
    "tenths c": "tenths c", "0 1 c": "tenths c", "tenths degc": "tenths c", "0 1 degc": "tenths c",
    "tenths of c": "tenths c", "tenths of degrees c": "tenths c",
}  # fmt: skip
_RAIN_UNITS = {
    "mm": "mm", "millimetres": "mm", "millimeters": "mm", "millimetre": "mm", "in": "in", "inch": "in", "inches": "in",
    "tenths mm": "tenths mm", "0 1 mm": "tenths mm", "tenths of mm": "tenths mm",
}  # fmt: skip
_OTHER_UNITS = {"days", "day", "hours", "hour", "hrs", "h", "yyyy", "", "knots", "kn", "hpa", "ms", "m s", "oktas"}

_DAYS = {
    "date": {"date", "dates", "datetime", "timestamp", "observationdate", "obsdate", "obdate", "day", "dato", "datum",
             "localdate", "time", "yyyymmdd", "ddmmyyyy", "mmddyyyy", "dateutc", "dategmt", "messdatum"},
    "year": {"year", "yyyy", "yr", "years"},
    "month": {"month", "mm", "mo", "mon", "mth"},
    "day": {"day", "dd", "dy", "dom", "dayofmonth"},
}  # fmt: skip
_T = r"(?:air)?(?:t|temp|temperature)"
_LOW, _HIGH = r"(?:min|minimum|mn|low|lowest)", r"(?:max|maximum|mx|high|highest)"
_MEASURES = {
    "min": re.compile(
        rf"(?:daily|outdoor)?(?:{_LOW}(?:daily)?(?:{_T})?|{_T}s?(?:2m)?{_LOW}|tn|tnk|mint|mintp|tmn)(?:2m)?"
    ),
    "max": re.compile(
        rf"(?:daily|outdoor)?(?:{_HIGH}(?:daily)?(?:{_T})?|{_T}s?(?:2m)?{_HIGH}|tx|txk|maxt|maxtp|tmx)(?:2m)?"
    ),
    "rain": re.compile(
        r"(?:daily|total)?(?:rain|rainfall|rainamount|rainfallamount|precip|precipitation|precipitationamount|prcp|"
        r"prec|pcp|ppt|rr|rsk)(?:total|sum|amount)?"
    ),
}


def columns_of(heads: Sequence[str]) -> Columns:
    """Which heads name a day, the lowest and the highest temperature, or rain; the first of each counts.

    Source: the names at the head of this module.
    """
    names = [_bare(head) for head in heads]
    found: dict[str, int] = {}
    for role, known in _DAYS.items():
        at = next((n for n, name in enumerate(names) if name in known), None)
        if at is not None:
            found[role] = at
    for role, pattern in _MEASURES.items():
        at = next((n for n, name in enumerate(names) if pattern.fullmatch(name)), None)
        if at is not None:
            found[role] = at
    return _settled(found, names)


def _settled(found: dict[str, int], names: Sequence[str]) -> Columns:
    """Where year, month and day stand apart there is no date; "mm" is a month only beside a year."""
    if "year" in found and "month" in found:
        if names[found.get("date", 0)] in ("day", "time"):
            found.pop("date", None)
    else:
        for role in ("year", "month", "day"):
            found.pop(role, None)
    if "date" in found:
        for role in ("year", "month", "day"):
            found.pop(role, None)
    return Columns(**found)


def unit_of(head: str, under: str, role: str) -> str:
    """The unit that a head, or the row under it, states for a temperature or for rain; "" when neither does.

    Source: the words at the head of this module.
    """
    known = _RAIN_UNITS if role == "rain" else _TEMPERATURE_UNITS
    for text in (under, *re.findall(r"[(\[]([^)\]]*)[)\]]", head), _last_word(head)):
        unit = known.get(_words(text))
        if unit:
            return unit
    return ""


def is_units(cells: Sequence[str]) -> bool:
    """Whether a row under the heads holds nothing but units."""
    named = [_words(cell) for cell in cells]
    return any(named) and all(
        word in _TEMPERATURE_UNITS or word in _RAIN_UNITS or word in _OTHER_UNITS for word in named
    )


def _words(text: str) -> str:
    return " ".join(re.sub(r"[^a-z0-9]+", " ", text.lower().replace("°", " ").replace("º", " ")).split())


def _last_word(head: str) -> str:
    words = re.split(r"[\s_,/]+", head.strip())
    return words[-1] if len(words) > 1 else ""


def _bare(head: str) -> str:
    """A head without its unit, spaces and signs: "Min. Temp (°C)" and "min_temp_c" are both "mintemp"."""
    text = re.sub(r"[(\[][^)\]]*[)\]]", " ", head)
    words = _words(text).split()
    while len(words) > 1 and (words[-1] in _TEMPERATURE_UNITS or words[-1] in _RAIN_UNITS or words[-1] in ("deg",)):
        words.pop()
    return "".join(words)
