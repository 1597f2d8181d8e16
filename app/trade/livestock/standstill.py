"""The standstill of a holding: who came holds whom, for how many days; later arrivals hold them on."""

from collections.abc import Sequence
from typing import NamedTuple

from app.errors import OutOfRange


class Hold(NamedTuple):
    """One row of a nation's law: when any of ``came`` comes, all of ``held`` stand still for ``days``."""

    came: tuple[str, ...]
    held: tuple[str, ...]
    days: int


class Arrival(NamedTuple):
    """A coming in on day number ``on``; ``exempt`` when by a way that the law lets pass (as straight to slaughter)."""

    on: int
    species: str
    exempt: bool = False


def held_until(arrivals: Sequence[Arrival], holds: Sequence[Hold]) -> dict[str, int]:
    """The last day on which each species may not leave, but to slaughter.

    The day of arrival is day 0: held to ``arrival + days``, free the day after. Of several arrivals the last end holds.
    Species that no row names (poultry, deer) neither hold nor are held.
    Valid: rows of the nation in which the holding lies; without a nation there are none, and no date.
    Source: the rows' own; counting by Ceredigion County Council: comes on a Monday, six days, free the next Monday.
    Raises: OutOfRange for a row of fewer than 0 days.
    """
    last: dict[str, int] = {}
    for hold in holds:
        if hold.days < 0:
            raise OutOfRange("A standstill in days", hold.days, "0 and more")
        ends = [one.on + hold.days for one in arrivals if one.species in hold.came and not one.exempt]
        for species in hold.held if ends and hold.days else ():
            last[species] = max(last.get(species, ends[0]), *ends)
    return last


def free_from(arrivals: Sequence[Arrival], holds: Sequence[Hold]) -> dict[str, int]:
    """The first day on which each held species may leave again: the day after `held_until`.

    Source: as `held_until`.
    """
    return {species: last + 1 for species, last in held_until(arrivals, holds).items()}
