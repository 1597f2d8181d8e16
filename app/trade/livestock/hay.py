"""Hay: three dry days to make it, what a field yields, and what is still to be bought."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from app.errors import OutOfRange

DRY_DAYS = 3
DRY_MM = 0.2
"""A day with no more rain than this is dry. Source: World Meteorological Organization: a wet day has more than that,
by the resolution of a gauge."""
WASTE_SHARE = 0.1
"""Hay that is trodden or spoilt. Source: common practice, 5 to 20 %."""


class Hay(NamedTuple):
    """Hay to buy: what is ``short`` in kg, and in whole ``bales``."""

    short_kg: float
    bales: int


def first_dry_days(rain_mm: Sequence[float], wanted: int = DRY_DAYS) -> int | None:
    """At which place in a row of days the first run of so many dry ones begins; None where there is none.

    Valid: one day and more. Source: three dry days to make hay, common practice. Raises: OutOfRange below one.
    """
    if wanted < 1:
        raise OutOfRange("Dry days", wanted, "1 and more")
    run = 0
    for at, rain in enumerate(rain_mm):
        run = run + 1 if rain <= DRY_MM else 0
        if run == wanted:
            return at + 1 - wanted
    return None


def hay_from_kg(area_m2: float, tonnes_ha: float = 3.5) -> float:
    """Hay of a field: ``area * yield``.

    Valid: areas above 0, 0.5 to 10 tonnes a hectare. Source: common practice, old pasture 2.5 to 4, leys to 7.
    Raises: OutOfRange beyond that.
    """
    if area_m2 <= 0:
        raise OutOfRange("An area in m2", area_m2, "more than 0")
    if not 0.5 <= tonnes_ha <= 10:
        raise OutOfRange("A yield in tonnes a hectare", tonnes_ha, "0.5 to 10")
    return area_m2 / 10_000 * tonnes_ha * 1000


def hay_wanted_kg(head: int, dry_kg_a_day: float, days: int, dm_fraction: float = 0.85) -> float:
    """Hay for a group over a winter, with a tenth to waste: ``head * intake * days / fraction * 1.1``.

    Valid: 0 and more; fractions of 0.6 to 0.95. Source: arithmetic; waste by common practice.
    Raises: OutOfRange beyond that.
    """
    if min(head, dry_kg_a_day, days) < 0:
        raise OutOfRange("Head, intake or days", min(head, dry_kg_a_day, days), "0 and more")
    if not 0.6 <= dm_fraction <= 0.95:
        raise OutOfRange("A share of dry matter in hay", dm_fraction, "0.6 to 0.95")
    return head * dry_kg_a_day * days / dm_fraction * (1 + WASTE_SHARE)


def to_buy(wanted_kg: float, have_kg: float, bale_kg: float) -> Hay:
    """What is short of the winter's hay, in whole bales.

    Valid: 0 and more, bales above 0. Source: arithmetic. Raises: OutOfRange beyond that.
    """
    if min(wanted_kg, have_kg) < 0 or bale_kg <= 0:
        raise OutOfRange("Hay or a bale in kg", min(wanted_kg, have_kg, bale_kg), "0 and more, a bale above 0")
    short = max(0.0, wanted_kg - have_kg)
    return Hay(short, ceil(round(short / bale_kg, 9)))
