"""What a group of each sheet is taken as: its feed, its lay, its carcase (livestock-keep.toml)."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any, NamedTuple

from app.sheets.livestock_tables import Eats, eats


class Takes(NamedTuple):
    """A row of feed.toml within an age in days (``to_d`` None: to its end); ``winter`` alone, or all year."""

    row: Eats
    from_d: int
    to_d: int | None
    winter: bool


class Keep(NamedTuple):
    """A group of a sheet: ``age`` the fact of its age as it came, ``age_d`` the usual one; ``ends`` the step after
    which it is gone; ``same`` the sheet whose animals these are; kinds of species.toml, "" where none fits."""

    sheet: str
    takes: tuple[Takes, ...]
    age: str = ""
    age_d: int = 0
    ends: str = ""
    same: str = ""
    drink: str = ""
    layer: str = ""
    carcase: str = ""
    weight: str = ""


@cache
def keeps() -> Mapping[str, Keep]:
    """Groups by sheet."""
    return {one["sheet"]: _keep(one) for one in _doc()["keep"]}


def _keep(one: Mapping[str, Any]) -> Keep:
    rows = [row for said in one["takes"] for row in _takes(said)]
    return Keep(**{**one, "takes": tuple(rows)})


def _takes(said: Mapping[str, Any]) -> list[Takes]:
    found = []
    for row in eats()[said["kind"]]:
        if said.get("only", row.what) != row.what:
            continue
        first = max(row.from_d, said.get("from_d", 0))
        ends = [end for end in (row.to_d, said.get("to_d")) if end is not None]
        found.append(Takes(row, first, min(ends) if ends else None, said.get("winter", False)))
    return found


def _doc() -> dict[str, Any]:
    return loads(files("app.sheets").joinpath("livestock-keep.toml").read_text(encoding="utf-8"))
