"""A sheet's question as a field of a form: each kind of `Ask` gets the box, unit and keyboard it wants."""

from collections.abc import Iterable, Sequence
from datetime import date

from app.rules.terms import Ask, Value
from app.units import from_metric
from app.web.parts import Choice, Field
from app.web.words import figure

UNITS = {"m2": "m²", "c": "°C", "d": "days", "h": "hours", "min": "min", "f": "°F", "pint": "pints"}
IMPERIAL = {"kg": "lb", "g": "oz", "m": "ft", "cm": "in", "mm": "in", "l": "pint", "c": "f"}
"""In what a household that weighs in pounds is asked, and told; what is kept stays metric."""
YES_NO = (Choice("yes", "Yes"), Choice("no", "No"))


def in_units(asks: Iterable[Ask], imperial: bool) -> tuple[Ask, ...]:
    """Questions in the household's units: their kind says in what a value is shown and read, the value stays metric."""
    return tuple(ask._replace(kind=IMPERIAL.get(ask.kind, ask.kind)) if imperial else ask for ask in asks)


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
    if isinstance(value, int | float) and is_imperial(ask):
        return f"{from_metric(value, ask.kind):.4g}"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)


def is_imperial(ask: Ask) -> bool:
    """Whether a question is asked in a unit other than the one its answer is kept in."""
    return ask.kind in IMPERIAL.values()


def limits(ask: Ask) -> str:
    """What a number may be, in words: "between 0.1 and 500 m"; nothing when it is free."""
    unit = "" if ask.kind == "count" else UNITS.get(ask.kind, ask.kind)
    low, high = (_bound(ask, end) for end in (ask.low, ask.high))
    if low and high:
        return f"between {low} and {high} {unit}".rstrip()
    if low:
        return f"{low} {unit}".rstrip() + " or more"
    return f"{high} {unit}".rstrip() + " or less" if high else ""


def _bound(ask: Ask, end: float | None) -> str:
    if end is None:
        return ""
    return figure(from_metric(end, ask.kind), 1) if is_imperial(ask) else figure(end)


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
