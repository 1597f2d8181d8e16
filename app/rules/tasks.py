"""What planning gives: dated tasks, standing rounds, bars and clashes, as plain tuples."""

from collections.abc import Mapping
from enum import StrEnum
from typing import NamedTuple

from app.rules.almanac import Question
from app.rules.facts import Entry, Tick, Window
from app.rules.sheet import BarKind, BarOn
from app.rules.spans import Day
from app.rules.terms import Missed, Source


class Fate(StrEnum):
    """Why a window is as it is; `PLAIN` when nothing pushed it."""

    PLAIN = ""
    NO_ROOM = "no room"  # its window closes before it could begin
    SQUEEZED = "squeezed"  # less time than there should be; still worth doing
    OUTSIDE = "outside"  # moved by the household beyond its window
    UNLAWFUL = "unlawful"  # its legal window is over: never late, never asked
    BARRED = "barred"  # a bar holds it; without a window, until something is said
    PASSED_OVER = "passed over"  # a later doing answered it, or it closed before it was told
    LOST = "lost"  # its window went by, and what hangs on it with it
    LET_GO = "let go"  # the household said: not this year
    ALONE = "alone"  # a tick whose task no longer follows from the facts


class Reason(NamedTuple):
    """One link of a date's why: the ``rule`` in words, its ``inputs``, and the ``day`` that came of it."""

    rule: str
    inputs: str = ""
    day: Day | None = None
    source: Source | None = None


class Bar(NamedTuple):
    """A bar as laid: ``acts`` forbidden on ``subject`` from ``first`` to ``last`` inclusive.

    ``last`` is None for a bar that no figure has closed yet. ``by`` is the entry that lays it ("" for the law of the
    land). ``subject`` is an entry id, a place, a species, a kit or "" for the whole holding.
    """

    kind: BarKind
    on: BarOn
    subject: str
    acts: tuple[str, ...]
    first: Day
    last: Day | None
    by: str
    rule: str
    says: str
    source: Source
    species: tuple[str, ...] = ()


class Task(NamedTuple):
    """A step of an entry, dated.

    ``opens <= best <= closes`` always; all three are None for one that is barred until something is said.
    ``done`` is the day it was ticked. ``label`` is the cycle: ordinals, or the year of the mark.
    """

    key: str
    entry: str
    step: str
    label: tuple[int, ...]
    opens: Day | None
    best: Day | None
    closes: Day | None
    done: Day | None
    fate: Fate
    missed: Missed
    minutes: int
    sure: bool
    legal: bool = False
    reasons: tuple[Reason, ...] = ()


class Standing(NamedTuple):
    """A daily round of an entry, from ``first`` to ``last`` (None: as long as it is here)."""

    entry: str
    step: str
    first: Day
    last: Day | None
    minutes_a_day: int
    at: str


class Clash(NamedTuple):
    """Two claims on one thing at one time (kit, a species in flower): said, and nothing is moved."""

    on: BarOn
    subject: str
    one: str
    other: str
    first: Day
    last: Day
    says: str


class Lack(NamedTuple):
    """Why a step could not be dated: the ``fact`` that is wanted, or the ``reason`` a computation gave."""

    entry: str
    step: str
    fact: str
    reason: str


class Laid(NamedTuple):
    """All that follows from one entry, in a stable order."""

    entry: Entry
    tasks: tuple[Task, ...]
    standing: tuple[Standing, ...] = ()
    bars: tuple[Bar, ...] = ()  # room and clash claims; law bars rest on facts and are kept apart
    lacks: tuple[Lack, ...] = ()
    dormant: tuple[Tick, ...] = ()  # ticks that wait, since the task that makes this entry is not done
    asked: frozenset[Question] = frozenset()  # what was asked of the season: another answer lays the entry again


class Plan(NamedTuple):
    """Everything that follows from the facts on ``as_of``, up to ``last``; ``laid`` maps entry ids to their share."""

    tasks: tuple[Task, ...]
    standing: tuple[Standing, ...]
    clashes: tuple[Clash, ...]
    bars: tuple[Bar, ...]
    lacks: tuple[Lack, ...]
    laid: Mapping[str, Laid]
    as_of: Day
    last: Day
    adrift: tuple[Tick, ...] = ()  # ticks of entries that do not follow from the facts now; kept, and listed


def window(task: Task) -> Window | None:
    """A task's window, or None while it can't be dated."""
    if task.opens is None or task.best is None or task.closes is None:
        return None
    return Window(task.opens, task.best, task.closes)
