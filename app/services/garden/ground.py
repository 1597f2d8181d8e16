"""A bed as the household knows it, what it has had, and when it is free. Pure: rows and stands in, answers out."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from app.rules.spans import Day
from app.services.garden.stands import Stand
from app.trade.garden.feeding import FEEDS, Fed
from app.trade.garden.rotation import DISEASES, Grown, growing_year
from app.trade.garden.soils import SOILS

COVERS = ("open", "tunnel", "frame", "propagator", "sill")
"""What a bed lies under; only the open gets rain."""
INDOORS = ("propagator", "sill")
"""Covers that stand in a house: no frost, no ground, no rotation."""
DISEASE_NAMES = tuple(DISEASES)
FEED_NAMES = FEEDS
SOIL_NAMES = tuple(SOILS)
AHEAD_DAYS = 365


class Bed(NamedTuple):
    """A bed, or a place under cover with room for trays; ``ends`` is the last day on which it was one."""

    id: int
    name: str
    length_m: float
    width_m: float
    cover: str = "open"
    soil: str | None = None
    trays: int | None = None
    ends: Day | None = None
    note: str = ""

    @property
    def area_m2(self) -> float:
        """Its ground."""
        return self.length_m * self.width_m

    @property
    def covered(self) -> bool:
        """Whether the rain is kept off."""
        return self.cover != "open"


class Fact(NamedTuple):
    """Something said of a bed: what grew in it, trouble found, what fed it, when it was watered."""

    id: str
    bed: int
    kind: str
    what: str
    on: Day
    amount: float | None = None
    unit: str = ""
    note: str = ""


class Kind(NamedTuple):
    """What may have grown somewhere, as it is chosen from a list: a word for it, its group and species."""

    word: str
    group: str
    species: str


class Gap(NamedTuple):
    """Days on which nothing stands in a bed; ``last`` is None where nothing more is planned."""

    first: Day
    last: Day | None


def year_of_growth(day: Day, southern: bool) -> int:
    """The growing year of a day."""
    on = date.fromordinal(day)
    return growing_year(on.year, on.month, southern=southern)


def grown_in(
    bed: Bed,
    stands: Iterable[Stand],
    facts: Iterable[Fact],
    kinds: Mapping[str, Kind],
    southern: bool,
    without: str = "",
) -> list[Grown]:
    """All that stood, stands or is planned to stand in a bed, by year, the latest last.

    From the entries put down there, ``without`` one, and from what the household says grew there before.
    """
    found = []
    for one in stands:
        if same_place(one.place, bed.name) and one.entry != without:
            first = year_of_growth(one.first, southern)
            last = year_of_growth(one.last, southern) if one.last is not None else first + 100
            found.append(Grown(one.what, one.group, one.species, first, last))
    for fact in facts:
        if fact.bed == bed.id and fact.kind == "grew":
            kind = kinds.get(fact.what, Kind(fact.what, "", ""))
            year = year_of_growth(fact.on, southern)
            found.append(Grown(kind.word, kind.group, kind.species, year, year))
    return sorted(found, key=lambda one: (one.last_year, one.first_year, one.what))


def sick(bed: Bed, facts: Iterable[Fact], southern: bool) -> list[tuple[str, int]]:
    """The diseases found in a bed, with the year of each; other trouble is no disease of the ground."""
    mine = [fact for fact in facts if fact.bed == bed.id and fact.kind == "trouble" and fact.what in DISEASES]
    return [(fact.what, year_of_growth(fact.on, southern)) for fact in mine]


def fed(bed: Bed, facts: Iterable[Fact], spread: Iterable[tuple[str, Fed]] = ()) -> list[Fed]:
    """What fed a bed, the latest first, as said of it and as done in jobs there; ``spread`` pairs place and feed."""
    said = [Fed(f.what, f.on) for f in facts if f.bed == bed.id and f.kind == "fed" and f.what in FEEDS]
    done = [one for place, one in spread if same_place(place, bed.name)]
    return sorted({*said, *done}, key=lambda one: (-one.day, one.what))


def watered_mm(bed: Bed, facts: Iterable[Fact]) -> dict[Day, float]:
    """What a bed was given on each day, in litres on a square metre; nothing is counted where no amount was said."""
    found: dict[Day, float] = {}
    for fact in facts:
        if fact.bed == bed.id and fact.kind == "watered" and fact.amount and bed.area_m2 > 0:
            found[fact.on] = found.get(fact.on, 0.0) + fact.amount / bed.area_m2
    return found


def in_bed(bed: Bed, stands: Iterable[Stand]) -> list[Stand]:
    """What stands in a bed at any time, the earliest first."""
    return sorted((one for one in stands if same_place(one.place, bed.name)), key=lambda one: (one.first, one.entry))


def gaps(stands: Sequence[Stand], today: Day, ahead_days: int = AHEAD_DAYS) -> list[Gap]:
    """When a bed is free, from today on: the days on which nothing stands there or is planned to."""
    found: list[Gap] = []
    free: Day | None = today
    end = today + ahead_days
    for one in sorted(stands, key=lambda one: one.first):
        if free is None or one.first > end:
            break
        if one.last is not None and one.last < free:
            continue
        if one.first > free:
            found.append(Gap(free, one.first - 1))
        free = None if one.last is None else max(free, one.last + 1)
    if free is not None and free <= end:
        found.append(Gap(free, None))
    return found


def taken_m2(stands: Iterable[Stand], first: Day, last: Day | None) -> float | None:
    """The most ground that is taken at one time during a stretch; None where some of it is not known."""
    there = [one for one in stands if one.meets(first, last)]
    if any(one.ground_m2 is None for one in there):
        return None
    days = {max(first, one.first) for one in there}
    return max((sum(one.ground_m2 or 0.0 for one in there if one.holds(day)) for day in days), default=0.0)


def same_place(one: str, other: str) -> bool:
    """Whether two names mean one place, however they are spelt in capitals and spaces."""
    return " ".join(one.casefold().split()) == " ".join(other.casefold().split())
