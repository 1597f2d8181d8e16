"""How much nitrite may go into cured meat, by whose law applies and on which day: cure-law.toml."""

from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any, NamedTuple

from app.trade.meat.nitrite import as_sodium_nitrite_ppm
from app.trade.meat.nitrite_law import Jurisdiction, Limit, Product


class Dated(NamedTuple):
    """A limit, whose law it is, of which products, and from when to when (day numbers, ``last`` None: still)."""

    law: str
    products: tuple[str, ...]
    first: int
    last: int | None
    limit: Limit
    source: str
    checked: int


def nitrite_limit(jurisdiction: Jurisdiction, product: Product, day: int) -> Limit | None:
    """The most nitrite that may go in on a day (a day number); None where nothing is told for it.

    Source: each row's own; read in quotations, so check your country's own text.
    """
    found = (one.limit for one in limits() if one.law == jurisdiction and product in one.products and _holds(one, day))
    return next(found, None)


@cache
def limits() -> tuple[Dated, ...]:
    """Every row."""
    text = files("app.sheets").joinpath("cure-law.toml").read_text(encoding="utf-8")
    return tuple(_dated(one) for one in loads(text)["nitrite"])


def _holds(one: Dated, day: int) -> bool:
    return one.first <= day and (one.last is None or day <= one.last)


def _dated(one: dict[str, Any]) -> Dated:
    most = as_sodium_nitrite_ppm(one["most_ion"]) if "most_ion" in one else float(one["most"])
    limit = Limit(most, one["says"], float(one["usual"]), one.get("note", ""), float(one["aim"]))
    last = one["to"].toordinal() if "to" in one else None
    first, checked = one["from"].toordinal(), one["checked"].toordinal()
    return Dated(one["law"], tuple(one["products"]), first, last, limit, one["source"], checked)
