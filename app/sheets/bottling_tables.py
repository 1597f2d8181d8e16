"""The tested times for jars, and what is in no table: bottling.toml."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any

from app.trade.preserving.bottling import NotBottled, Row


@cache
def bottling_rows() -> tuple[Row, ...]:
    """Every row of every country, as it stands in the file; `row_of` picks within one country."""
    return tuple(Row(**{**one, "pint": tuple(one["pint"]), "quart": tuple(one["quart"])}) for one in _doc()["row"])


@cache
def not_bottled() -> tuple[NotBottled, ...]:
    """What is refused by name."""
    return tuple(NotBottled(**one) for one in _doc()["not"])


@cache
def _doc() -> Mapping[str, Any]:
    return loads(files("app.sheets").joinpath("bottling.toml").read_text(encoding="utf-8"))
