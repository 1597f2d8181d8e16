"""How sour vinegar is after mixing, the least of it in a chutney, and salt by weight."""

from app.errors import OutOfRange, Refused

_LEAST_PERCENT = 5.0
_LEAST_SALT, _MOST_SALT = 2.0, 10.0
_CUP_ML, _CUP_SUGAR_G = 236.588, 200.0
"""A cup, and what a cup of granulated sugar weighs (USDA FoodData, 200 g)."""


def acid_percent(vinegar_ml: float, vinegar_percent: float, water_ml: float) -> float:
    """Acetic acid after mixing: ``c * V / (V + water)``.

    Valid: vinegars of 1 to 25 %.
    Source: arithmetic.
    Raises: OutOfRange beyond that.
    """
    if vinegar_ml <= 0 or water_ml < 0:
        raise OutOfRange("A volume", min(vinegar_ml, water_ml), "vinegar more than 0 ml, water no less than 0")
    if not 1 <= vinegar_percent <= 25:
        raise OutOfRange("A vinegar percentage", vinegar_percent, "1 to 25")
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


def most_water_ml(vinegar_ml: float, vinegar_percent: float) -> float:
    """Water that may be added before it is below 5 %: ``V * (c / 5 - 1)``, none for a vinegar of 5 %.

    Valid: as `acid_percent`. A tested recipe that says less water holds.
    Source: arithmetic.
    Raises: OutOfRange beyond that; Refused for a vinegar below 5 %.
    """
    shelf_acid_percent(vinegar_ml, vinegar_percent, 0)
    return vinegar_ml * (vinegar_percent / _LEAST_PERCENT - 1)


def chutney_floor(produce_l: float) -> tuple[float, float]:
    """The least vinegar of 5 % in ml and sugar in g to so many litres of chopped produce: a cup of each to five.

    Valid: 0.2 to 100 litres.
    Source: a reading of the NCHFP's chutney recipes, 2011; a cup of sugar weighs 200 g.
    Raises: OutOfRange beyond that.
    """
    if not 0.2 <= produce_l <= 100:
        raise OutOfRange("Produce", produce_l, "0.2 to 100 litres, chopped")
    return 200 * produce_l, 200 * produce_l * _CUP_SUGAR_G / _CUP_ML


def crock_salt_g(vegetable_kg: float, water_kg: float, salt_percent: float) -> float:
    """Salt for all that is in the crock, its water too: ``10 * (kg + water) * percent``.

    Valid: as `salt_g`; water 0 to 200 kg.
    Source: `salt_g`; that water counts: salt and juice even out, common practice.
    Raises: OutOfRange beyond that.
    """
    if not 0 <= water_kg <= 200:
        raise OutOfRange("Water", water_kg, "0 to 200 litres")
    if vegetable_kg <= 0:
        raise OutOfRange("A weight", vegetable_kg, "more than 0 kg")
    return salt_g(vegetable_kg + water_kg, salt_percent)


def salt_g(vegetable_kg: float, salt_percent: float) -> float:
    """Salt for a ferment, weighed: ``10 * kg * percent``.

    Valid: 2 to 10 % of the vegetable's weight; less lets the wrong things grow.
    Source: Michigan State University Extension 01600078, 1997; 2.25 to 2.5 % for cabbage from memory.
    Raises: OutOfRange beyond that.
    """
    if vegetable_kg <= 0:
        raise OutOfRange("A weight", vegetable_kg, "more than 0 kg")
    if not _LEAST_SALT <= salt_percent <= _MOST_SALT:
        raise OutOfRange("A salt percentage", salt_percent, "2 to 10", "Weigh it: spoons differ.")
    return 10 * vegetable_kg * salt_percent
