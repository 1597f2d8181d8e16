"""So many kilos at once: what bottling, drying or freezing them asks for, and what of it is short."""

from collections.abc import Mapping
from math import ceil, floor
from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.preserving.bottling import full_jars
from app.trade.preserving.drying import dried_kg, drying_loads
from app.trade.preserving.freezing import freezer_load_days

LATENT_KWH_KG = 0.655
"""To turn a kilo of water to vapour at 60 °C: 2358 kJ."""
PAN_HOURS = 1.25
"""A panful of jam or chutney from cold to jarred; common practice."""


class Way(NamedTuple):
    """What one way of keeping a glut asks for and gives; ``needs`` is by name and unit, ``kwh`` is least and most."""

    made_kg: float
    needs: Mapping[str, float]
    hours: float
    kwh: tuple[float, float]
    left_kg: float


def prepared_kg(harvest_kg: float, refuse_percent: float) -> float:
    """What is left after trimming: ``m * (1 - refuse)``.

    Valid: 0 to 90 % refuse.
    Source: arithmetic; the refuse of a crop: USDA National Nutrient Database SR26, 2013.
    Raises: OutOfRange beyond that.
    """
    if harvest_kg <= 0:
        raise OutOfRange("A weight", harvest_kg, "more than 0 kg")
    if not 0 <= refuse_percent <= 90:
        raise OutOfRange("Refuse in %", refuse_percent, "0 to 90")
    return harvest_kg * (1 - refuse_percent / 100)


def by_drying(
    kg: float, water_percent: float, target_percent: float, tray_m2: float, kg_a_m2: float, load_hours: float
) -> Way:
    """Drying: loads of the dryer one after another; energy 1.5 to 3 times what the water needs.

    Valid: as `dried_kg` and `drying_loads`; 1 to 48 hours a load.
    Source: mass balance; 0.655 kWh a kilo of water; the factor 1.5 to 3 is common practice.
    Raises: OutOfRange beyond that.
    """
    if not 1 <= load_hours <= 48:
        raise OutOfRange("Hours of a load", load_hours, "1 to 48")
    made = dried_kg(kg, water_percent, target_percent)
    loads = drying_loads(kg, tray_m2, kg_a_m2)
    floor_kwh = (kg - made) * LATENT_KWH_KG
    needs = {"dryer loads": float(loads), "m² of trays at once": kg / kg_a_m2}
    return Way(made, needs, loads * load_hours, (1.5 * floor_kwh, 3 * floor_kwh), 0.0)


def by_bottling(
    kg: float, kg_a_litre: float, jar_ml: float, jars_a_load: int, load_minutes: float, load_kwh: float
) -> Way:
    """Bottling: only full jars; ``load_minutes`` is heating, the tested time and unloading together.

    Valid: pans of 1 to 50 jars, loads of 15 to 360 minutes.
    Source: arithmetic; kilos a litre stand in the tested row.
    Raises: OutOfRange beyond that.
    """
    if not 1 <= jars_a_load <= 50:
        raise OutOfRange("Jars in the pan", jars_a_load, "1 to 50")
    if not 15 <= load_minutes <= 360:
        raise OutOfRange("Minutes of a load", load_minutes, "15 to 360")
    jars = full_jars(kg, kg_a_litre, jar_ml)
    loads = ceil(jars / jars_a_load)
    used = jars * kg_a_litre * jar_ml / 1000
    needs = {"jars": float(jars), "new lids": float(jars), "pan loads": float(loads)}
    return Way(used, needs, loads * load_minutes / 60, (loads * load_kwh, loads * load_kwh), max(0.0, kg - used))


def by_freezing(kg: float, kg_a_litre: float, freezer_l: float, free_l: float, batch_kg: float, minutes: float) -> Way:
    """Freezing: litres it fills, days it takes, and minutes of work for each batch; what does not fit is left.

    Valid: as `freezer_load_days`; 0.2 to 1 kg a litre of freezer. To harden a kilo takes about 0.1 to 0.3 kWh.
    Source: 32 to 48 g a litre a day, USDA; kilos a litre and the energy are common practice.
    Raises: OutOfRange beyond that.
    """
    if not 0.2 <= kg_a_litre <= 1:
        raise OutOfRange("Kilos a litre of freezer", kg_a_litre, "0.2 to 1")
    if not 0 <= free_l <= freezer_l or batch_kg <= 0 or minutes < 0:
        raise OutOfRange("Free litres", free_l, f"0 to {freezer_l:g}")
    fits = min(kg, free_l * kg_a_litre)
    days = freezer_load_days(fits, freezer_l).best if fits else 0
    needs = {"freezer litres": kg / kg_a_litre, "days of freezing": float(days)}
    hours = ceil(round(fits / batch_kg, 6)) * minutes / 60
    return Way(fits, needs, hours, (0.1 * fits, 0.3 * fits), kg - fits)


