"""Law on animals by nation and date: livestock-law.toml. Without a nation, or on a day no row covers, no answer."""

from collections.abc import Mapping, Sequence
from datetime import date
from functools import cache
from importlib.resources import files
from tomllib import loads
from typing import Any, NamedTuple

from app.rules.terms import Nation
from app.trade.livestock.ages import Term
from app.trade.livestock.standstill import Hold
from app.trade.livestock.withdrawal import Commodity, Floor


class Told(NamedTuple):
    """Where a row holds, from when to when (day numbers, ``last`` None: still), and where and when it was read."""

    nations: tuple[str, ...]
    first: int
    last: int | None
    basis: str
    source: str
    checked: int

    def holds(self, nation: str, day: int) -> bool:
        """Whether it is law there on a day."""
        return nation in self.nations and self.first <= day and (self.last is None or day <= self.last)


class Order(NamedTuple):
    """What changes by order of an authority: a switch, with what is said beside it."""

    what: str
    nations: tuple[str, ...]
    says: str
    source: str
    checked: int


class Inventory(NamedTuple):
    """The day on which sheep and goats are counted, and the last on which the count may come in, as day numbers."""

    counted: int
    due: int
    told: Told


def standstill(nation: Nation | None, day: int) -> tuple[tuple[Hold, Told], ...] | None:
    """The rows of a nation's standstill on a day of arrival; None where nothing is told, empty where there is none.

    Source: each row's own.
    """
    rows = [(_hold(one), told) for one, told in _rows("standstill") if nation and told.holds(nation, day)]
    return tuple(row for row in rows if row[0].held) if rows else None


def withdrawal_floor(nation: Nation | None, commodity: Commodity, day: int) -> tuple[Floor, Told] | None:
    """The least figure off the label in a nation on a day; with no nation said, the strictest told for that day.

    A floor only refuses a figure that is too low, so the strictest errs on the safe side. None where nothing is told.
    Source: each row's own.
    """
    rows = [
        (_floor(one), told)
        for one, told in _rows("floor")
        if one["commodity"] == commodity and (told.holds(nation, day) if nation else _anywhere(told, day))
    ]
    return max(rows, key=lambda row: (row[0].unauthorised_days, row[0].flat_days, row[0].zero_days), default=None)


def term(nation: Nation | None, what: str, species: str, day: int) -> tuple[Term, Told] | None:
    """A term by age or event (``ring``, ``both tags`` ..) of a species; None where nothing is told.

    Source: each row's own.
    """
    for one, told in _rows("term"):
        if one["what"] == what and species in one["species"] and nation and told.holds(nation, day):
            return Term(one.get("days", 0), one.get("months", 0)), told
    return None


def inventory(nation: Nation | None, year: int) -> Inventory | None:
    """The yearly count of sheep and goats in a year; None where nothing is told.

    Source: each row's own.
    """
    for one, told in _rows("inventory"):
        counted, by = date(year, *one["on"]).toordinal(), date(year, *one["by"]).toordinal()
        if nation and told.holds(nation, counted):
            return Inventory(counted, by if by >= counted else date(year + 1, *one["by"]).toordinal(), told)
    return None


@cache
def orders() -> tuple[Order, ...]:
    """What changes by order, and is switched on and off with its date by the household."""
    return tuple(
        Order(one["what"], tuple(one["nations"]), one["says"], one["source"], one["checked"].toordinal())
        for one in _doc()["order"]
    )


def _anywhere(told: Told, day: int) -> bool:
    return any(told.holds(nation, day) for nation in told.nations)


def _hold(one: Mapping[str, Any]) -> Hold:
    return Hold(tuple(one["came"]), tuple(one["held"]), one["days"])


def _floor(one: Mapping[str, Any]) -> Floor:
    figures = ("factor", "unauthorised_days", "zero_days", "flat_days")
    return Floor(one["commodity"], **{name: one[name] for name in figures if name in one})


@cache
def _rows(kind: str) -> Sequence[tuple[Mapping[str, Any], Told]]:
    return tuple((one, _told(one)) for one in _doc()[kind])


def _told(one: Mapping[str, Any]) -> Told:
    last = one["to"].toordinal() if "to" in one else None
    return Told(
        tuple(one["nations"]), one["from"].toordinal(), last, one["basis"], one["source"], one["checked"].toordinal()
    )


@cache
def _doc() -> dict[str, Any]:
    return loads(files("app.sheets").joinpath("livestock-law.toml").read_text(encoding="utf-8"))
