"""How much firewood a winter asks."""

from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.upkeep.firewood import heat_mj_kg

STACKED = 0.70
LOOSE = 0.40
DRY_KG_M3 = {"ash, birch or softwood": 550.0, "beech or sycamore": 600.0, "oak": 620.0}
"""Dry weight of a solid cubic metre, roughly; softwood alone is nearer 420."""


class Fuel(NamedTuple):
    """Firewood wanted: kilograms as burnt, solid, stacked and loose cubic metres."""

    kg: float
    solid_m3: float
    stacked_m3: float
    loose_m3: float


def winter_wood(heat_kwh: float, wood: str, wet_percent: float = 20.0, efficiency_percent: float = 75.0) -> Fuel:
    """Firewood for so many kilowatt-hours of heat in the room.

    kg = kWh x 3.6 / (heat of a kilogram x efficiency); solid m³ by the dry weight of the wood; a stack is 0.70 solid,
    a heap 0.40.
    Source: Forest Research on logs for 0.70 and 0.40; heat as `heat_mj_kg`; dry weights and a stove's 75 % are common
    practice.
    Raises: OutOfRange for heat below 0, or an efficiency outside 5 to 95 % (an open fire is some 20).
    """
    if not 0 <= heat_kwh <= 200_000 or not 5 <= efficiency_percent <= 95:
        raise OutOfRange("Heat wanted", heat_kwh, "0 to 200000 kWh, at 5 to 95 % of efficiency")
    if wood not in DRY_KG_M3:
        raise OutOfRange("A wood", 0, f"one of {', '.join(DRY_KG_M3)}, not {wood}")
    kg = heat_kwh * 3.6 / (heat_mj_kg(wet_percent) * efficiency_percent / 100)
    solid = kg * (1 - wet_percent / 100) / DRY_KG_M3[wood]
    return Fuel(kg, solid, solid / STACKED, solid / LOOSE)


def heat_by_evenings_kwh(kilowatts: float, hours_a_day: float, days: float) -> float:
    """Heat of a winter (kWh) by how the stove is used: its output, hours a day, days lit.

    Source: arithmetic.
    Raises: OutOfRange for what cannot be.
    """
    if not 0 <= kilowatts <= 60 or not 0 <= hours_a_day <= 24 or not 0 <= days <= 366:
        raise OutOfRange("Hours of burning", hours_a_day, "0 to 24 a day, with a stove of 0 to 60 kW, on 0 to 366 days")
    return kilowatts * hours_a_day * days
