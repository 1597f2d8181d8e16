"""What was said before, in words: the year, what was said, what came of it."""

from collections.abc import Iterable
from datetime import date

from app.rules.step import Step
from app.rules.terms import Ask, Value
from app.services.remembered import Remembered, year_of
from app.web import fields, pages, told
from app.web.links import entry_href
from app.web.rows import job_href
from app.web.words import listed


def remembered(found: Iterable[Remembered], imperial: bool, *, named: bool = False) -> tuple[pages.Remembered, ...]:
    """Remarks as lines; ``named`` puts the job before each, where they are of several."""
    return tuple(_line(one, imperial, named) for one in found)


def _line(one: Remembered, imperial: bool, named: bool) -> pages.Remembered:
    answers = _answers(one.step, one.measures.items(), one.on, imperial) if one.step is not None else ""
    text = one.text.rstrip(".")
    says = f"{text} ({answers})" if answers else text
    if one.let_go:
        says = f"let go: {says}" if says else "let go"
    if named and one.step is not None:
        says = f"{one.step.title}: {says}"
    href = job_href(one.key) if one.key else entry_href(one.entry.id)
    return pages.Remembered(str(year_of(one)), says, f"{one.entry.name}{_came(one, imperial)}", href)


def _came(one: Remembered, imperial: bool) -> str:
    if one.kg:
        return f": {_weight(one.kg, imperial)} came of it"
    if one.then is None or one.then_step is None:
        return ""
    answers = _answers(one.then_step, one.then.measures.items(), one.then.on, imperial)
    words = ", ".join(part for part in (one.then_text.rstrip("."), answers) if part)
    return f"; then ‘{one.then_step.title}’: {words}"


def _weight(kg: float, imperial: bool) -> str:
    return told.answer(fields.in_units([Ask("kg", "kg")], imperial)[0], kg)


def _answers(step: Step, measures: Iterable[tuple[str, Value]], on: int, imperial: bool) -> str:
    asks = {ask.name: ask for ask in fields.in_units(step.asks, imperial)}
    today = date.fromordinal(on)
    return listed(
        f"{told.label(asks[name]).lower()} {told.answer(asks[name], value, today)}"
        for name, value in measures
        if name in asks
    )
