"""What a sheet says, in words: sources, needs, uses, what is made, answers, and a household's own figures."""

from collections.abc import Iterable, Mapping
from datetime import date

from app.rules.facts import Window
from app.rules.moment import Moment
from app.rules.sheet import Sheet
from app.rules.spans import Day, Span, span, words
from app.rules.step import Labour, Make, Needs, Step, Timed, Use
from app.rules.terms import Ask, Source, Value
from app.rules.why import describe
from app.sheets.library import Library
from app.sheets.merge import Change
from app.units import said
from app.web.fields import UNITS, is_imperial, limits
from app.web.parts import Caution, Pair
from app.web.words import SP, amount, clock, day, figure, listed, minutes, window

MISSED = {
    "late": "it is late, and still worth doing",
    "lost": "it is lost, and what hangs on it with it",
    "wait": "it waits for its next season",
    "passes": "it passes; nothing is owed",
}
NATIONS = {
    "england": "England", "scotland": "Scotland", "wales": "Wales", "northern ireland": "Northern Ireland",
    "ireland": "Ireland", "elsewhere": "elsewhere",
}  # fmt: skip


def source(library: Library, one: Source | None) -> str:
    """Where something comes from: the publication with its table or page, "common practice", "from memory: …"."""
    if one is None:
        return ""
    if one.basis == "published":
        known = library.sources.get(one.key)
        if known is None:
            return one.key
        year = f", {known.year}" if known.year else ""
        where = f", {one.where}" if one.where else ""
        quoted = known.seen.startswith("quoted")
        seen = f" ({'as ' if quoted else 'seen: '}{known.seen})" if known.seen else ""
        return f"{known.title}, {known.body}{year}{where}{seen}"
    return f"from memory: {one.where}" if one.basis == "from memory" and one.where else one.basis


def cautions(library: Library, names: Iterable[str]) -> tuple[Caution, ...]:
    """What can hurt, each once, in the order given."""
    known = [library.cautions[name] for name in dict.fromkeys(names) if name in library.cautions]
    return tuple(Caution(one.text, source(library, one.source)) for one in known)


def needs(one: Needs) -> tuple[str, ...]:
    """What a job needs of the day and of the house: "a dry day", "8 °C or more", "two people"."""
    found = [
        "a dry day" if one.dry else "",
        "a still day" if one.still else "",
        "no frost" if one.no_frost else "",
        f"{amount(one.above_c, 'c')} or more" if one.above_c is not None else "",
        f"{amount(one.below_c, 'c')} or less" if one.below_c is not None else "",
        f"a surface {amount(one.surface_above_dew_c, 'c')} above the dew point" if one.surface_above_dew_c else "",
        {1: "", 2: "two people"}.get(one.people, f"{one.people} people"),
        f"the {one.kit}" if one.kit else "",
        one.room,
    ]
    return tuple(part for part in found if part)


def by_the_clock(one: Timed) -> str:
    """When it is begun, how long it goes on, how often one looks: "from 19.00, for 9 h, looked at every 4 h"."""
    looked = f", looked at every {figure(one.look_every_hours)}{SP}h" if one.look_every_hours else ""
    return f"from {clock(one.starts_min)}, for {figure(one.hours)}{SP}h{looked}"


def uses(one: Use, facts: Mapping[str, Value] | None = None) -> Pair:
    """What a job uses up: so much for each, or in all where the entry's ``facts`` say how many."""
    many = facts.get(one.per) if facts is not None and one.per else None
    if isinstance(many, int | float):
        return Pair(one.what, amount(one.amount * many, one.unit))
    each = f" for each {_per(one.per)}" if one.per else ""
    small = f"{figure(one.amount, 4)}{SP}{UNITS.get(one.unit, one.unit)}"
    return Pair(one.what, f"{small if one.amount < 1 else amount(one.amount, one.unit)}{each}")


def makes(library: Library, one: Make) -> str:
    """What a job makes: "leeks for the clamp, which keep three months"."""
    if one.kind == "entry":
        sheet = library.sheets.get(one.sheet)
        return f"{one.name}, which goes on as ‘{sheet.title if sheet else one.sheet}’"
    if one.kind == "stage":
        return f"{one.name}, the next stage"
    where = f", {one.where}" if one.where else ""
    return f"{one.name}{where}{f', good for {words(one.keeps)}' if one.keeps else ''}"


def takes(one: Labour) -> str:
    """How long a job takes: "20 min, and 3 min for each m of row"."""
    each = f"{amount(one.each)}{SP}min for each {_per(one.per)}" if one.each else ""
    return listed(part for part in (minutes(one.base), each) if part)


