"""Taking TOML tables apart: each key is asked for once, and everything wrong, missing or unknown becomes a fault."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from difflib import get_close_matches
from typing import Any, NamedTuple

from app.errors import Fault
from app.rules.spans import NOTHING, Span, span
from app.rules.terms import Ask, Source

Doc = Mapping[str, Any]
"""A TOML table as `tomllib` gives it."""

STEP_ID = re.compile(r"[a-z][a-z0-9-]*")
FACT_ID = re.compile(r"[a-z][a-z0-9_]*")


class Publication(NamedTuple):
    """An entry of sources.toml; ``seen`` says where the quotation stands when the publication itself was not seen."""

    title: str
    body: str
    year: int | None = None
    seen: str = ""


class Caution(NamedTuple):
    """An entry of cautions.toml."""

    text: str
    source: Source


class Known(NamedTuple):
    """What a sheet may name beyond itself; None leaves that kind of name unchecked (for a sheet read by itself).

    ``docs`` are the sheets that another may be `like`; ``works`` the computations, the register's when left out.
    """

    sources: Mapping[str, Publication] | None = None
    cautions: Mapping[str, Caution] | None = None
    docs: Mapping[str, Doc] | None = None
    works: Mapping[str, Callable[..., Any]] | None = None


ITSELF = Known()
"""A sheet read by itself: nothing beyond it is checked."""


@dataclass(slots=True)
class Reading:
    """One file being read: the faults found so far, and the names that it defines itself."""

    file: str
    known: Known = ITSELF
    faults: list[Fault] = field(default_factory=list)
    facts: dict[str, Ask] = field(default_factory=dict)
    asks: dict[str, dict[str, Ask]] = field(default_factory=dict)

    def fault(self, step: str, key: str, reason: str) -> None:
        """Take down one thing that is wrong."""
        self.faults.append(Fault(self.file, step, key, reason))


def shown(value: object) -> str:
    """A value as it stands in the file, for a fault's text."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return f"'{value}'"
        case int() | float() | date():
            return str(value)
        case Mapping():
            return "a table"
        case list():
            return "a list"
        case _:
            return repr(value)


def meant(word: str, options: Iterable[str]) -> str:
    """What was probably meant by a misspelt word, else what there is to choose from."""
    choices = sorted(options)
    close = get_close_matches(word, choices, n=1, cutoff=0.6)
    if close:
        return f"; did you mean '{close[0]}'?"
    return f"; expected one of: {', '.join(choices)}" if 0 < len(choices) <= 24 else ""


def found_instead(doc: Doc, kinds: Iterable[str], besides: Iterable[str] = ()) -> str:
    """What a table has where it should have exactly one of some keys, with what was probably meant.

    ``besides`` are keys that it may have as well, and that are no slip.
    """
    options = list(kinds)
    there = [f"'{key}'" for key in options if key in doc]
    if there:
        return " and ".join(there)
    for cutoff in (0.8, 0.6):  # the likeliest slip first, whatever the order of the keys
        for key in sorted(doc.keys() - set(besides)):
            if close := get_close_matches(key, options, n=1, cutoff=cutoff):
                return f"'{key}' (did you mean '{close[0]}'?)"
    return f"only {', '.join(shown(key) for key in doc)}" if doc else "an empty table"


