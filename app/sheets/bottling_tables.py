"""The tested times for jars: bottling.toml."""

from functools import cache
from importlib.resources import files
from tomllib import loads

from app.trade.preserving.bottling import Row


@cache
def bottling_rows() -> tuple[Row, ...]:
    """Every row of every country, as it stands in the file; `row_of` picks within one country."""
    doc = loads(files("app.sheets").joinpath("bottling.toml").read_text(encoding="utf-8"))
    return tuple(Row(**{**one, "pint": tuple(one["pint"]), "quart": tuple(one["quart"])}) for one in doc["row"])
