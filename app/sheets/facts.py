"""What is asked: the facts of an entry and the measures of a step."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from app.rules.terms import ASK_KINDS, Ask, Value
from app.sheets.values import FACT_ID, Table, is_number, meant, shown

UNITS = frozenset({"kg", "g", "mm", "cm", "m", "m2", "l", "ml", "c", "%", "d", "h", "min"})
NUMBERS = UNITS | {"count"}
_SUFFIXES = {unit: unit for unit in UNITS - {"%"}} | {"percent": "%", "days": "d", "hours": "h", "minutes": "min"}


def unit_of(name: str) -> str:
    """The unit that a name ends in (``thickness_mm``), "" for a name without one."""
    head, _, tail = name.rpartition("_")
    return "" if "_per" in head or head.startswith("per") else _SUFFIXES.get(tail, "")


def asks(table: Table | None) -> dict[str, Ask]:
    """Every fact or measure of a table; one that can't be read has no kind, so that its name at least is known."""
    return {} if table is None else {name: _ask(table, name) or Ask(name, "") for name in table.doc}


def _ask(table: Table, name: str) -> Ask | None:
    value = table.take(name)
    if not FACT_ID.fullmatch(name):
        table.fault(name, "a fact's name is small letters, digits and underscores, and begins with a letter")
    if not isinstance(value, Mapping):
        return _of_kind(table, name, name, value)
    below = table.below(name, value)
    known = below.has("asks")
    if not known:
        below.fault("asks", f"is missing; expected {_EXPECTED}")
    found = (_of_kind(below, "asks", name, below.take("asks")) if known else None) or Ask(name, "")
    low, high = _bound(below, "low", found.kind), _bound(below, "high", found.kind)
    if low is not None and high is not None and low > high:
        below.fault("low", f"{low:g} lies above high, {high:g}")
        low = high = None
    full = found._replace(label=below.text("label"), low=low, high=high, optional=below.flag("optional"))
    if below.has("else") and found.kind:
        full = full._replace(default=_default(below, full))
    below.close()
    return full


_EXPECTED = f"a list of choices or one of: {', '.join(ASK_KINDS)}"


def _of_kind(table: Table, key: str, name: str, value: Any) -> Ask | None:
    if isinstance(value, list):
        if len(value) < 2 or len(set(map(str, value))) < len(value) or not all(isinstance(one, str) for one in value):
            table.fault(key, "expected a list of two or more different texts to choose from")
            return None
        return Ask(name, "choice", choices=tuple(value))
    if not isinstance(value, str) or value not in ASK_KINDS:
        hint = meant(value, ASK_KINDS) if isinstance(value, str) else f"; expected {_EXPECTED}"
        table.fault(key, f"found {shown(value)}, which is nothing that can be asked{hint}")
        return None
    unit = unit_of(name)
    if unit and value in UNITS and unit != value:
        table.fault(key, f"found the unit {shown(value)}, but the name {name} says {unit}")
    return Ask(name, value)


def _bound(table: Table, key: str, kind: str) -> float | None:
    if table.has(key) and kind and kind not in NUMBERS:
        table.fault(key, f"has no meaning for a fact that is {kind}, not a number")
        return None
    return table.number(key)


def _default(table: Table, one: Ask) -> Value | None:
    value = table.take("else")
    if isinstance(value, date) and not isinstance(value, datetime):
        value = value.toordinal() if one.kind == "date" else value
    elif one.kind == "date":
        table.fault("else", f"found {shown(value)}, expected a date such as 2027-03-10")
        return None
    wrong = misfit(one, value)
    if wrong:
        table.fault("else", wrong)
        return None
    return value  # type: ignore[no-any-return]


def misfit(one: Ask, value: object) -> str:
    """Why a value is no answer to what is asked, "" when it is one."""
    if not one.kind:
        return ""
    if one.kind in NUMBERS or one.kind == "date":
        if not is_number(value):
            return f"found {shown(value)}, expected a number ({one.kind})"
        assert isinstance(value, int | float)
        if one.low is not None and value < one.low:
            return f"found {shown(value)}, which is below low, {one.low:g}"
        if one.high is not None and value > one.high:
            return f"found {shown(value)}, which is above high, {one.high:g}"
        return ""
    if one.kind == "yes or no":
        return "" if isinstance(value, bool) else f"found {shown(value)}, expected true or false"
    if not isinstance(value, str):
        return f"found {shown(value)}, expected a text"
    if one.kind == "choice" and value not in one.choices:
        return f"found {shown(value)}, which is not among the choices{meant(value, one.choices)}"
    return ""
