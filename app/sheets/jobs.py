"""What a step takes and gives: labour, needs, what it uses and makes, hours that matter, daily rounds."""

import re
from typing import Literal, cast

from app.rules.moment import Given
from app.rules.step import Labour, Make, Needs, Round, Timed, Use
from app.rules.terms import Value
from app.sheets.facts import NUMBERS, UNITS
from app.sheets.givens import named, origin
from app.sheets.moments import inner
from app.sheets.values import STEP_ID, Table, found_instead, is_number, meant, shown

MAKES = ("lot", "seed", "stage", "entry")
_CLOCK = re.compile(r"([01]\d|2[0-3]):([0-5]\d)")


def _per(table: Table) -> str:
    name, facts = table.text("per"), table.reading.facts
    if name and name not in facts:
        table.fault("per", f"the sheet asks for no fact '{name}'{meant(name, facts)}")
    elif name and facts[name].kind not in NUMBERS and facts[name].kind:
        table.fault("per", f"'{name}' is asked as {facts[name].kind}; expected a number")
    return name


def labour(table: Table) -> Labour:
    """Minutes of work."""
    value = table.take("minutes")
    if value is None or is_number(value):
        return Labour(table.number("minutes", 0) or 0.0)
    below = table.table("minutes")
    if below is None:
        return Labour(0.0)
    found = Labour(below.number("base", 0) or 0.0, below.number("each", 0) or 0.0, _per(below))
    if below.has("each") != below.has("per"):
        below.fault("per" if below.has("each") else "each", "is missing; each and per go together")
    below.close()
    return found


def needs(table: Table) -> Needs:
    """What a job needs of the day and of the house."""
    below = table.table("needs")
    if below is None:
        return Needs()
    found = Needs(
        below.flag("dry"),
        below.flag("still"),
        below.flag("no_frost"),
        below.number("above_c", -30, 60),
        below.number("below_c", -30, 60),
        below.number("surface_above_dew_c", 0, 20),
        below.whole("people", 1) or 1,
        below.text("kit"),
        below.text("room"),
    )
    if found.above_c is not None and found.below_c is not None and found.above_c >= found.below_c:
        below.fault("above_c", f"{found.above_c:g} leaves nothing below {found.below_c:g}")
    below.close()
    return found


def uses(table: Table) -> tuple[Use, ...]:
    """What a job uses up."""
    found = []
    for below in table.tables("uses"):
        amount = below.number("amount", 0)
        if "amount" not in below.doc:
            below.fault("amount", "is missing; expected a number")
        found.append(Use(below.text("what", needed=True), amount or 0, below.text("unit", needed=True), _per(below)))
        below.close()
    return tuple(found)


def makes(table: Table) -> tuple[Make, ...]:
    """What a job makes."""
    return tuple(make for below in table.tables("makes") if (make := _make(below)))


def _make(table: Table) -> Make | None:
    kinds = [kind for kind in MAKES if kind in table.doc]
    if len(kinds) != 1:
        there = found_instead(table.doc, MAKES, ("sheet", "unit", "facts"))
        table.fault("", f"found {there}; expected exactly one of {', '.join(MAKES)}")
        return None
    kind = cast(Literal["lot", "seed", "stage", "entry"], kinds[0])
    name = table.text(kind)
    if kind == "entry":
        made = _made_entry(table, name)
    elif kind == "stage":
        made = Make(kind, name)
    else:
        amount, unit = _amount(table)
        keeps = table.span("keeps") if table.has("keeps") else None
        of = cast(Literal["", "quality", "safety"], table.choice("basis", ("quality", "safety")))
        made = Make(kind, name, "", amount, unit, keeps, table.text("where"), basis=of)
    table.close()
    return made


def _made_entry(table: Table, name: str) -> Make:
    if name and not STEP_ID.fullmatch(name):
        table.fault(
            "entry", f"found {shown(name)}; an id is small letters, digits and hyphens, and begins with a letter"
        )
    facts: dict[str, Given] = {}
    below = table.table("facts")
    for key in below.doc if below else ():
        if below and (found := origin(below, key)):
            facts[key] = found
            if found.of == "all":
                below.fault(key, 'a fact has one value; give it the latest, as "step.x"')
    otherwise: dict[str, Value] = {}
    below = table.table("else")
    for key in below.doc if below else ():
        if below and isinstance(value := below.take(key), str | bool | int | float):
            otherwise[key] = value
        elif below:
            below.fault(key, f"found {shown(below.take(key))}, expected a number, a text, true or false")
    return Make("entry", name, table.text("sheet", needed=True), facts=facts, otherwise=otherwise)


def _amount(table: Table) -> tuple[str, str]:
    text, unit = table.text("amount"), table.text("unit")
    found = named(table, "amount", text) if text else None
    if found is not None and found.of == "fact":
        table.fault("amount", f"'{text}' is a fact; expected a measure of a step, such as 'lift.kg'")
    elif found is not None:
        kind = table.reading.asks[found.step][found.name].kind
        if kind and kind not in NUMBERS:
            table.fault("amount", f"'{text}' is asked as {kind}; expected a number")
        elif kind in UNITS and unit and unit != kind:
            table.fault("unit", f"found {shown(unit)}, but '{text}' is asked in {kind}")
    if bool(text) != bool(unit):
        table.fault("unit" if text else "amount", "is missing; amount and unit go together")
    return text, unit


def timed(table: Table) -> Timed | None:
    """Hours that matter."""
    below = table.table("timed")
    if below is None:
        return None
    text = below.text("starts", needed=True)
    clock = _CLOCK.fullmatch(text)
    if text and not clock:
        below.fault("starts", f"found {shown(text)}, expected a time of day such as '18:00'")
    hours = below.number("hours", 0)
    if not hours:
        below.fault("hours", "expected how many hours it runs, more than none")
    every = below.number("look_every_hours", 0)
    below.close()
    starts = int(clock[1]) * 60 + int(clock[2]) if clock else 0
    return Timed(starts, hours or 0, every or 0)


def daily_round(table: Table) -> Round | None:
    """Standing work of every day."""
    below = table.table("round")
    if below is None:
        return None
    at = cast(Literal["morning", "evening"], below.choice("at", ("morning", "evening"), "morning", needed=True))
    until = inner(below, "until")
    below.close()
    for key in ("again", "opens", "closes", "missed", "makes", "timed"):
        if table.has(key):
            table.fault(key, "has no meaning for a round, which is every day's and never owed")
    return Round(at, until)
