"""What keeping a crop asks for: stores.toml."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any, NamedTuple


class Blanch(NamedTuple):
    """Minutes in boiling water before freezing; 0 where it is not blanched."""

    crop: str
    minutes: float
    basis: str
    source: str


class RawStore(NamedTuple):
    """Warmth and damp of a store and the months in it; colder than ``chill_c`` hurts. ``cure`` comes before it."""

    crop: str
    store_c: float
    humidity_percent: float
    least_months: float
    most_months: float
    chill_c: float
    basis: str
    source: str
    cure: str = ""


class Dry(NamedTuple):
    """Water and refuse of a raw crop, and the water left when it is dry."""

    crop: str
    water_percent: float
    refuse_percent: float
    target_percent: float
    basis: str
    source: str


@cache
def blanching() -> Mapping[str, Blanch]:
    """Minutes by crop."""
    return {one["crop"]: Blanch(**one) for one in _doc()["blanch"]}


@cache
def raw_stores() -> Mapping[str, RawStore]:
    """Stores by crop."""
    return {one["crop"]: RawStore(**one) for one in _doc()["raw"]}


@cache
def dry_crops() -> Mapping[str, Dry]:
    """Water, refuse and target by crop."""
    return {one["crop"]: Dry(**one) for one in _doc()["dry"]}


def _doc() -> dict[str, Any]:
    return loads(files("app.sheets").joinpath("stores.toml").read_text(encoding="utf-8"))
