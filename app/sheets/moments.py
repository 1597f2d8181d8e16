"""Moments: the one reader of every date on a sheet."""

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Literal, cast

from app.rules.moment import MARKS, EntryDate, Mark, Moment, Said, StepDay, TickDay, Warmth, Work, YearDay
from app.rules.spans import Span
from app.sheets.givens import computation, given, named
from app.sheets.values import Table, found_instead, meant, shown

KINDS = ("entry", "step", "tick", "day", "mark", "said", "warmth", "work")
ENTRY = EntryDate("date")
"""What a moment is since when the sheet does not say."""
_MODIFIERS = ("by", "since", "before", "else", "which", "days", "given", "base", "chance", "c", "hours")

_DAY = re.compile(r"--(\d\d)-(\d\d)")
_LENGTHS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_LIMITS = {"chance": (1, 99), "c": (-20, 40), "hours": (0, 24)}


def moment(table: Table | None, *, yearly: bool = False) -> Moment | None:
    """Read a moment. A ``yearly`` one stands in every year by itself and is since nothing (spells, law of the land)."""
    if table is None:
        return None
    kinds = [kind for kind in KINDS if kind in table.doc]
    if len(kinds) != 1:
        found = found_instead(table.doc, KINDS, _MODIFIERS)
        table.fault("", f"found {found}; a moment has exactly one of {', '.join(KINDS)}")
        return None
    if yearly and kinds[0] not in ("day", "mark"):
        table.fault("", f"found '{kinds[0]}'; expected a day or a mark, which come every year")
        return None
    before = len(table.reading.faults)
    found_moment = _READERS[kinds[0]](table, yearly)
    table.close()
    return found_moment if len(table.reading.faults) == before else None


def inner(table: Table, key: str) -> Moment | None:
    """The moment under a key of a table, None when it is not there or can't be read."""
    return moment(table.table(key))


def anchors(table: Table, yearly: bool) -> tuple[Moment | None, Moment | None]:
    """What a moment is since or before: the entry's date when the sheet does not say."""
    if yearly:
        for key in ("since", "before"):
            if table.has(key):
                table.take(key)
                table.fault(key, "has no place here: this comes round every year")
        return None, None
    since, before = inner(table, "since"), inner(table, "before")
    if table.has("since") and table.has("before"):
        table.fault("before", "found both since and before; expected one of them")
    if not table.has("since") and not table.has("before"):
        since = ENTRY
    return since, before


def _entry(table: Table, _: bool) -> Moment:
    name = table.text("entry")
    facts = table.reading.facts
    if name and name not in facts:
        table.fault("entry", f"the sheet asks for no fact '{name}'{meant(name, facts)}")
    elif name and facts[name].kind not in ("date", ""):
        table.fault("entry", f"'{name}' is asked as {facts[name].kind}; expected a date")
    return EntryDate(name, table.span("by"))


def step_name(table: Table, key: str) -> str:
    """The id of a step that is there."""
    name = table.text(key, needed=True)
    if name and name not in table.reading.asks:
        table.fault(key, f"there is no step '{name}'{meant(name, table.reading.asks)}")
    return name


def which(table: Table) -> Literal["", "first", "last"]:
    """Which of several cycles is meant."""
    return cast(Literal["", "first", "last"], table.choice("which", ("first", "last")))


def _step(table: Table, _: bool) -> Moment:
    return StepDay(step_name(table, "step"), which(table), table.span("by"))


def _tick(table: Table, _: bool) -> Moment:
    name, days = step_name(table, "tick"), table.text("days")
    if days:
        measure(table, "days", days, "d", name)
    return TickDay(name, days, table.span("by"))


def measure(table: Table, key: str, text: str, kind: str, step: str) -> None:
    """Check that ``text`` names a measure of that kind, asked at that step."""
    found = named(table, key, text)
    if found is None:
        return
    if found.step != step:
        table.fault(key, f"found {shown(text)}, expected a measure of the step '{step}' itself")
        return
    ask = table.reading.asks[found.step][found.name]
    if ask.kind not in (kind, ""):
        table.fault(key, f"'{text}' is asked as {ask.kind}; expected {kind}")


def _day(table: Table, yearly: bool) -> Moment:
    text = table.text("day")
    found = _DAY.fullmatch(text)
    month, day = (int(found[1]), int(found[2])) if found else (0, 0)
    if not (1 <= month <= 12 and 1 <= day <= _LENGTHS[month - 1]):
        table.fault("day", f"found {shown(text)}, expected a day of the year such as '--04-10'")
    elif (month, day) == (2, 29):
        table.fault("day", "29 February does not come every year; expected '--02-28' or '--03-01'")
    since, before = anchors(table, yearly)
    return YearDay(month, day, since, before, table.span("by"))


def _mark(table: Table, yearly: bool) -> Moment:
    name = table.choice("mark", MARKS)
    key = MARKS.get(name, "")
    value = table.number(key, *_LIMITS[key]) if key else None
    others = [other for other in _LIMITS if table.has(other) and other != key]
    if key and (others or key not in table.doc):
        table.fault(others[0] if others else key, f"'{name}' is given with {key}, and with nothing else")
    since, before = anchors(table, yearly)
    return Mark(name, value or 0, since, before, table.span("by"), inner(table, "else"))


def _said(table: Table, _: bool) -> Moment:
    text = table.text("said")
    found = named(table, "said", text) if text else None
    if found is not None and found.of == "fact":
        table.fault("said", f"'{text}' is a fact; write entry = \"{found.name}\"")
    elif found is not None and table.reading.asks[found.step][found.name].kind not in ("date", ""):
        table.fault("said", f"'{text}' is asked as {table.reading.asks[found.step][found.name].kind}; expected a date")
    if not table.has("else"):
        table.fault("else", "is missing; expected the moment to plan with until it is said")
    otherwise = inner(table, "else")
    by = table.span("by")
    return Said(found.step if found else "", found.name if found else "", otherwise or ENTRY, by)


def _warmth(table: Table, _: bool) -> Moment:
    total, base = table.number("warmth", 1), table.number("base", -5, 30)
    if "base" not in table.doc:
        table.fault("base", "is missing; expected the temperature above which warmth is counted, in °C")
    since = inner(table, "since") if table.has("since") else ENTRY
    return Warmth(total or 0, base or 0, since or ENTRY, table.span("by"))


def _work(table: Table, _: bool) -> Moment:
    since, before = anchors(table, yearly=False)
    return computed(table, since, before, table.span("by")) or ENTRY


def computed(table: Table, since: Moment | None, before: Moment | None, by: Span) -> Work | None:
    """The named computation of a table, and what it is given."""
    name = table.text("work", needed=True)
    call = computation(table, name) if name else None
    if call is None:
        table.has("given")
        return None
    return Work(name, call, given(table, call), since, before, by)


_READERS: Mapping[str, Callable[[Table, bool], Moment]] = {
    "entry": _entry,
    "step": _step,
    "tick": _tick,
    "day": _day,
    "mark": _mark,
    "said": _said,
    "warmth": _warmth,
    "work": _work,
}


def parts(one: Moment | Any) -> Iterator[Moment]:
    """A moment and every moment that it rests on."""
    yield one
    for name in ("since", "before", "otherwise"):
        below = getattr(one, name, None)
        if below is not None:
            yield from parts(below)
