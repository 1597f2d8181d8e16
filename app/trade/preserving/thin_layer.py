"""How a load in the dryer loses its water by the hour: Lewis' model, with nothing left at equilibrium."""

from math import exp

from app.errors import OutOfRange


def moisture_ratio(rate: float, time: float) -> float:
    """The share of the water that is left after a time: ``exp(-k t)``; rate and time in the same unit.

    Valid: rates and times of 0 and more.
    Source: Lewis (Newton) thin-layer model.
    Raises: OutOfRange beyond that.
    """
    if rate < 0 or time < 0:
        raise OutOfRange("A rate or a time", min(rate, time), "0 and more")
    return exp(-rate * time)


def weight_at_kg(fresh_kg: float, water_percent: float, rate: float, hours: float) -> float:
    """What a load weighs after so many hours: ``s + w * exp(-k t)``, solids and water of the fresh load.

    Valid: water above 0 and below 100 %.
    Source: mass balance; `moisture_ratio`.
    Raises: OutOfRange beyond that.
    """
    if fresh_kg <= 0:
        raise OutOfRange("A weight", fresh_kg, "more than 0 kg")
    if not 0 < water_percent < 100:
        raise OutOfRange("A water content in %", water_percent, "above 0 and below 100")
    water = fresh_kg * water_percent / 100
    return fresh_kg - water + water * moisture_ratio(rate, hours)
