"""Which tested row a jar falls under; what is in no row is not kept on a shelf, and the freezer is offered."""

from collections.abc import Sequence
from math import ceil, floor
from typing import NamedTuple

from app.errors import OutOfRange, Refused
from app.trade.preserving.processing import process_minutes

PINT_ML, QUART_ML = 473.176, 946.353
FREEZER = "Freeze it instead, or eat it within three days from the fridge."
_FOOT_M = 0.3048
_DIAL_FT = (2000, 4000, 6000, 8000)
_DIAL_PSI = (11, 12, 13, 14)
_DOSES = {"lemon juice": (15.0, 1.0), "vinegar": (30.0, 1.0), "citric acid": (1.23, 0.1)}
"""For a pint, in ml or (citric acid) g, and the step it is rounded up to."""


class Row(NamedTuple):
    """One row of one country's tested table: minutes ``pint`` and ``quart`` by altitude band.

    ``way`` is "boiling water" or "pressure"; ``quart`` is empty where only jars to a pint were tested. A row of
    ``history`` is told about and never put on a plan. ``sheet`` names the sheet that is done by this row.
    """

    food: str
    pack: str
    country: str
    way: str
    pint: tuple[int, ...]
    quart: tuple[int, ...]
    headspace_mm: int
    kg_a_litre: float
    acid: bool
    history: bool
    basis: str
    source: str
    sheet: str = ""


class NotBottled(NamedTuple):
    """What is in no table and never will be put on a shelf by one of these, ``why``, and who says so."""

    food: str
    why: str
    basis: str
    source: str


def band(altitude_m: float) -> str:
    """The altitude band of the boiling-water tables in words, its limits turned into metres.

    Valid: as `process_minutes`.
    Source: USDA Complete Guide to Home Canning: to 1000 ft, 3000 ft, 6000 ft, and above.
    Raises: OutOfRange beyond that.
    """
    if not -10 <= altitude_m <= 3000:
        raise OutOfRange("An altitude", altitude_m, "-10 to 3000 m")
    feet = round(altitude_m / _FOOT_M, 6)
    bands = ("to 305 m (1000 ft)", "305 to 914 m (3000 ft)", "914 to 1829 m (6000 ft)", "above 1829 m (6000 ft)")
    return bands[sum(feet > limit for limit in (1000, 3000, 6000))]


def taken_for_ml(jar_ml: float, half_litre_as_pint: bool = False) -> float:
    """The tested jar whose time a jar takes: the pint's 473 ml or the quart's 946.

    Valid: jars of up to 946 ml.
    Source: next larger size: USDA Complete Guide to Home Canning.
    Raises: OutOfRange beyond that.
    """
    if not 0 < jar_ml <= 946:
        raise OutOfRange("A jar", jar_ml, "up to 946 ml", "Use smaller jars.")
    return 473.0 if jar_ml <= (500 if half_litre_as_pint else 473) else 946.0


def row_of(rows: Sequence[Row], food: str, pack: str, country: str) -> Row:
    """The row of a food and pack in one country's table, and never another's.

    Valid: what has been tested and is in the table.
    Source: the row's own.
    Raises: Refused for what is in no row, and for rows that are history.
    """
    found = [row for row in rows if (row.food, row.pack, row.country) == (food, pack, country)]
    if not found:
        raise Refused(f"No tested time is known here for {food}, {pack}: it is not kept on a shelf. {FREEZER}")
    if found[0].history:
        raise Refused(f"The old time for {food}, {pack}, is history and no longer thought safe. {FREEZER}")
    return found[0]


def row_minutes(row: Row, altitude_m: float, jar_ml: float, half_litre_as_pint: bool = False) -> int:
    """Minutes of a row for a jar at a height.

    A jar between two tested sizes takes the larger one's time; a 500 ml jar takes the pint's only where the cook has
    chosen so. Jars above a quart, 1 litre too, are in no table.
    Valid: as `process_minutes`; a pressure row has one figure for every height, its pounds rise instead.
    Source: the row; next larger size: USDA Complete Guide to Home Canning.
    Raises: OutOfRange beyond that.
    """
    jar = 473.0 if half_litre_as_pint and 473 < jar_ml <= 500 else jar_ml
    if row.way == "boiling water":
        return process_minutes(altitude_m, jar, row.pint, row.quart)
    return process_minutes(altitude_m, jar, row.pint * 4, row.quart * 4)


