"""Figures of upkeep that are no sheet's own: upkeep-tables.toml and upkeep-winter.toml."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any, NamedTuple

from app.trade.upkeep.fit_to_paint import Limits
from app.trade.upkeep.repair import Link


class Coating(NamedTuple):
    """Years between coats: least, usual, most; the surfaces it suits; the sheet that keeps it ("" for none)."""

    id: str
    on: tuple[str, ...]
    least_years: float
    usual_years: float
    most_years: float
    sheet: str
    basis: str
    source: str


class Unsuited(NamedTuple):
    """A coating on a surface it does not suit, and why: said, never refused."""

    coating: str
    on: str
    says: str
    basis: str
    source: str


class Spread(NamedTuple):
    """Square metres a litre covers in one coat, and waste."""

    id: str
    low_m2_l: float
    usual_m2_l: float
    high_m2_l: float
    waste_percent: float
    basis: str
    source: str


class Rate(NamedTuple):
    """Minutes for one of a unit, by a trade's hand on the ground."""

    id: str
    unit: str
    low_minutes: float
    usual_minutes: float
    high_minutes: float
    basis: str
    source: str


class MortarRow(NamedTuple):
    """Mortar (m³) on a square metre, and its parts of sand to one of binder."""

    id: str
    m3_m2: float
    parts_sand: float
    basis: str
    source: str


class ZincAir(NamedTuple):
    """How fast a kind of air takes zinc (micrometres a year)."""

    id: str
    place: str
    low_um_year: float
    high_um_year: float
    basis: str
    source: str


class BeforeWinter(NamedTuple):
    """Steps of a sheet that must be done so many weeks before the first early frost, and why."""

    sheet: str
    steps: tuple[str, ...]
    weeks: int
    why: str


class NewWork(NamedTuple):
    """Days that new work waits before it is coated, and how to tell."""

    id: str
    low_days: int
    high_days: int
    says: str
    basis: str
    source: str


class Part(NamedTuple):
    """Years until a part of a building is renewed."""

    id: str
    years: float
    basis: str
    source: str


@cache
def coatings() -> Mapping[str, Coating]:
    """Coatings by id."""
    return {one["id"]: Coating(**{**one, "on": tuple(one["on"])}) for one in _doc()["coating"]}


def unsuited(coating: str, surface: str) -> str:
    """Why a coating does not suit a surface; "" when nothing speaks against it."""
    return next((one.says for one in misfits() if (one.coating, one.on) == (coating, surface)), "")


@cache
def misfits() -> tuple[Unsuited, ...]:
    """Everything that does not belong together."""
    return tuple(Unsuited(**one) for one in _doc()["unsuited"])


@cache
def spreads() -> Mapping[str, Spread]:
    """What a litre covers, by what it is and on what."""
    return {one["id"]: Spread(**one) for one in _doc()["spread"]}


@cache
def rates() -> Mapping[str, Rate]:
    """Rates of work."""
    return {one["id"]: Rate(**one) for one in _doc()["rate"]}


@cache
def mortars() -> Mapping[str, MortarRow]:
    """Mortar and render by the job."""
    return {one["id"]: MortarRow(**one) for one in _doc()["mortar"]}


@cache
def zinc_airs() -> Mapping[str, ZincAir]:
    """Zinc by kind of air, C1 to C5."""
    return {one["id"]: ZincAir(**one) for one in _doc()["zinc"]}


@cache
def parts() -> Mapping[str, Part]:
    """Lives of parts of a building."""
    return {one["id"]: Part(**one) for one in _doc()["part"]}


@cache
def waits() -> Mapping[str, NewWork]:
    """How long new work waits, by what it is."""
    return {one["id"]: NewWork(**one) for one in _doc()["wait"]}


@cache
def repair_order() -> tuple[Link, ...]:
    """The steps of a rendered wall over a brick plinth, in their order, with the days between them."""
    return tuple(Link(one["what"], one["lag_days"]) for one in _doc()["order"])


@cache
def before_winter() -> tuple[BeforeWinter, ...]:
    """What must be sound before the first frost: upkeep-winter.toml."""
    found = loads(files("app.sheets").joinpath("upkeep-winter.toml").read_text(encoding="utf-8"))["winter"]
    return tuple(BeforeWinter(one["sheet"], tuple(one["steps"]), one["weeks"], one["why"]) for one in found)


@cache
def limits() -> Mapping[str, Limits]:
    """What each kind of coating asks of the weather."""
    return {
        one["id"]: Limits(one["least_c"], one["most_humidity_percent"], one["dry_hours_after"])
        for one in _doc()["limit"]
    }


@cache
def _doc() -> dict[str, Any]:
    return loads(files("app.sheets").joinpath("upkeep-tables.toml").read_text(encoding="utf-8"))
