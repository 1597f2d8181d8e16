"""Pigs: weight by the tape, and what they eat from one weight to another."""

from app.errors import OutOfRange

GIRTH_FACTOR = 69.3
"""kg from girth squared times length, in metres. Source: common practice."""
MEAL_A_MONTH_KG, MOST_MEAL_KG = 0.45, 2.7
"""A pound of meal a day for each month of age, to six pounds. Source: common practice; look at their condition."""


def pig_kg_by_tape(girth_m: float, length_m: float) -> float:
    """Weight of a pig by tape: ``girth^2 * length * 69.3``, girth behind the forelegs, length from ears to tail.

    Valid: girths of 0.3 to 1.8 m, lengths of 0.3 to 2 m; within a tenth. Source: common practice.
    Raises: OutOfRange beyond that.
    """
    if not 0.3 <= girth_m <= 1.8:
        raise OutOfRange("A girth in m", girth_m, "0.3 to 1.8")
    if not 0.3 <= length_m <= 2:
        raise OutOfRange("A length in m", length_m, "0.3 to 2")
    return girth_m**2 * length_m * GIRTH_FACTOR


def feed_to_weight_kg(kg: float, target_kg: float, feed_per_kg: float) -> float:
    """Meal from one weight to another: ``(target - weight) * feed per kg of gain``.

    Valid: a target no lower than the weight, 1 to 8 kg of feed for one of gain.
    Source: Gadd 1996, by Scharlach, Focus on feed conversion, table 1: 1.58 from 6 to 30 kg, 2.46 to 100; smallholders'
    pigs outdoors 2.8 to 3.5 by common practice. Raises: OutOfRange beyond that.
    """
    if target_kg < kg:
        raise OutOfRange("A target weight", target_kg, f"{kg:g} kg and more")
    if not 1 <= feed_per_kg <= 8:
        raise OutOfRange("Feed for a kilo of gain", feed_per_kg, "1 to 8")
    return (target_kg - kg) * feed_per_kg


def meal_a_day_kg(age_d: float) -> float:
    """Meal a pig a day by age: 0.45 kg for each month, no more than 2.7.

    Valid: from 28 days. Source: common practice; sources differ. Raises: OutOfRange before weaning.
    """
    if age_d < 28:
        raise OutOfRange("A pig's age in days", age_d, "28 and more", "It is not weaned yet.")
    return min(MOST_MEAL_KG, MEAL_A_MONTH_KG * age_d / 30.4)