class Table:
    """One table of a file. ``step`` and ``path`` say where it stands; `close` faults the keys nobody asked for."""

    __slots__ = ("doc", "path", "reading", "seen", "step")

    def __init__(self, doc: Doc, reading: Reading, step: str = "", path: str = "") -> None:
        self.doc = doc
        self.reading = reading
        self.step = step
        self.path = path
        self.seen: set[str] = set()

    def at(self, key: str) -> str:
        """A key with the path that leads to it."""
        return f"{self.path}.{key}" if self.path and key else self.path or key

    def fault(self, key: str, reason: str) -> None:
        """Take down a fault of one key; of the table itself when the key is empty."""
        self.reading.fault(self.step, self.at(key), reason)

    def has(self, key: str) -> bool:
        """Whether the key is there; it counts as known from now on."""
        self.seen.add(key)
        return key in self.doc

    def take(self, key: str) -> Any:
        """The raw value, None when the key is not there."""
        self.seen.add(key)
        return self.doc.get(key)

    def _typed(self, key: str, right: Callable[[Any], bool], expected: str) -> Any:
        value = self.take(key)
        if value is None or right(value):
            return value
        self.fault(key, f"found {shown(value)}, expected {expected}")
        return None

    def text(self, key: str, *, needed: bool = False) -> str:
        """A text, "" when it is not there."""
        value = self._typed(key, lambda v: isinstance(v, str) and v.strip() != "", "a text")
        if value is None and needed and key not in self.doc:
            self.fault(key, "is missing; expected a text")
        return value or ""

    def flag(self, key: str) -> bool:
        """True or false, false when it is not there."""
        return bool(self._typed(key, lambda v: isinstance(v, bool), "true or false"))

    def number(self, key: str, low: float | None = None, high: float | None = None) -> float | None:
        """A number within its bounds, both inclusive; None when it is not there."""
        value = self._typed(key, is_number, "a number")
        if value is None:
            return None
        if (low is not None and value < low) or (high is not None and value > high):
            bounds = f"between {low:g} and {high:g}" if low is not None and high is not None else f"of at least {low:g}"
            self.fault(key, f"found {shown(value)}, expected a number {bounds}")
            return None
        return value  # type: ignore[no-any-return]

    def whole(self, key: str, low: int) -> int | None:
        """A whole number of at least ``low``; None when it is not there."""
        right = f"a whole number of at least {low}"
        return self._typed(key, lambda v: type(v) is int and v >= low, right)  # type: ignore[no-any-return]

    def day(self, key: str) -> int | None:
        """A date as its day number; None when it is not there."""
        right = "a date such as 2024-05-23"
        value = self._typed(key, lambda v: isinstance(v, date) and not isinstance(v, datetime), right)
        return value.toordinal() if isinstance(value, date) else None

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts."""
        right = 'a list of texts, such as ["one", "two"]'
        value = self._typed(key, lambda v: isinstance(v, list) and all(isinstance(one, str) for one in v), right)
        return tuple(value or ())

    def choice(self, key: str, options: Iterable[str], default: str = "", *, needed: bool = False) -> str:
        """One of a closed list of words."""
        value = self.text(key, needed=needed)
        if value and value not in options:
            self.fault(key, f"unknown word {shown(value)}{meant(value, options)}")
            return default
        return value or default

    def choices(self, key: str, options: Iterable[str], what: str) -> tuple[str, ...]:
        """Several of a closed list of words."""
        values = self.texts(key)
        for value in values:
            if value not in options:
                self.fault(key, f"unknown {what} {shown(value)}{meant(value, options)}")
        return values

    def span(self, key: str) -> Span:
        """An ISO 8601 duration; no time at all when it is not there."""
        value = self.text(key)
        return self.read_span(key, value) if value else NOTHING

    def read_span(self, key: str, value: str) -> Span:
        """Read a duration that stands under a key."""
        try:
            return span(value)
        except ValueError as error:
            self.fault(key, str(error))
            return NOTHING

    def table(self, key: str) -> "Table | None":
        """The table under a key."""
        value = self._typed(key, lambda v: isinstance(v, Mapping), "a table")
        return None if value is None else self.below(key, value)

    def below(self, key: str, doc: Doc) -> "Table":
        """A table that stands under a key of this one."""
        return Table(doc, self.reading, self.step, self.at(key))

    def tables(self, key: str) -> list["Table"]:
        """The tables of a list under a key."""
        right = "a list of tables"
        value = self._typed(key, lambda v: isinstance(v, list) and all(isinstance(one, Mapping) for one in v), right)
        return [self.below(key, one) for one in value or ()]

    def close(self) -> None:
        """Fault every key that was never asked for."""
        for key in self.doc:
            if key not in self.seen:
                close = get_close_matches(key, sorted(self.seen - self.doc.keys()), n=1, cutoff=0.6)
                hint = f"; did you mean '{close[0]}'?" if close else ""
                self.fault(key, f"unknown key '{key}'{hint}")


def is_number(value: object) -> bool:
    """Whether a value is a number (true and false are not)."""
    return isinstance(value, int | float) and not isinstance(value, bool)
