"""Packs and meals for a household: raw grams a head, and what a weight of cuts makes."""

from math import floor
from typing import NamedTuple

from app.errors import OutOfRange

PORTION_G: dict[str, tuple[float, float]] = {
    "boneless": (150, 225), "on the bone": (250, 350), "mince": (125, 175), "stew": (150, 150),
    "sausages": (130, 130), "bacon": (50, 60), "ribs": (400, 400),
}  # fmt: skip
"""Raw grams for an adult. Source: common practice, within published portion guides; a child half to 0.7 of it."""
CHILD_SHARE = 0.6


class Packs(NamedTuple):
    """``packs`` of ``pack_g`` each, one for a meal, and the grams that are ``left``."""

    packs: int
    pack_g: float
    left_g: float


def heads(adults: float, children: float = 0.0) -> float:
    """Mouths in adults: ``adults + 0.6 * children``.

    Valid: 0 and more. Source: common practice (half to 0.7). Raises: OutOfRange below that.
    """
    if adults < 0 or children < 0:
        raise OutOfRange("People", min(adults, children), "0 and more")
    return adults + CHILD_SHARE * children


def meals(kg: float, portion_g: float, mouths: float) -> float:
    """Meals for the household: ``kg * 1000 / (portion_g * mouths)``.

    Valid: 0 kg and more, a portion and mouths above 0. Source: arithmetic. Raises: OutOfRange beyond that.
    """
    if kg < 0:
        raise OutOfRange("A weight", kg, "0 kg and more")
    if portion_g <= 0:
        raise OutOfRange("A portion in g", portion_g, "more than 0")
    if mouths <= 0:
        raise OutOfRange("People", mouths, "more than 0")
    return kg * 1000 / (portion_g * mouths)


def packs(kg: float, portion_g: float, mouths: float) -> Packs:
    """Packs of one meal each, whole ones, and what is left over.

    Valid and raises: as `meals`. Source: arithmetic.
    """
    whole = floor(meals(kg, portion_g, mouths) + 1e-9)
    return Packs(whole, portion_g * mouths, max(0.0, kg * 1000 - whole * portion_g * mouths))


def weeks_of_meals(number: float, meals_a_week: float) -> float:
    """Weeks that meals last at so many a week.

    Valid: more than 0 a week. Source: arithmetic. Raises: OutOfRange beyond that.
    """
    if meals_a_week <= 0:
        raise OutOfRange("Meals a week", meals_a_week, "more than 0")
    return number / meals_a_week
