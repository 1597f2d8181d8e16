"""Where values come from (`entry.x`, `step.x`), and whether a computation can take what it is given."""

import inspect
from collections.abc import Callable, Mapping
from enum import Enum
from functools import lru_cache
from types import UnionType
from typing import Any, Literal, NamedTuple, Union, get_args, get_origin, get_type_hints

from app.rules.moment import Given
from app.rules.terms import Ask
from app.sheets.facts import NUMBERS, UNITS, unit_of
from app.sheets.values import Reading, Table, found_instead, is_number, meant, shown
from app.trade import register

SUPPLIED = frozenset({"season", "on", "job"})
"""The parameters that planning fills in itself."""


class Parameter(NamedTuple):
    """What a parameter takes: ``kinds`` of value (none: anything), and its ``choices`` when it lists them."""

    name: str
    needed: bool
    kinds: frozenset[str]
    choices: tuple[str, ...]


@lru_cache(maxsize=1024)
def parameters(call: Callable[..., Any]) -> Mapping[str, Parameter]:
    """What a computation must be given, by name."""
    try:
        hints = get_type_hints(call)
    except (NameError, TypeError):
        hints = {}
    found = {}
    for name, one in inspect.signature(call).parameters.items():
        if name in SUPPLIED or one.kind in (one.VAR_POSITIONAL, one.VAR_KEYWORD):
            continue
        kinds, choices = _takes(hints.get(name, Any))
        needed = one.default is one.empty and "nothing" not in kinds
        found[name] = Parameter(name, needed, frozenset(kinds - {"nothing"}), tuple(choices))
    return found


def _takes(hint: Any) -> tuple[set[str], list[str]]:
    hint = getattr(hint, "__supertype__", hint)
    origin = get_origin(hint)
    if origin in (Union, UnionType):
        parts = [_takes(part) for part in get_args(hint)]
        if any(not kinds for kinds, _ in parts):
            return set(), []
        return set().union(*(kinds for kinds, _ in parts)), [one for _, choices in parts for one in choices]
    if origin is Literal:
        return {"text"}, [one for one in get_args(hint) if isinstance(one, str)]
    if hint is type(None):
        return {"nothing"}, []
    if hint in (int, float):
        return {"number"}, []
    if hint in (str, bool):
        return {"text" if hint is str else "yes or no"}, []
    if isinstance(hint, type) and issubclass(hint, Enum):
        return {"text"}, [one.value for one in hint if isinstance(one.value, str)]
    if origin is not None and isinstance(origin, type) and issubclass(origin, Mapping):
        return set(), []
    return ({"list"}, []) if origin is not None or hint in (list, tuple) else (set(), [])


def computation(table: Table, name: str) -> Callable[..., Any] | None:
    """The computation of that name."""
    known = table.reading.known.works
    works = register.works() if known is None else known
    if name not in works:
        table.fault("work", f"there is no computation '{name}' in app/trade{meant(name, works)}")
    return works.get(name)


def given(table: Table, call: Callable[..., Any]) -> dict[str, Given]:
    """The `given` of a computation, each checked against its parameters."""
    below = table.table("given") or table.below("given", {})
    takes = parameters(call)
    found: dict[str, Given] = {}
    for name in below.doc:
        if name in SUPPLIED:
            below.take(name)
            below.fault(name, "is supplied by planning itself; leave it out")
        elif name not in takes:
            below.take(name)
            below.fault(name, f"{call.__name__} has no parameter '{name}'{meant(name, takes)}")
        elif (one := origin(below, name)) is not None:
            found[name] = one
            _fit(below, call, takes[name], one)
    for name, parameter in takes.items():
        if parameter.needed and name not in below.doc:
            below.fault(name, f"is missing; {call.__name__} can't do without it")
    return found


def origin(table: Table, key: str) -> Given | None:
    """Where one value comes from: a name, ``{ all = name }`` or ``{ value = constant }``."""
    value = table.take(key)
    if isinstance(value, str):
        return named(table, key, value)
    if isinstance(value, Mapping) and len(value) == 1 and next(iter(value)) in ("all", "value"):
        below = table.below(key, value)
        if not below.has("value"):
            text = below.text("all", needed=True)
            found = named(below, "all", text) if text else None
            if found is not None and found.of == "fact":
                below.fault("all", f"'{text}' is a fact of the entry, which has one value; give it as \"{text}\"")
                return None
            return Given("all", found.step, found.name) if found else None
        constant = below.take("value")
        if isinstance(constant, list):
            return Given("value", value=tuple(constant))
        if isinstance(constant, str | bool | int | float):
            return Given("value", value=constant)
    there = found_instead(value, ("all", "value")) if isinstance(value, Mapping) else shown(value)
    table.fault(key, f'found {there}, expected "entry.x", "step.x", {{ all = "step.x" }} or {{ value = 90 }}')
    return None


def named(table: Table, key: str, text: str) -> Given | None:
    """``entry.x`` or ``step.x``, both of them asked for."""
    reading = table.reading
    head, dot, tail = text.partition(".")
    if not dot:
        table.fault(key, f'found {shown(text)}, expected a name such as "entry.kg" or "weigh.kg"')
        return None
    if head == "entry":
        if tail not in reading.facts:
            table.fault(key, f"the sheet asks for no fact '{tail}'{meant(tail, reading.facts)}")
            return None
        return Given("fact", name=tail)
    if head not in reading.asks:
        table.fault(key, f"there is no step '{head}'{meant(head, reading.asks)}")
        return None
    if tail not in reading.asks[head]:
        table.fault(key, f"step '{head}' does not ask for '{tail}'{meant(tail, reading.asks[head])}")
        return None
    return Given("latest", head, tail)


def asked(reading: Reading, one: Given) -> Ask | None:
    """What a `Given` refers to."""
    return reading.facts.get(one.name) if one.of == "fact" else reading.asks.get(one.step, {}).get(one.name)


def _fit(table: Table, call: Callable[..., Any], takes: Parameter, one: Given) -> None:
    ask = asked(table.reading, one)
    kind = _kind(one, ask)
    if takes.kinds and kind and kind not in takes.kinds:
        wanted = " or ".join(sorted(takes.kinds))
        table.fault(takes.name, f"{call.__name__} takes a {wanted} here, and is given a {kind}")
        return
    values = (one.value,) if one.of == "value" else ask.choices if ask else ()
    for value in values if takes.choices and one.of != "all" else ():
        if isinstance(value, str) and value not in takes.choices:
            table.fault(takes.name, f"{call.__name__} does not know '{value}'{meant(value, takes.choices)}")
    unit = unit_of(takes.name)
    if ask and unit and ask.kind in UNITS and ask.kind != unit:
        table.fault(takes.name, f"{call.__name__} wants {unit}, and '{ask.name}' is asked in {ask.kind}")
    if ask and ask.optional and ask.default is None and takes.needed and one.of != "all":
        table.fault(
            takes.name, f"{call.__name__} can't do without it, and '{ask.name}' may stay unsaid; give it an else"
        )


def _kind(one: Given, ask: Ask | None) -> str:
    if one.of == "all" or isinstance(one.value, tuple):
        return "list"
    if one.of == "value":
        return "number" if is_number(one.value) else "yes or no" if isinstance(one.value, bool) else "text"
    if ask is None or not ask.kind:
        return ""
    if ask.kind in NUMBERS or ask.kind == "date":
        return "number"
    return "yes or no" if ask.kind == "yes or no" else "text"
