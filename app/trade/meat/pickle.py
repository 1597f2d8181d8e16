"""Days in salt by weight, for what is thicker than the inch rule covers: hams, shoulders, bellies in brine."""

from math import ceil
from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_LB_KG = 0.45359237
_MOST_KG = 12.0
_LIGHT_BELLY_DAYS, _HEAVY_BELLY_DAYS, _LIGHT_BELLY_LB, _MOST_BELLY_KG = 15, 21, 10.0, 8.0
_POST_SALT_DAYS = 7


@work
def pickle_days(kg: float, days_a_lb: float) -> Reckoned:
    """Days in a sweet pickle at 2 to 4 °C: ``ceil(days_a_lb * kg / 0.4536)``.

    Valid: pieces of 0.5 to 12 kg; 3.5 to 4 days a pound for hams and shoulders.
    Source: Pork: Slaughtering, Cutting, Preserving, and Cooking on the Farm, USDA (the rate stands on the sheet).
    Raises: OutOfRange beyond that.
    """
    if not 0.5 <= kg <= _MOST_KG:
        raise OutOfRange("A weight", kg, f"0.5 to {_MOST_KG:g} kg", "Bone it, or cut it in two.")
    if not 0 < days_a_lb <= 5:
        raise OutOfRange("A rate of days", days_a_lb, "up to 5 days a pound")
    return days(ceil(round(days_a_lb * kg / _LB_KG, 2)), f"{kg:g} kg at {days_a_lb:g} days a pound (0.454 kg)")


@work
def salting_days(kg: float, base_days: float, days_a_kg: float) -> Reckoned:
    """Days in dry salt by weight: ``ceil(base_days + days_a_kg * kg)``.

    Valid: pieces of 0.5 to 14 kg.
    Source: the figures stand on the sheet (three days and one a kilo for a dry ham in the European additive category
    08.3.4.2; one and a half to two a pound by older extension texts, from memory).
    Raises: OutOfRange beyond that.
    """
    if not 0.5 <= kg <= 14:
        raise OutOfRange("A weight", kg, "0.5 to 14 kg", "Bone it, or cut it in two.")
    if base_days < 0 or days_a_kg <= 0:
        raise OutOfRange("A rate of days", days_a_kg, "more than 0 days a kilo")
    found = ceil(round(base_days + days_a_kg * kg, 6))
    return days(found, f"{kg:g} kg at {days_a_kg:g} days a kilo and {base_days:g} besides")


@work
def belly_pickle_days(kg: float, cut: str) -> Reckoned:
    """Days in a sweet pickle at 2 to 4 °C for bacon: 15 for a belly of up to 10 lb, 21 for a heavier one or a loin.

    Valid: pieces of 0.5 to 8 kg.
    Source: Pork: Slaughtering, Cutting, Preserving, and Cooking on the Farm, USDA.
    Raises: OutOfRange beyond that.
    """
    if not 0.5 <= kg <= _MOST_BELLY_KG:
        raise OutOfRange("A weight", kg, f"0.5 to {_MOST_BELLY_KG:g} kg", "Cut it in two.")
    light = cut == "belly" and round(kg / _LB_KG, 2) <= _LIGHT_BELLY_LB
    said = "a belly of up to 10 lb (4.54 kg)" if light else "a belly above 10 lb (4.54 kg), or a loin"
    return days(_LIGHT_BELLY_DAYS if light else _HEAVY_BELLY_DAYS, f"{kg:g} kg: {said}")


class DryHam(NamedTuple):
    """Days of a dry ham: in salt, and of rest after it, before it dries."""

    salt: int
    rest: int


def dry_ham_days(kg: float) -> DryHam:
    """The rule for a dry ham: three days and one a kilo in salt, then a week.

    Valid and raises: as `salting_days`.
    Source: EU additive category 08.3.4.2, jambon sec, as quoted.
    """
    return DryHam(salting_days(kg, 3, 1).best, _POST_SALT_DAYS)


def soak_minutes(cure_days: int) -> int:
    """Minutes of soaking in cold water after a sweet pickle: two for every day in it.

    Source: Pork: Slaughtering, Cutting, Preserving, and Cooking on the Farm, USDA.
    """
    return 2 * cure_days
