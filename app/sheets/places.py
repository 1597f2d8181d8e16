"""The monthly normals that come with the program: normals/places.toml."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import NamedTuple

from app.errors import KnowledgeError
from app.sheets.values import Doc, Reading, Table, is_number
from app.trade.climate.normals import Normals, Scatter, Twelve

_FILE = "normals/places.toml"


class Places(NamedTuple):
    """The places with normals, by id, and how weather scatters about any of them."""

    normals: Mapping[str, Normals]
    scatter: Scatter


@cache
def places() -> Places:
    """The places that come with the program, read once.

    Raises: KnowledgeError naming everything that is wrong with the file.
    """
    return read_places(loads(files("app.sheets").joinpath(_FILE).read_text(encoding="utf-8")), _FILE)


def read_places(doc: Doc, file: str) -> Places:
    """Places and scatter from a TOML document.

    Raises: KnowledgeError naming everything that is wrong with it.
    """
    reading = Reading(file)
    table = Table(doc, reading)
    scatter = _scatter(table.table("scatter") or Table({}, reading, path="scatter"))
    found: dict[str, Normals] = {}
    for place in table.tables("place"):
        normals = _normals(place)
        if normals.id in found:
            place.fault("id", f"two places are called '{normals.id}'")
        found[normals.id] = normals
    table.close()
    if reading.faults:
        raise KnowledgeError(reading.faults)
    return Places(found, scatter)


def _scatter(table: Table) -> Scatter:
    values = {}
    for name in Scatter._fields:
        value = table.number(name, 0.01, 366)
        if not table.has(name):
            table.fault(name, "is missing; expected a number")
        values[name] = float(value or 1.0)
    table.close()
    return Scatter(**values)


def _normals(table: Table) -> Normals:
    normals = Normals(
        id=table.text("id", needed=True),
        name=table.text("name", needed=True),
        max_c=_twelve(table, "max_c", needed=True),
        min_c=_twelve(table, "min_c", needed=True),
        altitude_m=table.number("altitude_m", -400, 5000),
        rain_mm=_twelve(table, "rain_mm"),
        wet_days=_twelve(table, "wet_days"),
        min_sd_c=_twelve(table, "min_sd_c"),
        grid=table.flag("grid"),
        basis=table.choice("basis", ("published", "common practice", "from memory"), needed=True),
        source=table.text("source", needed=True),
    )
    if any(low > high for low, high in zip(normals.min_c, normals.max_c, strict=False)):
        table.fault("min_c", "is above max_c in some month")
    if any(not sd > 0 for sd in normals.min_sd_c):
        table.fault("min_sd_c", "expected twelve numbers above 0")
    table.close()
    return normals


def _twelve(table: Table, key: str, *, needed: bool = False) -> Twelve:
    value = table.take(key)
    if value is None and not needed:
        return ()
    if not isinstance(value, list) or len(value) != 12 or not all(is_number(one) for one in value):
        table.fault(key, "expected twelve numbers, January first")
        return ()
    return tuple(float(one) for one in value)
