"""Grass: how long a paddock rests, how long it feeds a group, how many are wanted, when it is clean for lambs."""

from math import ceil, floor
from typing import Literal

from app.errors import OutOfRange
from app.trade.livestock.months import months_after
from app.trade.reckoned import Reckoned
from app.trade.register import work

Growth = Literal["fast", "steady", "slow", "hardly"]
REST_DAYS: dict[Growth, tuple[int, int, int]] = {
    "fast": (18, 21, 25), "steady": (25, 28, 35), "slow": (35, 42, 50), "hardly": (70, 90, 120),
}  # fmt: skip
"""Rest by how grass grows: in May, in early summer, in a dry or late summer, in winter. Source: common practice."""
CLEAN_MONTHS = 12
"""A paddock no sheep or goat grazed for a year, or hay since, carries few of last year's worms.
Source: common practice; from memory, SCOPS."""
MOST_DAYS_ON = 7
"""Longer, and they eat the regrowth. Source: common practice."""


@work
def paddock_rest_days(growth: Growth) -> Reckoned:
    """Days a paddock rests before it is grazed again, by how grass grows now.

    Valid: fast, steady, slow, hardly. Source: common practice.
    """
    low, best, high = REST_DAYS[growth]
    return Reckoned(low, best, high, (f"grass grows {growth}: {low} to {high} days of rest",))


def days_of_grass(area_m2: float, cover_kg_ha: float, left_kg_ha: float, head: int, dry_kg_a_head: float) -> int:
    """Whole days that a paddock feeds a group: ``area * (cover - left) / (head * intake)``, covers in kg DM a hectare.

    Valid: areas, head and intake above 0; a cover of up to 6000. 0 where there is no more than must be left.
    Source: arithmetic; 2500 to 3000 on, 1500 to 1600 off by common practice for sheep and cattle.
    Raises: OutOfRange beyond that.
    """
    if min(area_m2, head, dry_kg_a_head) <= 0:
        raise OutOfRange("An area, head or intake", min(area_m2, head, dry_kg_a_head), "more than 0")
    if left_kg_ha < 0 or not 0 <= cover_kg_ha <= 6000:
        raise OutOfRange("A cover in kg a hectare", cover_kg_ha, "0 to 6000")
    dry_kg = area_m2 / 10_000 * max(0.0, cover_kg_ha - left_kg_ha)
    return floor(round(dry_kg / (head * dry_kg_a_head), 9))


def paddocks_wanted(rest_days: int, days_on: int) -> int:
    """Paddocks for a round in which each rests long enough: ``rest / days on + 1``, rounded up.

    Valid: rests of 1 day and more, 1 to 7 days on. Source: arithmetic. Raises: OutOfRange beyond that.
    """
    if rest_days < 1:
        raise OutOfRange("A rest in days", rest_days, "1 and more")
    if not 1 <= days_on <= MOST_DAYS_ON:
        raise OutOfRange("Days on one paddock", days_on, f"1 to {MOST_DAYS_ON}", "Longer, they eat the regrowth.")
    return ceil(rest_days / days_on) + 1


def clean_from(last_grazed: int, cut_since: bool = False) -> int:
    """The day from which ground is clean for weaned lambs: a year after sheep or goats left it, half that when
    hay was cut from it since.

    Source: common practice; a worm-egg count tells more.
    """
    return months_after(last_grazed, CLEAN_MONTHS // 2 if cut_since else CLEAN_MONTHS)
