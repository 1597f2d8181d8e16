"""What can only be seen when all sheets are read: the entries that one sheet makes for another."""

from collections.abc import Container, Iterator, Mapping

from app.errors import Fault
from app.rules.moment import Given
from app.rules.sheet import Sheet
from app.rules.step import Make, Step
from app.rules.terms import Ask
from app.sheets.facts import NUMBERS, UNITS, misfit
from app.sheets.values import meant


def across(sheets: Mapping[str, Sheet], written: Container[str]) -> list[Fault]:
    """Every fault between sheets; a sheet that is ``written`` but could not be read is none of another's faults."""
    return [
        Fault(sheet.file, step.id, f"makes.{key}", reason)
        for sheet in sheets.values()
        for step in sheet.steps
        for make in step.makes
        if make.kind == "entry"
        for key, reason in _made(sheets, written, sheet, step, make)
    ]


def _made(
    sheets: Mapping[str, Sheet], written: Container[str], sheet: Sheet, step: Step, make: Make
) -> Iterator[tuple[str, str]]:
    target = sheets.get(make.sheet)
    if target is None:
        if make.sheet not in written:
            yield "sheet", f"there is no sheet '{make.sheet}'{meant(make.sheet, sheets)}"
        return
    for name in [*(make.facts or ()), *(make.otherwise or ())]:
        if name not in target.facts:
            yield name, f"'{make.sheet}' asks for no fact '{name}'{meant(name, target.facts)}"
    for name, value in (make.otherwise or {}).items():
        if name in target.facts and (wrong := misfit(target.facts[name], value)):
            yield f"else.{name}", wrong
    for name, given in (make.facts or {}).items():
        if name in target.facts and (wrong := _unlike(_asked(sheet, step, given), target.facts[name])):
            yield f"facts.{name}", wrong


def _asked(sheet: Sheet, step: Step, given: Given) -> Ask | None:
    if given.of == "fact":
        return sheet.facts.get(given.name)
    return next(
        (ask for one in sheet.steps if one.id == given.step for ask in one.asks if ask.name == given.name), None
    )


def _unlike(found: Ask | None, wanted: Ask) -> str:
    """Why what is measured here can't be the fact that is wanted there."""
    if found is None or not found.kind or not wanted.kind or found.kind == wanted.kind == "choice":
        unknown = sorted(set(found.choices) - set(wanted.choices)) if found else []
        return f"'{unknown[0]}' is not among the choices there" if unknown and wanted.kind == "choice" else ""
    number = found.kind in NUMBERS and wanted.kind in NUMBERS
    if number and found.kind in UNITS and wanted.kind in UNITS and found.kind != wanted.kind:
        return f"is asked there in {wanted.kind}, and here in {found.kind}"
    if found.kind == wanted.kind or number or {found.kind, wanted.kind} <= {"text", "choice"}:
        return ""
    return f"is asked there as {wanted.kind}, and here as {found.kind}"
