"""What a sheet says, as frozen values: the vocabulary of rules, free of any file format.

A sheet holds all that is known of doing one thing. Every date on it is a `Moment`, so that reckoning, windows,
ends of repeats, bars and seasons share one reader, one checker and one compiler.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from app.rules.spans import NOTHING, Span

if TYPE_CHECKING:
    from app.rules.crop import Crop

Value = int | float | str | bool
"""A fact or a measure: a date is held as its day number (`int`), a choice and a text as `str`."""

Trade = Literal["garden", "livestock", "meat", "preserving", "upkeep"]
TRADES: tuple[Trade, ...] = ("garden", "livestock", "meat", "preserving", "upkeep")

Nation = Literal["england", "scotland", "wales", "northern ireland", "ireland", "elsewhere"]
NATIONS: tuple[Nation, ...] = ("england", "scotland", "wales", "northern ireland", "ireland", "elsewhere")

Missed = Literal["late", "lost", "wait", "passes"]

ACTS: tuple[str, ...] = (
    "sow", "plant", "flower", "slaughter", "put down", "eat", "sell", "move off", "cut hedge", "fell", "burn",
    "cut up", "cure", "smoke", "use", "spread", "mark", "disturb nests",
)  # fmt: skip
"""What a bar can forbid. A killing for food and the killing of a suffering animal are two acts on purpose."""

ASK_KINDS: tuple[str, ...] = (
    "date", "yes or no", "text", "count", "entry",
    "kg", "g", "mm", "cm", "m", "m2", "l", "ml", "c", "%", "d", "h", "min",
)  # fmt: skip
"""What a fact or a measure can be: its unit names it. `entry` is the id of another entry; a list is a choice."""


class Source(NamedTuple):
    """Where a statement comes from.

    ``basis`` is `published`, `common practice` or `from memory`; ``key`` names a publication of sources.toml (only
    when published), ``where`` the table, section or page there, or the publication it is believed to stand in.
    """

    basis: Literal["published", "common practice", "from memory"]
    key: str = ""
    where: str = ""


class Ask(NamedTuple):
    """A fact asked of an entry, or a measure asked when a step is ticked.

    ``kind`` is one of `ASK_KINDS` or "choice"; ``default`` is used until it is said; ``low`` and ``high`` bound what
    can be meant, in the unit of the kind.
    """

    name: str
    kind: str
    label: str = ""
    choices: tuple[str, ...] = ()
    default: Value | None = None
    low: float | None = None
    high: float | None = None
    optional: bool = False


# ── Moments: exactly one way of naming a day ──────────────────────────────────────────────────────────────────────


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


# ── Steps ─────────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class After:
    """A step that must come first, and by how long at least: a span, or the days of a computation."""

    step: str
    by: Span = NOTHING
    which: Literal["", "first", "last"] = ""
    work: Work | None = None


@dataclass(frozen=True, slots=True)
class Again:
    """How a step comes round.

    ``kind`` is "yearly" (cycles labelled by the year of the mark) or "every" (by ordinal). ``every`` is a span or a
    computation; ``until`` the last useful day; ``last`` the zeroth doing; ``counted`` "plan" reckons the next from
    the plan and not from the tick; ``stop`` is a yes/no measure that ends it; ``most`` how many at most; ``counts``
    other steps whose doing answers this one.
    """

    kind: Literal["yearly", "every"]
    every: Span | Work = NOTHING
    until: Moment | None = None
    last: Moment | None = None
    counted: Literal["tick", "plan"] = "tick"
    stop: str = ""
    most: int = 0
    counts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class When:
    """A condition on answers: every named fact or measure must be one of its values.

    ``tests`` pairs a `Given` with the values that will do; ``otherwise`` decides while an answer is still out.
    """

    tests: tuple[tuple[Given, tuple[Value, ...]], ...]
    otherwise: bool = False


@dataclass(frozen=True, slots=True)
class Labour:
    """Minutes of work: ``base``, and ``each`` for every one (m, plant, kg, head) of the fact ``per``."""

    base: float
    each: float = 0.0
    per: str = ""


@dataclass(frozen=True, slots=True)
class Needs:
    """What a job needs of the day and of the house; temperatures in °C."""

    dry: bool = False
    still: bool = False
    no_frost: bool = False
    above_c: float | None = None
    below_c: float | None = None
    surface_above_dew_c: float | None = None
    people: int = 1
    kit: str = ""
    room: str = ""


@dataclass(frozen=True, slots=True)
class Use:
    """What a job uses up: ``amount`` of ``what`` in ``unit``, for every one of the fact ``per`` when that is given."""

    what: str
    amount: float
    unit: str
    per: str = ""


@dataclass(frozen=True, slots=True)
class Make:
    """What a job makes.

    ``kind`` is "lot" (something kept), "seed" (for the tin), "stage" (an animal's next stage) or "entry" (another
    entry that follows ``sheet``). ``amount`` names the measure that says how much; ``keeps`` how long a lot keeps.
    For an entry, ``facts`` map its facts to what was measured, ``otherwise`` what to plan with before it is known.
    """

    kind: Literal["lot", "seed", "stage", "entry"]
    name: str
    sheet: str = ""
    amount: str = ""
    unit: str = ""
    keeps: Span | None = None
    where: str = ""
    facts: Mapping[str, Given] | None = None
    otherwise: Mapping[str, Value] | None = None


@dataclass(frozen=True, slots=True)
class Timed:
    """A step where hours matter: minutes after midnight at which it starts, how long it runs, when to look."""

    starts_min: int
    hours: float
    look_every_hours: float = 0.0


@dataclass(frozen=True, slots=True)
class Round:
    """Standing work of every day: ``at`` morning or evening, while the group is here, until ``until``."""

    at: Literal["morning", "evening"]
    until: Moment | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One act on a sheet. ``title`` is an imperative; ``note`` a line under it; ``loses`` what missing it costs."""

    id: str
    title: str
    start: Moment
    source: Source
    note: str = ""
    loses: str = ""
    act: str = ""
    after: tuple[After, ...] = ()
    opens: Span | Moment | None = None
    closes: Span | Moment | None = None
    again: Again | None = None
    missed: Missed = "late"
    when: When | None = None
    within: str = ""
    firm: bool = False
    legal: bool = False
    nations: tuple[Nation, ...] = ()
    appointment: str = ""
    round: Round | None = None
    timed: Timed | None = None
    place: str = ""
    asks: tuple[Ask, ...] = ()
    uses: tuple[Use, ...] = ()
    makes: tuple[Make, ...] = ()
    minutes: Labour = Labour(0.0)
    needs: Needs = Needs()
    cautions: tuple[str, ...] = ()
    was: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Spell:
    """A season of the year in which some work can be done; ``whole`` names steps that must all fall in one of them."""

    id: str
    opens: YearDay | Mark
    closes: YearDay | Mark
    whole: tuple[str, ...] = ()