def asked(ask: Ask) -> str:
    """What an answer may be: "kg, between 0.1 and 500", "sheltered, moderate (usual) or severe"."""
    if ask.kind == "choice":
        options = (f"{one} (usual)" if one == ask.default else one for one in ask.choices)
        return listed(options, "or")
    kind = {"date": "a date", "count": "a number", "entry": "another entry", "text": "a word or two"}.get(
        ask.kind, UNITS.get(ask.kind, ask.kind)
    )
    said = limits(ask) if ask.kind != "date" else ""
    usual = f"usually {answer(ask, ask.default)}" if ask.default is not None else ""
    return ", ".join(part for part in (said or kind, usual, "may stay unsaid" if ask.optional else "") if part)


def answer(ask: Ask, value: Value | None, today: date | None = None, names: Mapping[str, str] | None = None) -> str:
    """A fact or a measure in words; ``names`` are those of entries by id."""
    if value is None:
        return ""
    if ask.kind == "date" and isinstance(value, int):
        return day(date.fromordinal(value), today)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return (names or {}).get(value, value) if ask.kind == "entry" else value
    if is_imperial(ask):
        return said(value, ask.kind).replace(" ", SP)
    return amount(value, "" if ask.kind == "count" else ask.kind)


def name(of: str) -> str:
    """A name at the head of a line: what a job made is called after it, in small letters."""
    return of[:1].upper() + of[1:]


def label(ask: Ask) -> str:
    """What a question is called."""
    return ask.label or ask.name.replace("_", " ").capitalize()


def in_words(shown: Window | None, today: date) -> str:
    """A window in words; "" for none."""
    if shown is None:
        return ""
    opens, best, closes = (date.fromordinal(one) for one in shown)
    return window(opens, best, closes, today)


def days(opens: Day | None, best: Day | None, closes: Day | None, today: date) -> str:
    """The same from three days, which may not be known."""
    if opens is None or best is None or closes is None:
        return "not until something is said"
    return in_words(Window(opens, best, closes), today)


def edge(end: Span | Moment, sheet: Sheet) -> str:
    """Where a window opens or closes."""
    if isinstance(end, Span):
        if not end.months and not end.days:
            return "on the best day"
        return f"{words(end)} {'before' if (end.months or end.days) < 0 else 'after'} the best day"
    return describe(end, sheet)


def nations(names: Iterable[str]) -> str:
    """Where a law holds: "England and Wales"."""
    return listed(NATIONS.get(name, name) for name in names)


def changed(changes: Iterable[Change], sheet: Sheet, step: str = "") -> tuple[Pair, ...]:
    """A household's own figures beside those the sheet came with; of one step, or of all with their titles."""
    found = []
    for one in changes:
        if step and one.step != step:
            continue
        name = _key(one, sheet, alone=bool(step))
        found.append(Pair(name, f"{_figure(one.now)}; the sheet says {_figure(one.was)}"))
    return tuple(found)


def place_in(sheet: Sheet | None, step: str) -> int:
    """Where a step stands on its sheet: what tells jobs of one day apart."""
    return sheet.order.index(step) if sheet is not None and step in sheet.order else 999


def step_of(sheet: Sheet | None, name: str) -> Step | None:
    """A step of a sheet by its id; None where there is none."""
    return next((one for one in sheet.steps if one.id == name), None) if sheet is not None else None


def _key(one: Change, sheet: Sheet, alone: bool) -> str:
    if one.step == "facts":
        name, _, key = one.key.partition(".")
        ask = sheet.facts.get(name)
        usual = {"else": "usually", "low": "at least", "high": "at most"}.get(key, key)
        return f"{label(ask) if ask else name}, {usual}"
    step = step_of(sheet, one.step)
    named = {"from": "reckoned from", "asks": "asked", "missed": "if missed"}.get(one.key, one.key.replace("_", " "))
    return named if alone or step is None else f"{step.title}: {named}"


def _figure(value: object) -> str:
    """A figure as it stands in a sheet's file, said plainly; a span in words."""
    match value:
        case None:
            return "nothing"
        case bool():
            return "yes" if value else "no"
        case str():
            try:
                length = span(value)
            except ValueError:
                return value
            way = " before" if (length.months or length.days) < 0 else ""
            return f"{words(length)}{way}"
        case Mapping():
            return ", ".join(f"{key.replace('_', ' ')} {_figure(one)}" for key, one in value.items())
        case list():
            return ", ".join(_figure(one) for one in value)
        case _:
            return str(value)


def _per(fact: str) -> str:
    """What something is reckoned for each of: "m of row", "m² of area", "plants" as "plant"."""
    name, _, unit = fact.rpartition("_")
    if name:
        return f"{UNITS.get(unit, unit)} of {name.replace('_', ' ')}"
    return unit[:-1] if unit.endswith("s") else unit
