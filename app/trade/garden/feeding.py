"""What feeds the ground, what must not go together, and what a bed wants before each group."""

from collections.abc import Iterable, Mapping
from typing import Literal, NamedTuple

FEEDS = ("muck", "compost", "lime", "green manure")
"""What may be spread on a bed, or sown into it."""

APART_DAYS = 56
"""Two months between lime and muck: together they drive the goodness off as ammonia. Common practice."""
ROOTS_REST_DAYS = 365
"""Roots fork and onions rot in ground mucked within the year. Common practice."""
POTATOES_REST_DAYS = 365
"""Potatoes are scabby in ground limed within the year. Common practice."""


class Fed(NamedTuple):
    """A feeding: what, and on which day."""

    what: str
    day: int


class Quarrel(NamedTuple):
    """Two things that should have been kept apart, or that should wait: a feeding, against another or a group."""

    kind: Literal["lime and muck", "muck before roots", "lime before potatoes"]
    fed: Fed
    other: str
    days: int


WANTS: Mapping[str, tuple[str, ...]] = {
    "potatoes": ("muck",),
    "legumes": ("compost",),
    "brassicas": ("lime",),
    "onions": ("compost",),
    "roots": (),
    "anywhere": ("compost",),
}
"""What a bed wants before a group, in the winter before: muck where it is hungry, lime where it is sour and cabbages
come, nothing fresh before roots. Common practice."""


def quarrels(fed: Iterable[Fed]) -> list[Quarrel]:
    """Lime and muck that came within two months of each other on one bed, the later day's first.

    Source: `APART_DAYS`.
    """
    some = list(fed)
    limes, mucks = ([one for one in some if one.what == what] for what in ("lime", "muck"))
    near = [(lime, muck) for lime in limes for muck in mucks if abs(lime.day - muck.day) < APART_DAYS]
    found = [Quarrel("lime and muck", max(pair, key=lambda f: f.day), _other(pair), _apart(pair)) for pair in near]
    return sorted(found, key=lambda one: -one.fed.day)


def _other(pair: tuple[Fed, Fed]) -> str:
    return min(pair, key=lambda one: one.day).what


def _apart(pair: tuple[Fed, Fed]) -> int:
    return abs(pair[0].day - pair[1].day)


def too_soon(group: str, day: int, fed: Iterable[Fed]) -> list[Quarrel]:
    """What was spread too lately for a group sown or planted on a day.

    Source: `ROOTS_REST_DAYS`, `POTATOES_REST_DAYS`.
    """
    found = []
    for one in fed:
        ago = day - one.day
        if one.what == "muck" and group == "roots" and 0 <= ago < ROOTS_REST_DAYS:
            found.append(Quarrel("muck before roots", one, group, ago))
        if one.what == "lime" and group == "potatoes" and 0 <= ago < POTATOES_REST_DAYS:
            found.append(Quarrel("lime before potatoes", one, group, ago))
    return found


def still_wants(group: str, day: int, fed: Iterable[Fed], within_days: int = 270) -> tuple[str, ...]:
    """What a bed still wants before a group comes on ``day``: what it had within the time before is had.

    Source: `WANTS`; the time, a winter and the autumn before it, is common practice.
    """
    had = {one.what for one in fed if 0 <= day - one.day <= within_days}
    return tuple(what for what in WANTS.get(group, ()) if what not in had)
