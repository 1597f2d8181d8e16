"""What one person eats of a crop, and how its seed comes up: garden-needs.toml and garden-sprouting.toml."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any, NamedTuple, TypeVar

from app.rules.sheet import Sheet
from app.sheets.values import Publication
from app.trade.garden.sowing import FOOT_M
from app.trade.garden.sprouting import NEVER

One = TypeVar("One")

PLANTS_A_HILL = 3
"""Plants to a hill of cucumbers or squash; common practice."""


class Need(NamedTuple):
    """What to grow for one person in a year, least and most: ``fresh`` and ``stored``, in ``unit`` "m" or "plants".

    ``basis`` is "published" (see `needs_source`) or "common practice".
    """

    unit: str
    fresh: tuple[float, float]
    stored: tuple[float, float]
    basis: str = "published"


class Up(NamedTuple):
    """Days to come up and sound seedlings in a hundred, at the temperatures of `app.trade.garden.sprouting.TABLE_C`."""

    days: tuple[float | None, ...]
    percent: tuple[float | None, ...]


def need_of(sheet: Sheet) -> Need | None:
    """What a person eats of a sheet's crop; None where nobody said."""
    return _found(_needs(), sheet)


def up_of(sheet: Sheet) -> Up | None:
    """How a sheet's seed comes up; None where it was not tried."""
    return _found(_ups(), sheet)


def needs_source() -> Publication:
    """Where the needs stand."""
    return _source("garden-needs.toml")


def ups_source() -> Publication:
    """Where the days to come up stand."""
    return _source("garden-sprouting.toml")


def names_of(sheet: Sheet) -> tuple[str, ...]:
    """What a sheet's crop may be called in a table: by its figures, its id, its title before a comma."""
    crop = (sheet.crop.name, sheet.crop.many) if sheet.crop is not None else ()
    ident = sheet.id.removesuffix("-seed")
    names = (*crop, ident.replace("-", " "), sheet.title.partition(",")[0])
    return tuple(dict.fromkeys(name.casefold() for name in names if name))


def _found(known: Mapping[str, One], sheet: Sheet) -> One | None:
    return next((known[name] for name in names_of(sheet) if name in known), None)


@cache
def _doc(file: str) -> dict[str, Any]:
    return loads(files("app.sheets").joinpath(file).read_text(encoding="utf-8"))


def _source(file: str) -> Publication:
    return Publication(**_doc(file)["source"])


@cache
def _needs() -> Mapping[str, Need]:
    return {name: _need(one) for one in _doc("garden-needs.toml")["need"] for name in one["crops"]}


def _need(one: Mapping[str, Any]) -> Need:
    each = {"ft": FOOT_M, "plants": 1.0, "hills": float(PLANTS_A_HILL)}[one["unit"]]
    fresh, stored = (tuple(each * float(value) for value in one.get(key, (0, 0))) for key in ("fresh", "stored"))
    basis = str(one.get("basis", "published"))
    return Need("m" if one["unit"] == "ft" else "plants", (fresh[0], fresh[1]), (stored[0], stored[1]), basis)


@cache
def _ups() -> Mapping[str, Up]:
    return {name: _up(one) for one in _doc("garden-sprouting.toml")["crop"] for name in one["crops"]}


def _up(one: Mapping[str, Any]) -> Up:
    days = tuple({"none": NEVER, "": None}.get(value, value) for value in one["days"])
    return Up(days, tuple(one.get("percent", (None,) * 9)))
