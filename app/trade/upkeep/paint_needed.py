"""How much paint: area, coats, what a litre covers, waste; the fewest tins, and what they cost."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from app.errors import OutOfRange

FIRST_COAT_ON_BARE = 0.75
SMALL_OPENING_M2 = 0.5


class Tin(NamedTuple):
    """A size that is sold: litres (or kilograms), and its price in the household's money, 0 when it is not known."""

    size: float
    price: float = 0.0


class Packs(NamedTuple):
    """What to buy: how many of each size, as (size, count); what they hold, what is left over, what they cost."""

    counts: tuple[tuple[float, int], ...]
    holds: float
    left: float
    cost: float


def wall_m2(
    faces: Sequence[tuple[float, float]], openings_m2: Sequence[float] = (), gables: Sequence[float] = ()
) -> float:
    """Wall to be covered (m²): lengths by heights, and gables, less each opening above half a square metre.

    ``gables`` are each half of span by rise, as an area.
    Source: geometry; small openings are not taken off, for what their edges take: common practice.
    Raises: OutOfRange for a side below 0, or openings that leave no wall.
    """
    sides = [value for pair in faces for value in pair]
    if any(value < 0 for value in (*sides, *openings_m2, *gables)):
        raise OutOfRange("A length or an area", min((*sides, *openings_m2, *gables)), "0 or more")
    net = sum(a * b for a, b in faces) + sum(gables) - sum(one for one in openings_m2 if one > SMALL_OPENING_M2)
    if net < 0:
        raise OutOfRange("A wall less its openings", net, "0 m² or more")
    return net


def gable_m2(span_m: float, rise_m: float) -> float:
    """One gable's triangle (m²).

    Source: geometry.
    Raises: OutOfRange below 0.
    """
    if span_m < 0 or rise_m < 0:
        raise OutOfRange("A side", min(span_m, rise_m), "0 m or more")
    return span_m * rise_m / 2


def litres(area_m2: float, coats: int, m2_a_litre: float, waste_percent: float = 10.0, bare: bool = False) -> float:
    """Litres for so many coats: area x coats / spread x (1 + waste). On bare work the first covers three quarters.

    Source: arithmetic; spreads stand in upkeep-tables.toml; waste 10 % by brush and the first coat on bare work are
    common practice.
    Raises: OutOfRange for an area below 0, no coats, or a spread that cannot be.
    """
    if not 0 <= area_m2 <= 100_000:
        raise OutOfRange("An area", area_m2, "0 to 100000 m²")
    if not 1 <= coats <= 12:
        raise OutOfRange("A number of coats", coats, "1 to 12")
    if not 0.5 <= m2_a_litre <= 30 or not 0 <= waste_percent <= 100:
        raise OutOfRange("What a litre covers", m2_a_litre, "0.5 to 30 m², with waste of 0 to 100 %")
    turns = coats - 1 + 1 / FIRST_COAT_ON_BARE if bare else coats
    return area_m2 * turns / m2_a_litre * (1 + waste_percent / 100)


def packs(needed: float, tins: Sequence[Tin]) -> Packs:
    """The tins to buy: cheapest when every price is known, else the fewest litres over, then the fewest tins.

    Source: arithmetic, every sensible mix of up to three sizes tried.
    Raises: OutOfRange for no sizes, or one that is not above 0.
    """
    sizes = sorted({one.size: one for one in tins}.values(), reverse=True)[:3]
    if not sizes or sizes[-1].size <= 0 or needed < 0 or needed > 100_000:
        raise OutOfRange("What is needed", needed, "0 to 100000, in packs of some size")
    priced = all(one.price > 0 for one in sizes)
    best: tuple[tuple[float, float, int], tuple[int, ...]] | None = None
    for counts in _mixes(needed - 1e-9, sizes):
        holds = sum(count * one.size for count, one in zip(counts, sizes, strict=True))
        cost = sum(count * one.price for count, one in zip(counts, sizes, strict=True))
        rank = (cost if priced else holds, holds, sum(counts))
        if best is None or rank < best[0]:
            best = (rank, counts)
    counts = best[1] if best else (0,) * len(sizes)
    holds = sum(count * one.size for count, one in zip(counts, sizes, strict=True))
    cost = sum(count * one.price for count, one in zip(counts, sizes, strict=True)) if priced else 0.0
    told = tuple((one.size, count) for count, one in zip(counts, sizes, strict=True) if count)
    return Packs(told, holds, holds - needed, cost)


def _mixes(needed: float, sizes: Sequence[Tin]) -> list[tuple[int, ...]]:
    """Counts of each size that hold enough, the last size filling what is left."""
    if needed <= 0:
        return [(0,) * len(sizes)]
    if len(sizes) == 1:
        return [(ceil(needed / sizes[0].size),)]
    most = ceil(needed / sizes[0].size)
    least = max(0, most - 12)  # far below the most, small tins are never the better buy
    found = [
        (count, *rest) for count in range(least, most + 1) for rest in _mixes(needed - count * sizes[0].size, sizes[1:])
    ]
    return found if least == 0 else [*found, (0, *_mixes(needed, sizes[1:])[0])]
