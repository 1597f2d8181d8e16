"""What is usual of each kind of animal: species.toml and feed.toml."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any, NamedTuple

from app.trade.livestock.budget import Ate


class Days(NamedTuple):
    """Days to birth or to the hatch, shortest, usual, longest."""

    species: str
    low_days: int
    best_days: int
    high_days: int
    basis: str
    source: str


class Heat(NamedTuple):
    """Days from heat to heat, hours it lasts, and the season of it in words."""

    species: str
    low_days: int
    best_days: int
    high_days: int
    low_hours: float
    high_hours: float
    season: str
    basis: str
    source: str


class Brood(NamedTuple):
    """Warmth in the first week in °C, and the weeks of age at which heat may end in mild weather."""

    species: str
    start_c: float
    low_weeks: int
    high_weeks: int
    basis: str
    source: str


class Weight(NamedTuple):
    """Live weight: rows of (weeks, kg)."""

    kind: str
    rows: tuple[tuple[float, float], ...]
    basis: str
    source: str


class LayerKind(NamedTuple):
    """First egg in weeks of age, and eggs a year."""

    kind: str
    low_weeks: int
    high_weeks: int
    low_eggs: int
    high_eggs: int
    basis: str
    source: str


class Dressing(NamedTuple):
    """Carcase in % of live weight, and what is packed in % of the carcase."""

    kind: str
    low_percent: float
    best_percent: float
    high_percent: float
    packed_percent: float
    basis: str
    source: str


class Eats(NamedTuple):
    """What one animal takes of a thing in a day, from an age in days to another (None: to its end)."""

    kind: str
    what: str
    from_d: int
    to_d: int | None
    low: float
    best: float
    high: float
    unit: str
    basis: str
    source: str


class Drinks(NamedTuple):
    """Litres a thousand birds drink in a day, by ``by``: rows of (weeks or %, litres)."""

    kind: str
    by: str
    rows: tuple[tuple[float, float], ...]
    basis: str
    source: str


@cache
def births() -> Mapping[str, Days]:
    """Days in young by species."""
    return {one["species"]: Days(**one) for one in _doc("species")["birth"]}


@cache
def hatches() -> Mapping[str, Days]:
    """Days in the shell by species."""
    return {one["species"]: Days(**one) for one in _doc("species")["hatch"]}


@cache
def heats() -> Mapping[str, Heat]:
    """Heats by species."""
    return {one["species"]: Heat(**one) for one in _doc("species")["heat"]}


@cache
def broods() -> Mapping[str, Brood]:
    """Brooder warmth by species."""
    return {one["species"]: Brood(**one) for one in _doc("species")["brood"]}


@cache
def weights() -> Mapping[str, Weight]:
    """Weights by kind of bird or beast."""
    return {one["kind"]: Weight(**{**one, "rows": _rows(one)}) for one in _doc("species")["weight"]}


@cache
def layers() -> Mapping[str, LayerKind]:
    """Layers by kind."""
    return {one["kind"]: LayerKind(**one) for one in _doc("species")["layer"]}


@cache
def dressings() -> Mapping[str, Dressing]:
    """Carcase and cuts by kind."""
    return {one["kind"]: Dressing(**one) for one in _doc("species")["dressing"]}


@cache
def eats() -> Mapping[str, tuple[Eats, ...]]:
    """Feed, water and bedding by kind, in the order of age."""
    found: dict[str, tuple[Eats, ...]] = {}
    for one in _doc("feed")["eat"]:
        found[one["kind"]] = (*found.get(one["kind"], ()), Eats(**{"to_d": None, **one}))
    return found


def takes(kind: str) -> tuple[Ate, ...]:
    """What one of a kind takes a day, at the usual figure, as `app.trade.livestock.budget.daily` wants it.

    Raises: KeyError for a kind that feed.toml has not.
    """
    return tuple(Ate(one.what, one.from_d, one.to_d, one.best) for one in eats()[kind])


@cache
def drinks() -> Mapping[str, Drinks]:
    """Water of birds by kind."""
    return {one["kind"]: Drinks(**{**one, "rows": _rows(one)}) for one in _doc("feed")["drink"]}


def _rows(one: Mapping[str, Any]) -> tuple[tuple[float, float], ...]:
    return tuple((float(at), float(value)) for at, value in one["rows"])


def _doc(name: str) -> dict[str, Any]:
    return loads(files("app.sheets").joinpath(f"{name}.toml").read_text(encoding="utf-8"))
