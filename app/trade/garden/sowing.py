"""How much to sow: from mouths, metres or plants to a row, its plants, its seeds, their grams and what they give."""

from math import ceil

from app.errors import OutOfRange

FOOT_M = 0.3048
LB_A_100_FT_KG_A_M = 0.45359237 / (100 * FOOT_M)
"""A yield in pounds from a hundred feet of row as kilos from a metre: 0.01488."""

FIELD_PERCENT = 70.0
"""Of the seed that would sprout on damp paper, how much stands in the ground: 50 to 80 %, common practice."""

SPARE_PERCENT = 12.5
"""Kept beside as spares, for gaps: 10 to 15 %, common practice."""

_EDGE = 1e-9


def row_for_mouths_m(mouths: float, a_person_m: float) -> float:
    """``L = N * metres a person``.

    Source: Home Vegetable Gardening in Kentucky, University of Kentucky, gives feet of row for one person.
    Raises: OutOfRange for no mouths, or a need of nothing.
    """
    _more_than_none("So many mouths: a number", mouths, 1000)
    _more_than_none("A need of a person in metres", a_person_m, 1000)
    return mouths * a_person_m


def row_for_kilos_m(kg: float, kg_a_m: float) -> float:
    """``L = need / yield``.

    Source: arithmetic; the yield stands on the crop's sheet.
    Raises: OutOfRange for a need or a yield of nothing.
    """
    _more_than_none("A need in kilos", kg, 1e6)
    _more_than_none("A yield in kilos a metre", kg_a_m, 1000)
    return kg / kg_a_m


def plants_in(row_m: float, plant_cm: float) -> int:
    """Plants in a row: ``L / spacing``, one at least.

    Source: arithmetic.
    Raises: OutOfRange for a row or a spacing of nothing.
    """
    _more_than_none("A row in metres", row_m, 100_000)
    _more_than_none("A spacing in centimetres", plant_cm, 10_000)
    return max(1, round(100 * row_m / plant_cm))


def row_of_m(plants: float, plant_cm: float) -> float:
    """The row that so many plants take.

    Source: arithmetic.
    Raises: OutOfRange for no plants, or a spacing of nothing.
    """
    _more_than_none("A number of plants", plants, 1e7)
    _more_than_none("A spacing in centimetres", plant_cm, 10_000)
    return plants * plant_cm / 100


def seeds_for(
    plants: float, seeds_each: float, germination_percent: float, field_percent: float = FIELD_PERCENT
) -> int:
    """``seeds = plants * seeds at each place / (germination * field factor)``, rounded up.

    ``field_percent`` is the share of sprouting seed that becomes a plant in the ground.
    Source: arithmetic; for the field factor see `FIELD_PERCENT`.
    Raises: OutOfRange for no plants, and for shares beyond 1 to 100 %.
    """
    _more_than_none("A number of plants", plants, 1e7)
    _more_than_none("Seeds at each place: a number", seeds_each, 1000)
    for name, share in (("A germination in per cent", germination_percent), ("A field factor", field_percent)):
        if not 1 <= share <= 100:
            raise OutOfRange(name, share, "1 to 100 %", "Of a hundred seeds no more than a hundred can come up.")
    return ceil(plants * seeds_each / (germination_percent * field_percent / 1e4) - _EDGE)


def grams_of(seeds: float, seeds_a_gram: float) -> float:
    """Seeds as a weight.

    Source: arithmetic.
    Raises: OutOfRange where a gram holds no seed.
    """
    _more_than_none("Seeds to a gram: a number", seeds_a_gram, 100_000)
    return seeds / seeds_a_gram


def spares(plants: float, percent: float = SPARE_PERCENT) -> int:
    """How many plants more to raise than are wanted, rounded up.

    Source: 10 to 15 %, common practice.
    Raises: OutOfRange beyond 0 to 100 %.
    """
    if not 0 <= percent <= 100:
        raise OutOfRange("Spares in per cent", percent, "0 to 100 %")
    return ceil(plants * percent / 100 - _EDGE)


def expected_kg(row_m: float, kg_a_m: float, own_percent: float = 100.0) -> float:
    """What a row gives; ``own_percent`` is this holding's own yield, in per cent of the sheet's.

    Source: arithmetic; the yield stands on the crop's sheet.
    Raises: OutOfRange for less than nothing.
    """
    if min(row_m, kg_a_m, own_percent) < 0:
        raise OutOfRange("A row, a yield or its share", min(row_m, kg_a_m, own_percent), "0 or more")
    return row_m * kg_a_m * own_percent / 100


def _more_than_none(name: str, value: float, most: float) -> None:
    if not 0 < value <= most:
        raise OutOfRange(name, value, f"more than 0, and no more than {most:g}")
