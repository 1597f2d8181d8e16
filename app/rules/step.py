"""A step: one act on a sheet, and all that it can say of itself."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from app.rules.moment import Given, Moment, Work
from app.rules.spans import NOTHING, Span
from app.rules.terms import Ask, Missed, Nation, Source, Value


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

    def minutes(self, facts: Mapping[str, Value]) -> int:
        """Minutes of work for an entry's facts, to the whole minute."""
        count = facts.get(self.per) if self.per else None
        return round(self.base + (self.each * count if isinstance(count, int | float) else 0.0))


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
    ``basis`` says whether that day is one of quality or of safety, where it is not what larder.toml says of its kind.
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
    basis: Literal["", "quality", "safety"] = ""


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
    """One act on a sheet. ``title`` is an imperative; ``note`` a line under it; ``loses`` what missing it costs.

    ``before_frost`` says that it guards against frost: it is brought to the top when frost is told for the night.
    """

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
    before_frost: bool = False
