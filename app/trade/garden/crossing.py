"""What would cross: plants of one species in flower at the same time, nearer than they may be."""

import re
from collections.abc import Iterable
from typing import NamedTuple

EVER = 10**8
"""A day beyond every plan: the end of a time in flower that nobody knows."""


class Stand(NamedTuple):
    """Some plants in flower: ``first`` and ``last`` are day numbers, None while unknown; own ones stand at 0 m."""

    who: str
    species: str
    first: int | None = None
    last: int | None = None
    distance_m: float = 0.0


class Meeting(NamedTuple):
    """Two stands that would cross, and the days on which both are in flower (None where neither end is known)."""

    one: str
    other: str
    first: int | None
    last: int | None
    distance_m: float


def species_of(latin: str) -> frozenset[str]:
    """The species that a Latin name names: "Cucurbita maxima / C. moschata" is two, a group in brackets is none.

    Vegetables of one species cross, whatever the kitchen calls them: cabbage, kale and sprouts; beetroot and chard.
    Source: botanical nomenclature.
    """
    found, genus = [], ""
    for part in re.split(r"\s*/\s*", re.sub(r"\([^)]*\)", " ", latin)):
        words = [word for word in part.split() if word not in ("x", "×")]
        if not words:
            continue
        if not (len(words[0]) == 2 and words[0].endswith(".")) or not genus:
            genus = words[0].capitalize()
        if words[1:] and words[1].rstrip(".") not in ("spp", "sp"):
            found.append(f"{genus} {words[1].lower()}")
    return frozenset(found)


def same_species(one: str, other: str) -> bool:
    """Whether two Latin names share a species."""
    return bool(species_of(one) & species_of(other))


def meetings(stands: Iterable[Stand], near: Iterable[Stand], apart_m: float) -> list[Meeting]:
    """The pairs that would cross: own stands with one another, and with what flowers ``near``, within ``apart_m``.

    Times that nobody knows count as always. Two stands at the very distance are far enough.
    Source: isolation distances are the crop's; that only one species crosses is botany.
    """
    own = list(stands)
    pairs = [(one, other) for number, one in enumerate(own) for other in own[number + 1 :]]
    pairs += [(one, other) for one in own for other in near]
    found = []
    for one, other in pairs:
        apart = abs(other.distance_m - one.distance_m)
        first, last = _together(one, other)
        if apart < apart_m and first <= last and same_species(one.species, other.species):
            known = (first if first > -EVER else None, last if last < EVER else None)
            found.append(Meeting(one.who, other.who, *known, apart))
    return found


def _together(one: Stand, other: Stand) -> tuple[int, int]:
    firsts = [-EVER if stand.first is None else stand.first for stand in (one, other)]
    lasts = [EVER if stand.last is None else stand.last for stand in (one, other)]
    return max(firsts), min(lasts)
