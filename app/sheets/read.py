"""Reading one sheet: from TOML to a checked `Sheet`, or all that is wrong with it."""

import re
import tomllib
from dataclasses import replace
from typing import Any, cast

from app.errors import Fault, KnowledgeError
from app.rules.sheet import Sheet, Spell
from app.rules.step import Step
from app.rules.terms import TRADES, Ask, Trade
from app.sheets.bars import bar, spell
from app.sheets.crop import crop
from app.sheets.facts import asks
from app.sheets.figures import figured
from app.sheets.merge import alike
from app.sheets.order import order
from app.sheets.sources import cautions
from app.sheets.steps import step
from app.sheets.values import ITSELF, STEP_ID, Doc, Known, Reading, Table, meant, shown


def read(text: str | Doc, file: str = "", known: Known = ITSELF) -> Sheet | list[Fault]:
    """Read and check one sheet, given as TOML or as the table parsed from it; all of its faults at once."""
    doc = parse(text, file) if isinstance(text, str) else text
    if isinstance(doc, Fault):
        return [doc]
    if wrong := _pattern(doc):
        return [Fault(file, "", "pattern", wrong)]
    if "like" in doc:
        found, faults = alike(doc, file, known.docs or {})
        if faults:
            return faults
        doc = found
    doc, unknown = figured(doc, file)
    reading = Reading(file, known)
    sheet = _sheet(Table(doc, reading))
    places = {(fault.step, fault.key) for fault in unknown}  # a name that is no figure is one fault, not two
    faults = [*unknown, *(fault for fault in reading.faults if (fault.step, fault.key) not in places)]
    return faults if faults or sheet is None else sheet


def _pattern(doc: Doc) -> str:
    """Why a sheet's own ``pattern`` keeps it from being read."""
    value = doc.get("pattern", False)
    if value is True:
        return "a pattern is no sheet by itself; others are `like` it"
    return "" if value is False else f"found {shown(value)}, expected true or false"


def sheet_from(text: str, known: Known = ITSELF) -> Sheet:
    """Read one sheet by itself: what it names beyond itself goes unchecked, unless it is ``known``.

    Raises: KnowledgeError with everything that is wrong with it.
    """
    found = read(text, "", known)
    if isinstance(found, list):
        raise KnowledgeError(found)
    return found


def parse(text: str, file: str) -> dict[str, Any] | Fault:
    """Parse TOML; one fault, which names the line, when it is none."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.fullmatch(r"(.*) \(at line (\d+), column (\d+)\)", str(error))
        line = int(found[2]) if found else len(text.splitlines())  # the parser says "at end of document" there
        why = found[1] if found else str(error).partition(" (at")[0]
        return Fault(file, f"line {line}", "", f"this is not TOML: {why[:1].lower()}{why[1:]}")


def _sheet(head: Table) -> Sheet | None:
    reading = head.reading
    _facts(head)
    tables = listed(head, "step")
    spells, bars = listed(head, "spell"), listed(head, "bar")
    reading.asks = {name: asks(table.table("asks")) for name, table in tables.items()}
    steps = [step(table, frozenset(spells)) for table in tables.values()]
    if not tables:
        head.fault("step", "the sheet has no [[step]]")
    species = head.text("species")
    read_spells: dict[str, Spell] = {name: spell(placed(t, "spell", name), name) for name, t in spells.items()}
    read_bars = tuple(bar(placed(t, "bar", name), name, "", species) for name, t in bars.items())
    sheet = Sheet(
        id=_id(head),
        title=head.text("title", needed=True),
        trade=cast(Trade, head.choice("trade", TRADES, "garden", needed=True)),
        about=head.text("about"),
        kind=head.text("kind", needed=True),
        file=reading.file,
        facts=reading.facts,
        steps=(),
        scopes={},
        spells=read_spells or None,
        bars=read_bars,
        species=species,
        family=head.text("family"),
        begins=_begins(head),
        found=head.flag("found"),
        cautions=cautions(head),
        order=tuple(tables),
        crop=crop(head),
    )
    head.take("pattern")
    head.close()
    _was(steps, reading)
    found = order(steps, read_bars, reading)
    if found is None or reading.faults:
        return None
    by_id = {one.id: one for one in steps}
    return replace(sheet, steps=tuple(by_id[name] for name in found.ids), scopes=found.scopes, back=found.back)


def _facts(head: Table) -> None:
    table = head.table("facts")
    head.reading.facts = asks(Table(table.doc, head.reading, "facts") if table else None)
    date = head.reading.facts.get("date", Ask("date", "date"))  # one wrong fact is one fault, so it is put right
    if "date" not in head.reading.facts:
        head.reading.fault("facts", "date", 'is missing; every sheet asks for one: date = { asks = "date" }')
        head.reading.facts["date"] = date
    elif date.kind not in ("date", ""):
        head.reading.fault("facts", "date", f"is asked as {date.kind}; expected date")
        head.reading.facts["date"] = Ask("date", "date")


def listed(head: Table, what: str) -> dict[str, Table]:
    """The ``[[step]]``, ``[[spell]]`` or ``[[bar]]`` tables of a sheet by id, in the order of the file."""
    found: dict[str, Table] = {}
    for number, table in enumerate(head.tables(what), 1):
        name = table.doc.get("id")
        place = name if isinstance(name, str) and name else f"{what} {number}"
        table.step, table.path = place, ""
        if name is None:
            table.fault("id", "is missing; expected a text")
        elif not isinstance(name, str) or not STEP_ID.fullmatch(name) or name == "entry":
            table.fault("id", f"found {shown(name)}; an id is small letters, digits and hyphens, and begins with a "
                        "letter; 'entry' is taken")  # fmt: skip
        if place in found:
            table.fault("id", f"there are two of the id '{place}'")
            continue
        found[place] = table
    return found


def placed(table: Table, what: str, name: str) -> Table:
    """Name a spell or a bar as one, so that its faults are not looked for among the steps."""
    table.step = name if name.startswith(f"{what} ") else f"{what} {name}"
    return table


def _id(head: Table) -> str:
    name = head.text("sheet", needed=True)
    if name and not STEP_ID.fullmatch(name):
        head.fault(
            "sheet", f"found {shown(name)}; an id is small letters, digits and hyphens, and begins with a letter"
        )
    return name


def _begins(head: Table) -> str:
    name, steps = head.text("begins"), head.reading.asks
    if name and name not in steps:
        head.fault("begins", f"there is no step '{name}'{meant(name, steps)}")
    return name


def _was(steps: list[Step], reading: Reading) -> None:
    taken = {one.id: one.id for one in steps}
    for one in steps:
        for old in one.was:
            if old in taken:
                whose = "a step of today" if old == taken[old] else f"what '{taken[old]}' was too"
                reading.fault(one.id, "was", f"'{old}' is {whose}")
            taken.setdefault(old, one.id)