def short_of(needs: Mapping[str, float], have: Mapping[str, float]) -> Mapping[str, float]:
    """What is short, and by how much; what nobody has counted is left out.

    Valid: amounts of 0 and more.
    Source: arithmetic.
    Raises: OutOfRange for an amount below 0.
    """
    for name, amount in have.items():
        if amount < 0:
            raise OutOfRange(name, amount, "0 and more")
    return {name: need - have[name] for name, need in needs.items() if name in have and need > have[name] + 1e-9}


def jars_a_week(jars: float, days_left: int) -> float:
    """Jars to use each week until their day: ``jars / max(1, floor(days / 7))``.

    Valid: amounts of 0 and more.
    Source: arithmetic.
    Raises: OutOfRange beyond that.
    """
    if jars < 0 or days_left < 0:
        raise OutOfRange("Jars or days", min(jars, days_left), "0 and more")
    return jars / max(1, floor(days_left / 7))


def by_pan(
    kg: float, made_a_kg: float, kg_a_litre: float, jar_ml: float, pan_kg: float, kwh_a_kg: tuple[float, float]
) -> Way:
    """Jam and chutney: jars of what is made, a pan of ``pan_kg`` at a time, about an hour and a quarter each.

    ``kwh_a_kg`` is energy for a kilo of fruit, least and most.
    Valid: pans of 0.5 to 20 kg; 0.2 to 3 kg made of a kilo; half a jar counts as one.
    Source: arithmetic; the figures stand in the table of gluts, which says where they are printed.
    Raises: OutOfRange beyond that.
    """
    for name, value in (("A weight", kg), ("Kilos a litre", kg_a_litre), ("A jar", jar_ml)):
        if value <= 0:
            raise OutOfRange(name, value, "more than 0")
    if not 0.5 <= pan_kg <= 20:
        raise OutOfRange("A panful", pan_kg, "0.5 to 20 kg")
    if not 0.2 <= made_a_kg <= 3:
        raise OutOfRange("Kilos made of a kilo", made_a_kg, "0.2 to 3")
    made = kg * made_a_kg
    jars = ceil(round(made / (kg_a_litre * jar_ml / 1000), 6))
    pans = ceil(round(kg / pan_kg, 6))
    needs = {"jars": float(jars), "new lids": float(jars), "panfuls": float(pans)}
    return Way(made, needs, pans * PAN_HOURS, (kwh_a_kg[0] * kg, kwh_a_kg[1] * kg), 0.0)


def by_crock(kg: float, kg_a_litre: float) -> Way:
    """A ferment: litres of crock; it takes days and no heat.

    Valid: 0.3 to 1.2 kg a litre of crock.
    Source: arithmetic; kilos a litre are common practice.
    Raises: OutOfRange beyond that.
    """
    if kg <= 0:
        raise OutOfRange("A weight", kg, "more than 0 kg")
    if not 0.3 <= kg_a_litre <= 1.2:
        raise OutOfRange("Kilos a litre of crock", kg_a_litre, "0.3 to 1.2")
    return Way(kg, {"litres of crock": kg / kg_a_litre}, 0.0, (0.0, 0.0), 0.0)


def load_hours(water_kg: float, usual_hours: float, watts: float | None) -> float:
    """Hours of a load: the usual ones, or more where the dryer's heat can't lift so much water in them.

    ``water_kg * 0.655 kWh / kW``: no dryer lifts more than its heat turns to vapour. None where watts are not known.
    Valid: 50 to 20 000 W.
    Source: 2358 kJ for a kilo of water at 60 °C, steam tables.
    Raises: OutOfRange beyond that.
    """
    if watts is None:
        return usual_hours
    if not 50 <= watts <= 20_000:
        raise OutOfRange("A dryer's watts", watts, "50 to 20 000")
    return max(usual_hours, water_kg * LATENT_KWH_KG * 1000 / watts)
