"""What somebody typed into a form, read field by field: every fault is kept beside its field, and nothing is lost."""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from zoneinfo import available_timezones

from app.errors import BadInput
from app.rules.facts import Window
from app.rules.spans import Day
from app.rules.terms import Ask, Value
from app.units import UNITS, understood
from app.web.fields import limits, told

FIRST_YEAR, LAST_YEAR = 1900, 2199
LONGEST_TEXT = 200
LONGEST_NOTE = 2000
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_BRITISH = re.compile(r"(\d{1,2})[./](\d{1,2})[./](\d{4})")
_NUMBER = re.compile(r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)")
_SIDES = {"n": 1, "e": 1, "s": -1, "w": -1}
_BELOW_NOUGHT = ("c", "f")


class Typed:
    """The fields of one form. Each reader gives a value or None, and takes down a sentence where it can't."""

    def __init__(self, values: Mapping[str, str], several: Mapping[str, Sequence[str]] | None = None) -> None:
        self.values = {name: value.strip() for name, value in values.items()}
        self.several = several or {}
        self.errors: dict[str, str] = {}

    def check(self) -> None:
        """Stop here when anything was wrong.

        Raises: BadInput with a sentence per field.
        """
        if self.errors:
            raise BadInput(self.errors)

    def fault(self, name: str, sentence: str) -> None:
        """Take down what is wrong with a field; the first thing said of it stands."""
        self.errors.setdefault(name, sentence)

    def raw(self, name: str) -> str:
        """A field as typed, without the spaces round it."""
        return self.values.get(name, "")

    def text(self, name: str, needed: str = "", longest: int = LONGEST_TEXT) -> str:
        """A text; ``needed`` is the sentence said when it is empty."""
        text = self.raw(name)
        if not text and needed:
            self.fault(name, needed)
        if len(text) > longest:
            self.fault(name, f"That is {len(text)} letters long; {longest} fit.")
            return ""
        return text

    def choice(self, name: str, options: Iterable[str], needed: str = "") -> str:
        """One of some words."""
        value = self.raw(name)
        if not value:
            if needed:
                self.fault(name, needed)
            return ""
        if value not in options:
            self.fault(name, "That is not one of the answers there are; choose one of these.")
            return ""
        return value

    def chosen(self, name: str, options: Iterable[str]) -> tuple[str, ...]:
        """Any of some words, in their order; what is none of them is left out."""
        ticked = set(self.several.get(name, ()))
        return tuple(option for option in options if option in ticked)

    def number(self, name: str, low: float, high: float, unit: str = "", needed: str = "") -> float | None:
        """A number within its bounds, both inclusive."""
        text = self.raw(name)
        if not text:
            if needed:
                self.fault(name, needed)
            return None
        bounds = f"between {low:g} and {high:g}{' ' + unit if unit else ''}"
        if not _NUMBER.fullmatch(text):
            self.fault(name, f"A number is wanted, {bounds}.")
            return None
        return self._within(name, _figure(text), low, high, bounds)

    def degrees(self, name: str, most: float, needed: str) -> float | None:
        """A latitude or longitude: "54.7", "3.1 W"."""
        text = self.raw(name).rstrip("°").strip()
        side = text[-1:].lower()
        if side in _SIDES:
            text = text[:-1].strip().rstrip("°").strip()
        if not text:
            self.fault(name, needed)
            return None
        bounds = f"between −{most:g} and {most:g}"
        if not _NUMBER.fullmatch(text):
            self.fault(name, f"Degrees are wanted as a number {bounds}, such as 54.7.")
            return None
        return self._within(name, _figure(text) * _SIDES.get(side, 1), -most, most, bounds)

    def day(self, name: str, needed: str = "") -> Day | None:
        """A day."""
        text = self.raw(name)
        if not text:
            if needed:
                self.fault(name, needed)
            return None
        try:
            return read_day(text)
        except ValueError as error:
            self.fault(name, str(error))
            return None

    def person(self, usual: int | None = None, name: str = "person") -> int | None:
        """Somebody of the household, by number; whoever is ``usual`` where nobody was chosen."""
        text = self.raw(name)
        if not text:
            return usual
        if not (text.isascii() and text.isdecimal() and len(text) < 10):
            self.fault(name, "There is nobody of that name in the household.")
            return None
        return int(text)

    def window(self, name: str) -> Window | None:
        """The window of a job that was on the page, as it came back; one that can't be read is none."""
        try:
            days = [date.fromisoformat(part).toordinal() for part in self.raw(name).split("/")]
        except ValueError:
            return None
        return Window(*days) if len(days) == 3 and days == sorted(days) else None

    def zone(self, name: str) -> str:
        """A time zone by its name in the IANA list."""
        text = self.text(name, "A time zone is wanted, such as Europe/London.")
        if text and text not in available_timezones():
            self.fault(name, f"No time zone is called {text!r}; Europe/London or Europe/Dublin is what they look like.")
            return ""
        return text

    def asked(
        self,
        asks: Iterable[Ask],
        entries: Iterable[str] = (),
        prefix: str = "",
        known: Mapping[str, Value] | None = None,
    ) -> dict[str, Value]:
        """The answers to a sheet's questions; what was left empty is not among them.

        A question without a usual answer that is not optional must be answered. ``entries`` are the ids that a
        question about another entry may name. What stands as it was shown is ``known`` to the last digit.
        """
        found: dict[str, Value] = {}
        for ask in asks:
            name = prefix + ask.name
            if not self.raw(name):
                if ask.default is None and not ask.optional:
                    self.fault(name, "This is wanted before any date can be given.")
                continue
            before = (known or {}).get(ask.name, ask.default)
            unchanged = before is not None and self.raw(name) == told(ask, before)
            value = before if unchanged else self._answer(ask, name, entries)
            if value is not None:
                found[ask.name] = value
        return found

    def _answer(self, ask: Ask, name: str, entries: Iterable[str]) -> Value | None:
        match ask.kind:
            case "date":
                return self.day(name)
            case "yes or no":
                return {"yes": True, "no": False}.get(self.choice(name, ("yes", "no")))
            case "choice":
                return self.choice(name, ask.choices) or None
            case "entry":
                return self.choice(name, tuple(entries)) or None
            case "text":
                return self.text(name) or None
            case _:
                return self._measure(ask, name)

    def _measure(self, ask: Ask, name: str) -> Value | None:
        """A count or an amount; nothing weighs less than nothing, whether the sheet says so or not."""
        text = self.raw(name)
        try:
            value = understood(text, ask.kind) if ask.kind in UNITS else _plain(text)
        except ValueError:
            said = limits(ask)
            self.fault(name, f"A number is wanted, {said}." if said else "A number is wanted.")
            return None
        low = ask.low if ask.low is not None or ask.kind in _BELOW_NOUGHT else 0.0
        if low == 0 and value < 0:
            self.fault(name, "That is less than nothing.")
            return None
        if (low is not None and value < low) or (ask.high is not None and value > ask.high) or abs(value) > 1e9:
            self.fault(name, f"It should be {limits(ask) or 'a smaller number'}.")
            return None
        if ask.kind == "count":
            if value != round(value):
                self.fault(name, "A whole number is wanted.")
                return None
            return round(value)
        return value

    def _within(self, name: str, value: float, low: float, high: float, bounds: str) -> float | None:
        if low <= value <= high:
            return value
        self.fault(name, f"It should be {bounds}.")
        return None


def read_day(text: str) -> Day:
    """A day as typed, "2027-03-12", "12/3/2027" or "12.3.2027".

    Raises: ValueError with a sentence for a person.
    """
    if found := _ISO.fullmatch(text):
        year, month, day = (int(part) for part in found.groups())
    elif found := _BRITISH.fullmatch(text):
        day, month, year = (int(part) for part in found.groups())
    else:
        raise ValueError(f"{text[:40]!r} is not a date; 12 March 2027 is written 2027-03-12.")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise ValueError(f"The year {year} is out of reach; years from {FIRST_YEAR} to {LAST_YEAR} will do.")
    try:
        return date(year, month, day).toordinal()
    except ValueError as error:
        raise ValueError(f"There is no such day as {text}.") from error


def _figure(text: str) -> float:
    return float(text.replace(",", ".").replace("−", "-"))


def _plain(text: str) -> float:
    if not _NUMBER.fullmatch(text):
        raise ValueError
    value = _figure(text)
    if not math.isfinite(value):
        raise ValueError
    return value
