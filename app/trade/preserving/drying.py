"""What drying leaves, how many loads it takes and how many days."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work


def dried_kg(prepared_kg: float, water_percent: float, target_percent: float) -> float:
    """What is left when so much has been dried: solids are kept, ``m * (1 - w0) / (1 - w1)``.

    Valid: a target wetter than 0 % and drier than the produce.
    Source: mass balance on the solids.
    Raises: OutOfRange beyond that.
    """
    if prepared_kg <= 0:
        raise OutOfRange("A weight", prepared_kg, "more than 0 kg")
    if not 0 < target_percent < water_percent < 100:
        limits = f"above 0 and below the {water_percent:g} % it starts with"
        raise OutOfRange("A water content in %", target_percent, limits)
    return prepared_kg * (100 - water_percent) / (100 - target_percent)


def water_left_percent(prepared_kg: float, water_percent: float, now_kg: float) -> float:
    """The water in a tray that weighs ``now_kg``: ``1 - m * (1 - w0) / now``.

    Valid: weights between the dry solids and what was put on.
    Source: mass balance on the solids.
    Raises: OutOfRange for a weight that can't be.
    """
    solids = prepared_kg * (100 - water_percent) / 100
    if not 0 < solids <= now_kg <= prepared_kg:
        raise OutOfRange("A weight", now_kg, f"{solids:.3g} to {prepared_kg:g} kg", "Weigh the empty tray again.")
    return 100 * (1 - solids / now_kg)


def drying_loads(kg: float, tray_m2: float, kg_a_m2: float) -> int:
    """Loads of the dryer: ``ceil(kg / (tray_m2 * kg_a_m2))``.

    Valid: amounts above 0.
    Source: arithmetic.
    Raises: OutOfRange beyond that.
    """
    for name, value in (("A weight", kg), ("A tray area", tray_m2), ("A load for a square metre", kg_a_m2)):
        if value <= 0:
            raise OutOfRange(name, value, "more than 0")
    return ceil(round(kg / (tray_m2 * kg_a_m2), 6))


@work
def drying_days(kg: float, tray_m2: float, kg_a_m2: float, hours: float) -> Reckoned:
    """Days until the last load is dry, one load after another: ``ceil(loads * hours / 24)``, one at least.

    Valid: 1 to 48 hours a load, and up to ten days in all.
    Source: `drying_loads`; the figures stand on the sheet.
    Raises: OutOfRange beyond that.
    """
    if not 1 <= hours <= 48:
        raise OutOfRange("Hours of a load", hours, "1 to 48", "Spread it thinner.")
    loads = drying_loads(kg, tray_m2, kg_a_m2)
    best = max(1, ceil(loads * hours / 24))
    if best > 10:
        advice = "It would spoil before its turn came: dry a part of it, and keep the rest another way."
        raise OutOfRange("Days of drying", best, "up to 10", advice)
    because = f"{kg:g} kg on {tray_m2:g} m² of trays, {kg_a_m2:g} kg a square metre: {loads} loads of {hours:g} hours"
    return Reckoned(best, best, 2 * best, (because,))
