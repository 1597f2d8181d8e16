"""Temperatures and rain in the household's units: as they are asked, read, and told."""

from typing import NamedTuple

from app.services.weather.weather import Reading
from app.units import from_metric, said, understood
from app.web.typed import Typed

NAMES = {"min_c": "Lowest", "max_c": "Highest", "rain_mm": "Rain"}


class Scale(NamedTuple):
    """In what the household reads its weather: names of `app.units.UNITS`."""

    warm: str
    wet: str

    def unit(self, field: str) -> str:
        """The unit of one of a reading's three fields."""
        return self.wet if field.startswith("rain") else self.warm

    def sign(self, field: str) -> str:
        """The unit as it is written."""
        return {"c": "°C", "f": "°F", "mm": "mm", "in": "in"}[self.unit(field)]


def scale(imperial: bool) -> Scale:
    """°C and mm, or °F and inches for a household that measures so."""
    return Scale("f", "in") if imperial else Scale("c", "mm")


def read_figure(form: Typed, name: str, unit: str) -> float | None:
    """A temperature or a fall of rain in °C or mm, however it is written; None where nothing is typed."""
    text = form.raw(name)
    if not text:
        return None
    try:
        return round(understood(text, unit), 2)
    except ValueError as error:
        form.fault(name, str(error))
        return None


def read_reading(form: Typed, in_: Scale) -> Reading:
    """A day's three figures.

    Raises: BadInput with a sentence per field.
    """
    found = Reading(*(read_figure(form, name, in_.unit(name)) for name in Reading._fields))
    form.check()
    return found


def boxed(value: float | None, unit: str) -> str:
    """A figure as it stands in its box."""
    if value is None:
        return ""
    places = {"in": 2}.get(unit, 1)
    text = f"{from_metric(value, unit):.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text.replace("-", "−")


def told(reading: Reading, in_: Scale) -> str:
    """A day's readings in a few words: "−1.5 to 8 °C, 0.4 mm"; nothing when there are none."""
    low, high, rain = reading
    places = 1 if in_.warm == "c" else 0
    parts = []
    if low is not None and high is not None:
        bare = said(low, in_.warm, places).rpartition(" ")[0]
        parts.append(f"{bare} to {said(high, in_.warm, places)}")
    elif low is not None or high is not None:
        which = "lowest" if low is not None else "highest"
        parts.append(f"{which} {said(low if low is not None else high or 0.0, in_.warm, places)}")
    if rain is not None:
        parts.append(said(rain, in_.wet, 2 if in_.wet == "in" else 1) if rain else "no rain")
    return ", ".join(parts).replace(" °", "\u00a0°").replace(" mm", "\u00a0mm").replace(" in", "\u00a0in")