BarKind = Literal["law", "room", "clash"]
BarOn = Literal["entry", "for", "place", "species", "holding", "kit"]


@dataclass(frozen=True, slots=True)
class BarRule:
    """What forbids some acts for a while, both ends inclusive.

    `law` rests on entry dates, facts and ticks alone; `room` on planned dates, laid on entries put down later; `clash`
    is found after planning and moves nothing. ``species`` narrows whom a bar on the holding touches; ``kit`` names the
    thing in use; ``says`` is the sentence shown.
    """

    id: str
    kind: BarKind
    on: BarOn
    acts: tuple[str, ...]
    opens: Moment
    closes: Moment
    says: str
    source: Source
    species: tuple[str, ...] = ()
    nations: tuple[Nation, ...] = ()
    kit: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet, checked, its steps in the order in which they can be laid.

    ``scopes`` gives for each step the ids of the steps whose cycles it lies in, outermost first, itself included when
    it comes round. ``back`` pairs (target, step) where a step reckoned back from its target also holds it.
    ``begins`` is the step that the entry's date reports as done once that date has come. ``order`` is the steps' ids
    as they stand in the file, for showing them; laying never depends on it. ``crop`` holds a garden crop's figures,
    ``own`` by step what the household does otherwise, in words (see `app.rules.own`).
    """

    id: str
    title: str
    trade: Trade
    about: str
    kind: str
    file: str
    facts: Mapping[str, Ask]
    steps: tuple[Step, ...]
    scopes: Mapping[str, tuple[str, ...]]
    back: tuple[tuple[str, str], ...] = ()
    spells: Mapping[str, Spell] | None = None
    bars: tuple[BarRule, ...] = ()
    species: str = ""
    family: str = ""
    begins: str = ""
    found: bool = False
    cautions: tuple[str, ...] = ()
    order: tuple[str, ...] = ()
    crop: "Crop | None" = None
    own: Mapping[str, tuple[str, ...]] | None = None
