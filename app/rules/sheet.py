"""What a sheet says, as frozen values: the vocabulary of rules, free of any file format.

A sheet holds all that is known of doing one thing. Every date on it is a `Moment`, so that reckoning, windows,
ends of repeats, bars and seasons share one reader, one checker and one compiler.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from app.rules.crop import Crop
from app.rules.moment import Mark, Moment, YearDay
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.terms import Ask, Nation, Source, Trade


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
    thing in use; ``says`` is the sentence shown. Law of the land holds from the day ``in_force`` to the day ``ends``,
    both inclusive (None: always, still), and was last ``checked`` on a day.
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
    in_force: Day | None = None
    ends: Day | None = None
    checked: Day | None = None


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
    crop: Crop | None = None
    own: Mapping[str, tuple[str, ...]] | None = None
