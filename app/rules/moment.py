"""A moment: exactly one way of naming a day. `app.rules.moments` turns one into a function."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from app.rules.spans import NOTHING, Span
from app.rules.terms import Value


@dataclass(frozen=True, slots=True)
class EntryDate:
    """A date fact of the entry."""

    fact: str
    by: Span = NOTHING


@dataclass(frozen=True, slots=True)
class StepDay:
    """Another step's day in the same cycle: its tick if there is one, else its best day.

    ``which`` ("first", "last") picks one when that step has cycles beneath mine.
    """

    step: str
    which: Literal["", "first", "last"] = ""
    by: Span = NOTHING


@dataclass(frozen=True, slots=True)
class TickDay:
    """The day a step was really done (never a plan), plus the days of one of its measures, "step.measure"."""

    step: str
    days: str = ""
    by: Span = NOTHING


@dataclass(frozen=True, slots=True)
class YearDay:
    """A day of the year, the first on or after ``since`` or the last on or before ``before``."""

    month: int
    day: int
    since: "Moment | None" = None
    before: "Moment | None" = None
    by: Span = NOTHING


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark of the season, such as the last frost; ``value`` is its chance (%), temperature (°C) or hours."""

    name: str
    value: float
    since: "Moment | None" = None
    before: "Moment | None" = None
    by: Span = NOTHING
    otherwise: "Moment | None" = None


MARKS: Mapping[str, str] = {
    "last frost": "chance",
    "first frost": "chance",
    "soil above": "c",
    "soil below": "c",
    "day longer than": "hours",
    "day shorter than": "hours",
}
"""The season's marks, and the key under which a sheet gives each its value."""


@dataclass(frozen=True, slots=True)
class Said:
    """A date that somebody outside gave, taken down as a measure of a tick; until then ``otherwise``."""

    step: str
    ask: str
    otherwise: "Moment"
    by: Span = NOTHING


@dataclass(frozen=True, slots=True)
class Warmth:
    """A sum of warmth in degree-days above ``base`` °C since a moment; its spread opens and closes the window."""

    total: float
    base: float
    since: "Moment"
    by: Span = NOTHING


@dataclass(frozen=True, slots=True)
class Given:
    """Where a computation's parameter comes from.

    ``of`` is "fact" (an entry's), "latest" (a step's last measure), "all" (every one since the moment, as pairs of
    days since and value) or "value" (a constant on the sheet).
    """

    of: Literal["fact", "latest", "all", "value"]
    step: str = ""
    name: str = ""
    value: Value | tuple[Value, ...] | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """Days that a named computation gives, counted on from ``since`` or back from ``before``."""

    name: str
    call: Callable[..., Any]
    given: Mapping[str, Given]
    since: "Moment | None" = None
    before: "Moment | None" = None
    by: Span = NOTHING


Moment = EntryDate | StepDay | TickDay | YearDay | Mark | Said | Warmth | Work
