"""Whether there is seed enough: plants to seeds, seeds to grams, and what is over to give away."""

from math import ceil
from typing import NamedTuple

from app.errors import OutOfRange

FIELD_FACTOR = 0.7
"""Of the seeds that would come up on damp paper, those that do in a garden. Source: common practice, 0.5 to 0.8."""

SPARE = 0.15
"""What is kept beyond the need. Source: common practice, 10 to 15 %."""


class Balance(NamedTuple):
    """Seeds: what there ``are``, what is ``wanted`` for a season, and what is over (below none: lacking)."""

    are: float
    wanted: float
    over: float

    @property
    def enough(self) -> bool:
        """Whether what there is will do."""
        return self.over >= 0


def seeds_wanted(plants: float, a_station: float, germination: float, field_factor: float = FIELD_FACTOR) -> int:
    """Seeds to sow for so many plants: ``plants · a_station / (germination · field_factor)``, rounded up.

    ``germination`` and ``field_factor`` are shares of one.
    Valid: both above 0 and up to 1.
    Source: arithmetic of a seed rate; the field factor is common practice.
    Raises: OutOfRange beyond that.
    """
    for name, share in (("A germination", germination), ("A field factor", field_factor)):
        if not 0 < share <= 1:
            raise OutOfRange(name, share, "above 0, up to 1")
    if plants < 0 or a_station <= 0:
        raise OutOfRange("A number of plants", min(plants, a_station), "none or more, a seed or more to each station")
    return ceil(plants * a_station / (germination * field_factor) - 1e-9)


def grams(seeds: float, seeds_a_gram: float) -> float:
    """What so many seeds weigh. Source: arithmetic. Raises: OutOfRange for seed that weighs nothing."""
    if seeds_a_gram <= 0:
        raise OutOfRange("Seeds in a gram", seeds_a_gram, "more than none")
    return seeds / seeds_a_gram


def counted_by_weight(weight_g: float, seeds_a_gram: float) -> int:
    """How many seeds weigh so much. Source: arithmetic. Raises: OutOfRange below nothing."""
    if weight_g < 0:
        raise OutOfRange("A weight", weight_g, "nothing or more")
    if seeds_a_gram <= 0:
        raise OutOfRange("Seeds in a gram", seeds_a_gram, "more than none")
    return round(weight_g * seeds_a_gram)


def seeds_a_gram(counted: int, weighed_g: float) -> float:
    """Seeds in a gram of one's own seed, from a small lot counted and weighed.

    Source: arithmetic. Raises: OutOfRange for nothing counted or weighed.
    """
    if counted < 1 or weighed_g <= 0:
        raise OutOfRange("A sample", min(counted, weighed_g), "one seed or more, and some weight")
    return counted / weighed_g


def balance(there_are: float, wanted: float, spare: float = SPARE) -> Balance:
    """What is over once the need and a spare part of it are kept: ``are − wanted · (1 + spare)``.

    Source: common practice, 10 to 15 % to spare.
    """
    return Balance(there_are, wanted, there_are - wanted * (1 + spare))
