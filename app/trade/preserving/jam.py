"""What a pan of jam yields, and what it must boil off."""

from app.errors import OutOfRange


def jam_kg(fruit_kg: float, sugar_kg: float, fruit_solids_percent: float, final_percent: float) -> float:
    """Jam from so much fruit and sugar: ``(sugar + fruit * b) / B``.

    Valid: fruit of 5 to 25 % soluble solids, jam of 50 to 75 %, where no water need be added.
    Source: mass balance on the soluble solids.
    Raises: OutOfRange beyond that.
    """
    for name, value in (("Fruit", fruit_kg), ("Sugar", sugar_kg)):
        if value <= 0:
            raise OutOfRange(name, value, "more than 0 kg")
    if not 5 <= fruit_solids_percent <= 25:
        raise OutOfRange("A fruit's sugar in %", fruit_solids_percent, "5 to 25")
    if not 50 <= final_percent <= 75:
        raise OutOfRange("A jam's sugar in %", final_percent, "50 to 75", "Below 60 it is kept in the fridge.")
    made = (100 * sugar_kg + fruit_kg * fruit_solids_percent) / final_percent
    if made > fruit_kg + sugar_kg:
        raise OutOfRange("Sugar", sugar_kg, "what the fruit's juice can carry", "Take less sugar.")
    return made


def boils_off_kg(fruit_kg: float, sugar_kg: float, water_kg: float, made_kg: float) -> float:
    """Water to boil off: all that went in, less the jam.

    Valid: jam that weighs no more than what went in.
    Source: mass balance.
    Raises: OutOfRange beyond that.
    """
    total = fruit_kg + sugar_kg + water_kg
    if not 0 < made_kg <= total:
        raise OutOfRange("The jam", made_kg, f"above 0, up to {total:g} kg")
    return total - made_kg


def fruit_g_a_kg(fruit_kg: float, made_kg: float) -> float:
    """Fruit that went into a kilo of jam, in g.

    Valid: amounts above 0. For jam that is sold the law of the place says the least.
    Source: arithmetic.
    Raises: OutOfRange beyond that.
    """
    for name, value in (("Fruit", fruit_kg), ("Jam", made_kg)):
        if value <= 0:
            raise OutOfRange(name, value, "more than 0 kg")
    return 1000 * fruit_kg / made_kg
