"""First milk for the newborn, by weight and hours."""

from typing import Literal

from app.errors import OutOfRange

Young = Literal["lamb", "kid", "calf"]
_ML_KG: dict[Young, tuple[float, float]] = {"lamb": (50, 200), "kid": (50, 200), "calf": (100, 200)}
"""Within two hours, and in the first day (calf: in twelve hours). Source: from memory, AHDB."""


def first_milk_ml(young: Young, kg: float) -> tuple[float, float]:
    """Colostrum within two hours, and altogether in the first day, in ml.

    Valid: 0.3 to 80 kg. Source: from memory, AHDB: lambs and kids 50 and 200 ml/kg, calves a tenth of their weight and
    as much again. Raises: OutOfRange beyond that.
    """
    if not 0.3 <= kg <= 80:
        raise OutOfRange("A birth weight in kg", kg, "0.3 to 80")
    soon, day = _ML_KG[young]
    return soon * kg, day * kg
