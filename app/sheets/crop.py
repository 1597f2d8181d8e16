"""The figures of a crop: the ``[crop]`` of a sheet, read and checked."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, cast

from app.rules.crop import (
    HARDINESS,
    LIVES,
    ROTATIONS,
    Crop,
    CropWater,
    Crossing,
    Frosts,
    Growth,
    Hardiness,
    Keeping,
    Life,
    Ripeness,
    Rotation,
    SeedTest,
    Sowing,
    Spacing,
    Sprouting,
    Yield,
)
from app.sheets.sources import source
from app.sheets.values import Table, shown


@dataclass(frozen=True, slots=True)
class Figure:
    """A number within bounds, both inclusive; a ``whole`` one has no fraction."""

    low: float
    high: float
    whole: bool = False


Kind = Figure | tuple[str, ...] | type[str] | int
"""What may stand under a key: a figure, one of some words, any text, or a list of so many whole numbers."""

_SOIL: Kind = Figure(-5, 50)
_DAYS: Kind = Figure(0, 1500)
_WHOLE_DAYS: Kind = Figure(0, 1500, whole=True)
_WEEKS: Kind = Figure(-52, 52, whole=True)
_PERCENT: Kind = Figure(0, 100)
_KC: Kind = Figure(0, 2)

GROUPS: Mapping[str, tuple[Any, Mapping[str, Kind]]] = {
    "frosts": (Frosts, {"harmed_from_c": Figure(-60, 15), "killed_at_c": Figure(-60, 15)}),
    "sprouting": (
        Sprouting,
        dict.fromkeys(("least_c", "best_low_c", "best_high_c", "most_c", "base_c"), _SOIL)
        | dict.fromkeys(("days_10c", "days_15c", "days_20c"), _DAYS)
        | {"theta_cday": Figure(1, 5000)},
    ),
    "growth": (Growth, {"low_days": _WHOLE_DAYS, "high_days": _WHOLE_DAYS, "base_c": Figure(-5, 20)}),
    "spacing": (Spacing, {"plant_cm": Figure(0.5, 1500), "row_cm": Figure(0.5, 1500)}),
    "sowing": (
        Sowing,
        {"seeds_a_gram": Figure(0.05, 100_000), "seeds_each": Figure(1, 100), "again_days": Figure(1, 366, whole=True)}
        | {"indoors_weeks": Figure(0, 52, whole=True)}
        | dict.fromkeys(("indoors_to_weeks", "plant_out_weeks", "open_from_weeks", "open_to_weeks"), _WEEKS),
    ),
    "keeping": (Keeping, {"years": Figure(0.25, 50)}),
    "crossing": (
        Crossing,
        {"pollination": str, "apart_m": Figure(0, 20_000), "plants": Figure(1, 10_000, whole=True)},
    ),
    "ripeness": (
        Ripeness,
        dict[str, Kind](cue=str, months=str, cleaning=("dry", "wet", "ferment"))
        | dict.fromkeys(("dry_low_days", "dry_high_days", "ferment_low_days", "ferment_high_days"), _WHOLE_DAYS),
    ),
    "test": (
        SeedTest,
        {"least_percent": _PERCENT, "least_percent_eu": _PERCENT, "first_days": _WHOLE_DAYS, "final_days": _WHOLE_DAYS},
    ),
    "water": (
        CropWater,
        {"kc_start": _KC, "kc_mid": _KC, "kc_end": _KC, "root_low_m": Figure(0.05, 5), "root_high_m": Figure(0.05, 5)}
        | {"depletion": Figure(0.05, 0.95), "stages_days": 4},
    ),
    "yield": (Yield, {"kg_a_m": Figure(0.01, 100)}),
}
"""The groups of a crop's figures, each with the class it becomes and the keys it may have beside its source."""

HEAD = ("name", "many", "rotation", "life", "frost")
"""The keys of ``[crop]`` itself, beside its source."""

_RISING = (
    ("frosts", ("killed_at_c", "harmed_from_c")),
    ("sprouting", ("least_c", "best_low_c", "best_high_c", "most_c")),
    ("sprouting", ("days_20c", "days_15c", "days_10c")),
    ("growth", ("low_days", "high_days")),
    ("sowing", ("open_from_weeks", "open_to_weeks")),
    ("ripeness", ("dry_low_days", "dry_high_days")),
    ("ripeness", ("ferment_low_days", "ferment_high_days")),
    ("test", ("first_days", "final_days")),
    ("water", ("root_low_m", "root_high_m")),
)
"""The keys of a group whose figures may never fall from one to the next."""


def crop(head: Table) -> Crop | None:
    """Read the ``[crop]`` of a sheet; None when it has none."""
    there = head.table("crop")
    if there is None:
        return None
    table = Table(there.doc, there.reading, "crop")
    groups: dict[str, Any] = {"yields" if name == "yield" else name: _group(table, name) for name in GROUPS}
    found = Crop(
        rotation=cast(Rotation, table.choice("rotation", ROTATIONS, ROTATIONS[0], needed=True)),
        life=cast(Life, table.choice("life", LIVES, LIVES[0], needed=True)),
        frost=cast(Hardiness, table.choice("frost", HARDINESS, HARDINESS[0], needed=True)),
        source=source(table),
        name=table.text("name"),
        many=table.text("many"),
        **groups,
    )
    table.close()
    return found


def _group(table: Table, name: str) -> Any:
    below = table.table(name)
    if below is None:
        return None
    made, keys = GROUPS[name]
    values = {key: _value(below, key, kind) for key, kind in keys.items()}
    found = made(source=source(below), **{key: value for key, value in values.items() if value is not None})
    below.close()
    if not any(key in below.doc for key in keys):
        below.fault("", f"gives no figure; expected one or more of: {', '.join(keys)}")
    for group, rising in _RISING:
        if group == name:
            _ordered(below, [(key, values[key]) for key in rising if values[key] is not None])
    if name == "sprouting" and (values["base_c"] is None) != (values["theta_cday"] is None):
        below.fault("theta_cday", "a sum of warmth and its base stand together: give both base_c and theta_cday")
    return found


def _value(table: Table, key: str, kind: Kind) -> Any:
    if isinstance(kind, Figure):
        value = table.number(key, kind.low, kind.high)
        if value is not None and kind.whole and value != int(value):
            table.fault(key, f"found {shown(value)}, expected a whole number")
            return None
        return int(value) if value is not None and kind.whole else value
    if isinstance(kind, int):
        return _whole_numbers(table, key, kind)
    return (table.choice(key, kind) if isinstance(kind, tuple) else table.text(key)) or None


def _whole_numbers(table: Table, key: str, count: int) -> tuple[int, ...] | None:
    value = table.take(key)
    if value is None:
        return None
    if isinstance(value, list) and len(value) == count and all(type(one) is int and one > 0 for one in value):
        return tuple(value)
    table.fault(key, f"found {shown(value)}, expected a list of {count} whole numbers above 0")
    return None


def _ordered(table: Table, figures: list[tuple[str, float]]) -> None:
    for (low, least), (high, most) in pairwise(figures):
        if least > most:
            table.fault(low, f"{least:g} lies above {high}, {most:g}")
