"""How sour vinegar is after mixing, and salt by weight."""

from app.errors import OutOfRange, Refused

_LEAST_PERCENT = 5.0
_LEAST_SALT, _MOST_SALT = 2.0, 10.0


def acid_percent(vinegar_ml: float, vinegar_percent: float, water_ml: float) -> float:
    """Acetic acid after mixing: ``c * V / (V + water)``.

    Valid: vinegars of 1 to 25 %.
    Source: arithmetic.
    Raises: OutOfRange beyond that.
    """
    if vinegar_ml <= 0 or water_ml < 0:
        raise OutOfRange("A volume", min(vinegar_ml, water_ml), "vinegar more than 0 ml, water no less than 0")
    if not 1 <= vinegar_percent <= 25:
        raise OutOfRange("A vinegar in %", vinegar_percent, "1 to 25")
    return vinegar_ml * vinegar_percent / (vinegar_ml + water_ml)


def shelf_acid_percent(vinegar_ml: float, vinegar_percent: float, water_ml: float) -> float:
    """The same, where the pickle is to stand on a shelf: 5 % at the least, unless a tested recipe says otherwise.

    Valid: as `acid_percent`.
    Source: from memory, USDA guide 6: vinegar of 5 %, never thinner than the tested recipe.
    Raises: Refused below 5 %.
    """
    acid = acid_percent(vinegar_ml, vinegar_percent, water_ml)
    if round(acid, 6) < _LEAST_PERCENT:
        raise Refused(f"{acid:.2f} % acid is too little for a shelf. Take less water, or keep it in the fridge.")
    return acid


def salt_g(vegetable_kg: float, salt_percent: float) -> float:
    """Salt for a ferment, weighed: ``10 * kg * percent``.

    Valid: 2 to 10 % of the vegetable's weight; less lets the wrong things grow.
    Source: Michigan State University Extension 01600078, 1997; 2.25 to 2.5 % for cabbage from memory.
    Raises: OutOfRange beyond that.
    """
    if vegetable_kg <= 0:
        raise OutOfRange("A weight", vegetable_kg, "more than 0 kg")
    if not _LEAST_SALT <= salt_percent <= _MOST_SALT:
        raise OutOfRange("Salt in %", salt_percent, "2 to 10", "Weigh it: spoons differ.")
    return 10 * vegetable_kg * salt_percent
