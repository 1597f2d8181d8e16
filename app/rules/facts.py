"""What is so and what happened: the facts from which every task is worked out.

All of these are values; none is ever changed in place. Day numbers inside (see `app.rules.spans`).
"""

from collections.abc import Mapping
from typing import Any, Literal, NamedTuple

from app.rules.sheet import BarRule
from app.rules.spans import Day
from app.rules.terms import Nation, Value

TickKind = Literal["done", "let go", "moved", "undone"]


class Window(NamedTuple):
    """A job's window: from, best, by; always in that order."""

    opens: Day
    best: Day
    closes: Day


class Entry(NamedTuple):
    """Something the household has put down: it follows one sheet.

    ``told`` is the day it was put down (what closed before is not owed). ``ends`` is the last day on which anything is
    asked of it; ``struck`` takes it out of the plan and keeps its ticks. ``made_by`` is the key of the task that made
    it, "" when the household put it down; ``sure`` is false while that task is only planned.
    """

    id: str
    sheet: str
    name: str
    facts: Mapping[str, Value]
    told: Day
    place: str = ""
    ends: Day | None = None
    struck: bool = False
    made_by: str = ""
    sure: bool = True


class Amendment(NamedTuple):
    """What the household adds to an entry that a tick made, kept under that entry's id."""

    entry: str
    facts: Mapping[str, Value] = {}
    name: str = ""
    place: str = ""
    ends: Day | None = None
    struck: bool = False


class Tick(NamedTuple):
    """Something said about a job.

    ``on`` is the day it was done, let go, or moved to; ``at`` when it was said (UTC, ISO 8601, so that text order is
    time order); ``answers`` the id of the tick that an "undone" takes back; ``shown`` the window that was on the page;
    ``tied_to`` the id of the tick whose saying implied this one, with which it is undone.
    """

    id: str
    key: str
    kind: TickKind
    on: Day
    at: str
    measures: Mapping[str, Value] = {}
    answers: str = ""
    shown: Window | None = None
    tied_to: str = ""


WayScope = Literal["entry", "variety", "holding"]
WayKind = Literal["days", "keeps_days", "minutes_percent", "yield_percent"]


class Way(NamedTuple):
    """What is done otherwise here than on a sheet: for one entry, for a variety, or on the whole holding.

    ``what`` says how ``amount`` is meant: "days" later (negative: sooner) at ``step``; "keeps_days" in all; minutes
    or yield in per cent of the sheet's. ``step`` is "" for all of the sheet.
    """

    scope: WayScope
    sheet: str
    what: WayKind
    amount: float
    step: str = ""
    entry: str = ""
    variety: str = ""
    note: str = ""
    id: int = 0


class Law(NamedTuple):
    """The law that no entry lays: yearly closed seasons by nation; ``bars`` are those of every nation on file."""

    bars: tuple[BarRule, ...] = ()


class Holding(NamedTuple):
    """The one place: its ``nation`` (None until it is said: then no legal date is given) and its season."""

    nation: Nation | None
    season: Any  # app.trade.climate.season.Season