def gauge_psi(row: Row, altitude_m: float, gauge: str) -> int:
    """Pounds on a canner with a "dial" or "weighted" gauge; a cooker with neither is no canner.

    Valid: pressure rows; -10 m to 8000 ft (2438 m).
    Source: USDA Complete Guide to Home Canning, guide 4: dial 11, 12, 13, 14 psi; weighted 10, above 1000 ft 15.
    Raises: Refused without a gauge or a pressure row; OutOfRange above 8000 ft.
    """
    if row.way != "pressure":
        raise Refused(f"There is no tested pressure for {row.food} here; take its time in boiling water.")
    feet = round(altitude_m / _FOOT_M, 6)
    if altitude_m < -10 or feet > _DIAL_FT[-1]:
        raise OutOfRange("An altitude", altitude_m, "-10 to 2438 m", FREEZER)
    if gauge == "weighted":
        return 10 if feet <= 1000 else 15
    if gauge == "dial":
        return _DIAL_PSI[sum(feet > limit for limit in _DIAL_FT)]
    raise Refused(f"Low-acid food is bottled only in a canner with a gauge. {FREEZER}")


def acid_a_jar(agent: str, jar_ml: float) -> float:
    """Acid in each jar of tomatoes before it is filled: bottled lemon juice or 5 % vinegar in ml, citric acid in g.

    A pint's dose by volume, rounded up, never down.
    Valid: jars of 100 to 1000 ml.
    Source: USDA AIB 539, rev. 1994, Tomatoes: 1 Tbsp lemon, 2 Tbsp vinegar, 1/4 tsp citric acid; grams from memory.
    Raises: OutOfRange beyond that; Refused for another acid.
    """
    if agent not in _DOSES:
        raise Refused(f"{agent.capitalize()} is no tested acid. Use bottled lemon juice, 5 % vinegar or citric acid.")
    if not 100 <= jar_ml <= 1000:
        raise OutOfRange("A jar", jar_ml, "100 to 1000 ml")
    dose, step = _DOSES[agent]
    return round(ceil(round(dose * jar_ml / PINT_ML / step, 3)) * step, 1)


def full_jars(kg: float, kg_a_litre: float, jar_ml: float) -> int:
    """Jars that can be filled: ``floor(kg / (kg_a_litre * litres))``; what is left goes to the freezer.

    Valid: amounts above 0.
    Source: arithmetic; the kilos stand in the row.
    Raises: OutOfRange beyond that.
    """
    for name, value in (("A weight", kg), ("Kilos a litre", kg_a_litre), ("A jar", jar_ml)):
        if value <= 0:
            raise OutOfRange(name, value, "more than 0")
    return floor(round(kg / (kg_a_litre * jar_ml / 1000), 6))


def empty_jar_minutes(altitude_m: float) -> int:
    """Minutes to boil empty jars, where they are then boiled filled for less than 10: 10, and 1 per 1000 ft above 1000.

    Valid: -10 to 3000 m.
    Source: Michigan State University Extension 01600900, 1997.
    Raises: OutOfRange beyond that.
    """
    return 10 + _thousands_above_first(altitude_m)


def boil_before_tasting(altitude_m: float, any_sign: bool) -> int:
    """Minutes to boil what a sound-looking low-acid jar holds, its process in doubt: 10, and 1 per 1000 ft above 1000.

    Valid: -10 to 3000 m; destroying it is better.
    Source: USDA AIB 539, rev. 1994.
    Raises: Refused for any sign of spoilage; OutOfRange beyond the heights.
    """
    if any_sign:
        raise Refused("Destroy it: bag it, bin it, do not taste it, do not boil it to eat it.")
    return 10 + _thousands_above_first(altitude_m)


def _thousands_above_first(altitude_m: float) -> int:
    if not -10 <= altitude_m <= 3000:
        raise OutOfRange("An altitude", altitude_m, "-10 to 3000 m")
    return max(0, ceil(round(altitude_m / _FOOT_M / 1000, 6)) - 1)
