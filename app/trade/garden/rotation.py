"""What may follow what in a bed: groups of families, the years a bed must rest from each, and what sickness adds."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

GROUPS = ("potatoes", "legumes", "brassicas", "onions", "roots")
"""The groups that must not come back too soon. Source: groups by family, common practice as published in an allotment
association's plan, 2020; perennials and what goes anywhere: Royal Horticultural Society, Crop rotation, 2025."""

ORDER: tuple[tuple[str, ...], ...] = (("potatoes",), ("legumes",), ("brassicas",), ("onions", "roots"))
"""Who follows whom, round and round in four years; common practice."""

REST_YEARS = 3
"""So many years a bed rests from a group. Source: "not on the same soil for the next three years", Country Life, Plan
crop rotation."""


class Disease(NamedTuple):
    """A sickness that stays in the ground: whom it takes, and for how many years."""

    name: str
    group: str
    years: int


DISEASES: Mapping[str, Disease] = {
    one.name: one
    for one in (
        Disease("clubroot", "brassicas", 20),
        Disease("onion white rot", "onions", 15),
        Disease("potato cyst eelworm", "potatoes", 6),
    )
}
"""Source: from memory, Royal Horticultural Society advice on clubroot (up to 20 years), onion white rot (15 or more)
and potato cyst eelworm (6 or more)."""


class Grown(NamedTuple):
    """What stood in a bed, and in which years; what stands over a winter stood in both."""

    what: str
    group: str
    species: str
    first_year: int
    last_year: int


class Found(NamedTuple):
    """Why something should not be sown here: the kind, what stood here or what was found, its year, and how long ago.

    ``kind`` is "disease", "group", "species" or "again" (something that goes anywhere, two years running).
    """

    kind: Literal["disease", "group", "species", "again"]
    what: str
    year: int
    ago: int


def growing_year(year: int, month: int, *, southern: bool = False) -> int:
    """The growing year of a month: the calendar's in the north; in the south from July on the next one's.

    Source: none; the south's summer runs over New Year.
    """
    return year + 1 if southern and month >= 7 else year


def clashes(
    group: str,
    species: str,
    year: int,
    before: Iterable[Grown],
    found: Iterable[tuple[str, int]] = (),
) -> list[Found]:
    """What speaks against a crop of a group and species in a bed in a year, the gravest first.

    ``before`` is what stood there, ``found`` the diseases recorded with the year of each. The group clashes when the
    bed had it in any of the three years before, or the disease of it within its years; the same species is said of
    where the group is free. What goes anywhere is said of only when it stood there the year before.
    Source: `REST_YEARS`, `DISEASES`; same species and "not repeatedly", common practice.
    """
    sick = [
        Found("disease", name, since, year - since)
        for name, since in found
        if name in DISEASES and DISEASES[name].group == group and 0 <= year - since <= DISEASES[name].years
    ]
    fresh = [(grown, max(1, year - grown.last_year)) for grown in before if _recent(grown, year)]
    same = [Found("group", g.what, g.last_year, ago) for g, ago in fresh if g.group == group and group in GROUPS]
    kin = [
        Found("species" if group in GROUPS or g.group in GROUPS else "again", g.what, g.last_year, ago)
        for g, ago in fresh
        if species and same_species(g.species, species) and not (g.group == group and group in GROUPS)
    ]
    kin = [one for one in kin if one.kind == "species" or one.ago == 1]
    return [*sick, *sorted(same, key=lambda one: one.ago), *sorted(kin, key=lambda one: one.ago)]


def _recent(grown: Grown, year: int) -> bool:
    return grown.first_year < year and year - grown.last_year <= REST_YEARS


def same_species(one: str, other: str) -> bool:
    """Whether two names are of one species, whatever stands after its two words (a group in brackets).

    Source: none; the binomial.
    """
    return one.split()[:2] == other.split()[:2]


def wants_next(year: int, before: Sequence[Grown], found: Sequence[tuple[str, int]] = ()) -> tuple[str, ...]:
    """The groups that may stand in a bed in a year, best first: the one whose turn it is after the last that stood.

    Source: `ORDER`, `REST_YEARS`, `DISEASES`.
    """
    free = [group for group in GROUPS if not clashes(group, "", year, before, found)]
    turns = {group: turn for turn, groups in enumerate(ORDER) for group in groups}
    last = max((g for g in before if g.group in turns and g.first_year < year), key=lambda g: g.last_year, default=None)
    start = turns[last.group] + 1 if last is not None else 0
    return tuple(sorted(free, key=lambda group: (turns[group] - start) % len(ORDER)))


def in_turn(bed: int, year: int) -> tuple[str, ...]:
    """The groups whose turn it is in the bed of a number, where all beds go round together: ``(bed + year) mod 4``.

    Source: the four-year order, common practice.
    """
    return ORDER[(bed + year) % len(ORDER)]


GREEN_MANURES: Mapping[str, tuple[str, str]] = {
    "grazing rye": ("anywhere", "Secale cereale"),
    "winter tares": ("legumes", "Vicia sativa"),
    "field beans": ("legumes", "Vicia faba"),
    "mustard": ("brassicas", "Sinapis alba"),
    "phacelia": ("anywhere", "Phacelia tanacetifolia"),
    "crimson clover": ("legumes", "Trifolium incarnatum"),
    "buckwheat": ("anywhere", "Fagopyrum esculentum"),
}
"""Group and species of what is sown to be dug in; common practice: each takes its family's turn."""
