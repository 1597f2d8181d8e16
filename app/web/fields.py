"""A sheet's question as a field of a form: each kind of `Ask` gets the box, unit and keyboard it wants."""

from collections.abc import Sequence
from datetime import date

from app.rules.sheet import Ask, Value
from app.web.parts import Choice, Field
from app.web.words import figure

UNITS = {"m2": "m²", "c": "°C", "d": "days", "h": "hours", "min": "min"}
YES_NO = (Choice("yes", "Yes"), Choice("no", "No"))


def field(
    ask: Ask,
    typed: str | None = None,
    error: str = "",
    known: Value | None = None,
    entries: Sequence[Choice] = (),
    prefix: str = "",
) -> Field:
    """The field for ``ask``: what was ``typed`` is kept as it is, else what is ``known``, else the usual answer.

    ``entries`` are those that a question of kind "entry" offers. A question with a usual answer, or an optional one,
    may be left empty.
    """
    value = typed if typed is not None else told(ask, known if known is not None else ask.default)
    free = ask.optional or ask.default is not None
    return Field(
        name=prefix + ask.name,
        label=ask.label or ask.name.replace("_", " ").capitalize(),
        kind=_kind(ask),
        value=value,
        unit=UNITS.get(ask.kind, ask.kind) if _kind(ask) == "number" else "",
        error=error,
        choices=_choices(ask, entries),
        required=not free,
    )


def told(ask: Ask, value: Value | None) -> str:
    """A known value as it stands in its box: dates in ISO 8601, numbers plain, yes and no in words."""
    if value is None:
        return ""
    if ask.kind == "date" and isinstance(value, int):
        return date.fromordinal(value).isoformat()
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)


def limits(ask: Ask) -> str:
    """What a number may be, in words: "between 0.1 and 500 m"; nothing when it is free."""
    unit = UNITS.get(ask.kind, ask.kind)
    if ask.low is not None and ask.high is not None:
        return f"between {figure(ask.low)} and {figure(ask.high)} {unit}"
    if ask.low is not None:
        return f"{figure(ask.low)} {unit} or more"
    return f"{figure(ask.high)} {unit} or less" if ask.high is not None else ""


def _kind(ask: Ask) -> str:
    if ask.kind in ("choice", "yes or no", "entry"):
        return "choice"
    if ask.kind in ("date", "text", "count"):
        return ask.kind
    return "number"


def _choices(ask: Ask, entries: Sequence[Choice]) -> tuple[Choice, ...]:
    if ask.kind == "choice":
        return tuple(Choice(c, c.capitalize()) for c in ask.choices)
    if ask.kind == "yes or no":
        return YES_NO
    return tuple(entries) if ask.kind == "entry" else ()
