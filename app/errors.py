"""What can go wrong, as a tree; the web and the command turn classes into pages and exit codes by ancestry.

    TwelvemonthError
    ├── KnowledgeError      a sheet, law or source file is wrong: all its faults at once
    ├── OutOfRange          a computation was asked for something its source does not cover
    ├── MissingFact         something has not been said yet; names where to say it
    ├── NotFound            no such entry, task, page, person, sheet or link      (HTTP 404)
    ├── Conflict            it can't be done as things stand                       (HTTP 409)
    ├── Refused             advice is refused: the law, or food that is not safe  (HTTP 409)
    ├── TooMany             asked more often than any person would               (HTTP 429)
    ├── BadInput            what was typed can't be read: a sentence per field    (HTTP 422)
    └── DataFolderError     the data folder or the database can't be used

An expected "no answer" (it never freezes here) is a returned outcome and no error.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple


class Fault(NamedTuple):
    """One thing wrong with one file of knowledge: ``file``, ``step`` (or table), ``key``, and the ``reason``."""

    file: str
    step: str
    key: str
    reason: str

    def __str__(self) -> str:
        place = ", ".join(part for part in (self.step, self.key) if part)
        return f"{self.file}: {place}: {self.reason}" if place else f"{self.file}: {self.reason}"


class TwelvemonthError(Exception):
    """The root: its text is a plain sentence that a person may be shown."""


class KnowledgeError(TwelvemonthError):
    """Files of knowledge that can't be used; ``faults`` names every one of them."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)


class OutOfRange(TwelvemonthError):
    """A value outside what a computation's source covers; no date follows from it, and the text says why."""

    def __init__(self, name: str, value: float, limits: str, advice: str = "") -> None:
        plain = name.removesuffix(" in %")  # "Solids of 98 %", not "Solids in % of 98"
        much = f"{value:g}" if plain == name else f"{value:g} %"
        sentence = f"{plain} of {much} is outside what the rule covers ({limits})."
        super().__init__(f"{sentence} {advice}".strip())
        self.name = name
        self.value = value
        self.limits = limits


class MissingFact(TwelvemonthError):
    """Something that has not been said yet; ``where`` names the page on which to say it."""

    def __init__(self, what: str, where: str) -> None:
        super().__init__(f"{what} is not known yet; it is set on the {where} page.")
        self.what = what
        self.where = where


class NotFound(TwelvemonthError):
    """No such entry, task, page, person, sheet or link."""


class Conflict(TwelvemonthError):
    """It can't be done as things stand: already undone, already struck, sent twice with two meanings."""


class Refused(TwelvemonthError):
    """Advice is refused: the law, or food that is not safe. What happened can still be taken down as a fact."""


class TooMany(TwelvemonthError):
    """Asked more often than any person would; ``seconds`` is how long to wait."""

    def __init__(self, sentence: str, seconds: int) -> None:
        super().__init__(sentence)
        self.seconds = seconds


class BadInput(TwelvemonthError):
    """What was typed can't be read. ``fields`` maps a field's name to the sentence shown beside it."""

    def __init__(self, fields: Mapping[str, str]) -> None:
        super().__init__(" ".join(fields.values()))
        self.fields = dict(fields)


class DataFolderError(TwelvemonthError):
    """The data folder or its database can't be used: read-only, newer than the program, damaged, already open."""
