"""What a grazing animal eats: dry matter and fresh weight, energy from hay, and the hard feed that makes it up."""

from math import ceil, floor
from typing import NamedTuple

from app.errors import OutOfRange

SINGLES_SHARE, TRIPLETS_SHARE = 0.7, 1.3
"""Hard feed for ewes with one and with three lambs, against twins. Source: farming press, Ireland."""


class Ration(NamedTuple):
    """A day's ration of one animal: hay in kg of dry matter and its energy in MJ, hard feed in kg as fed."""

    forage_dm_kg: float
    forage_mj: float
    hard_feed_kg: float


def ration(
    live_kg: float,
    need_mj: float,
    intake_share: float = 0.015,
    forage_mj_kg: float = 8.5,
    hard_mj_kg: float = 12.5,
    hard_dm: float = 0.86,
) -> Ration:
    """Hay as much as she can take, and hard feed for the rest of her energy.

    ``intake_share`` of live weight as dry matter, energies in MJ of metabolisable energy a kg of dry matter.
    Valid: weights and needs above 0; shares of 0.005 to 0.05; feed of 5 to 15 MJ. Without a need for more, none.
    Source: Hybu Cig Cymru, Feeding ewes in late pregnancy. Raises: OutOfRange beyond that.
    """
    if live_kg <= 0 or need_mj <= 0:
        raise OutOfRange("A live weight or a need", min(live_kg, need_mj), "more than 0")
    if not 0.005 <= intake_share <= 0.05:
        raise OutOfRange("An intake as share of live weight", intake_share, "0.005 to 0.05")
    for mj in (forage_mj_kg, hard_mj_kg):
        if not 5 <= mj <= 15:
            raise OutOfRange("A feed's energy in MJ a kg", mj, "5 to 15")
    dry_kg = intake_share * live_kg
    forage_mj = dry_kg * forage_mj_kg
    return Ration(dry_kg, forage_mj, max(0.0, need_mj - forage_mj) / (hard_mj_kg * _fraction(hard_dm)))


def fresh_kg(dry_kg: float, dm_fraction: float) -> float:
    """Feed as it lies there for a weight of its dry matter: ``dry / fraction``.

    Valid: 0 kg and more; fractions above 0, up to 1. Source: definition. Raises: OutOfRange beyond that.
    """
    if dry_kg < 0:
        raise OutOfRange("Dry matter in kg", dry_kg, "0 and more")
    return dry_kg / _fraction(dm_fraction)


def bale_days(bale_kg: float, dm_fraction: float, head: int, dry_kg_a_head: float) -> float:
    """Days that one bale lasts a group.

    Valid: all above 0. Source: arithmetic, as the Irish Farmers Journal works it. Raises: OutOfRange beyond that.
    """
    if min(bale_kg, head, dry_kg_a_head) <= 0:
        raise OutOfRange("A bale, a head count or an intake", min(bale_kg, head, dry_kg_a_head), "more than 0")
    return bale_kg * _fraction(dm_fraction) / (head * dry_kg_a_head)


def bag_days(bag_kg: float, kg_a_day: float) -> int:
    """Whole days that a bag lasts.

    Valid: above 0. Source: arithmetic, rounded down. Raises: OutOfRange beyond that.
    """
    if bag_kg <= 0 or kg_a_day <= 0:
        raise OutOfRange("A bag or a day's feed in kg", min(bag_kg, kg_a_day), "more than 0")
    return floor(round(bag_kg / kg_a_day, 9))


def bags(need_kg: float, bag_kg: float) -> int:
    """Bags or bales to buy for a need, rounded up.

    Valid: a need of 0 and more, a bag above 0. Source: arithmetic. Raises: OutOfRange beyond that.
    """
    if need_kg < 0 or bag_kg <= 0:
        raise OutOfRange("A need or a bag in kg", min(need_kg, bag_kg), "0 and more, a bag above 0")
    return ceil(round(need_kg / bag_kg, 9))


def _fraction(part: float) -> float:
    if not 0 < part <= 1:
        raise OutOfRange("A share of dry matter", part, "above 0, up to 1")
    return part
