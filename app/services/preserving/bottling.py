"""The bottling look-up: minutes, acid and headspace of one jar from one country's tested table."""

from typing import Literal, NamedTuple

from app.errors import BadInput, OutOfRange, Refused
from app.sheets.bottling_tables import bottling_rows, not_bottled
from app.trade.preserving.bottling import (
    NotBottled,
    Row,
    acid_a_jar,
    band,
    boil_before_tasting,
    empty_jar_minutes,
    full_jars,
    gauge_psi,
    row_minutes,
    row_of,
    taken_for_ml,
)

__all__ = ["GAUGES", "Acid", "Asked", "Bottled", "NotBottled", "Row", "choices", "doubt_minutes", "look_up", "refused"]

Gauge = Literal["none", "dial", "weighted"]
GAUGES: tuple[Gauge, ...] = ("none", "dial", "weighted")
AGENTS = ("lemon juice", "citric acid", "vinegar")
COUNTRY = "us"
"""The only country whose times are planned by: no British table is known that is thought safe today."""
_FIELDS = {"An altitude": "altitude", "A jar": "jar", "A weight": "kg"}


class Asked(NamedTuple):
    """What is asked: a ``what`` of `choices`, the jar in ml, the height in m, the canner's gauge, kilos if there are.

    ``half_as_pint``: the cook takes 500 ml for a pint, which USDA does not.
    """

    what: str
    jar_ml: float
    altitude_m: float
    gauge: Gauge = "none"
    half_as_pint: bool = False
    kg: float | None = None


class Acid(NamedTuple):
    """One acid: how much of it in each jar and in ``all`` the jars, ml or (citric acid) g; ``all`` 0 for no jars."""

    agent: str
    each: float
    unit: str
    all: float


class Bottled(NamedTuple):
    """The answer.

    ``psi`` is None in boiling water, ``jars`` where no weight was given; ``jar_kg`` fills one. ``beside`` are another
    country's rows of the same food: told about, and never mixed in. ``empty_min`` are minutes to boil the empty jars
    first, 0 where the time in the table does it.
    """

    row: Row
    minutes: int
    psi: int | None
    band: str
    taken_for_ml: float
    acids: tuple[Acid, ...]
    jar_kg: float
    jars: int | None
    left_kg: float
    beside: tuple[Row, ...]
    empty_min: int

    @property
    def kpa(self) -> float:
        """The pressure in kPa: a pound to the square inch is 6.894757 kPa (NIST SP 811)."""
        return (self.psi or 0) * 6.894757


def choices() -> tuple[tuple[str, str], ...]:
    """What can be asked for: its key, and its food with its pack; what is refused stands last."""
    rows = [(key_of(row), f"{row.food}, {row.pack}") for row in bottling_rows() if not row.history]
    return (*rows, *((one.food, f"{one.food}: not bottled") for one in not_bottled()))


def key_of(row: Row) -> str:
    """A row's key."""
    return f"{row.food}|{row.pack}"


def refused(what: str) -> NotBottled | None:
    """The refusal, where that is what was asked for."""
    return next((one for one in not_bottled() if one.food == what), None)


def look_up(asked: Asked) -> Bottled:
    """The row's figures for this jar at this height.

    Raises: BadInput with a sentence per field: a food in no table, a jar or a height beyond it, no gauge.
    """
    food, _, pack = asked.what.partition("|")
    try:
        row = row_of(bottling_rows(), food, pack, COUNTRY)
    except Refused as error:
        raise BadInput({"what": str(error)}) from error
    try:
        psi = gauge_psi(row, asked.altitude_m, asked.gauge) if row.way == "pressure" else None
        minutes = row_minutes(row, asked.altitude_m, asked.jar_ml, asked.half_as_pint)
        jars = full_jars(asked.kg, row.kg_a_litre, asked.jar_ml) if asked.kg is not None else None
        acids = tuple(_acid(one, asked.jar_ml, jars or 0) for one in AGENTS) if row.acid else ()
        empty = empty_jar_minutes(asked.altitude_m) if psi is None and minutes < 10 else 0
        where, tested = band(asked.altitude_m), taken_for_ml(asked.jar_ml, asked.half_as_pint)
    except OutOfRange as error:
        raise BadInput({_FIELDS.get(error.name, "what"): str(error)}) from error
    except Refused as error:
        raise BadInput({"gauge": str(error)}) from error
    jar_kg = row.kg_a_litre * asked.jar_ml / 1000
    beside = tuple(one for one in bottling_rows() if one.food == row.food and one.country != row.country)
    left_kg = max(0.0, (asked.kg or 0) - (jars or 0) * jar_kg)
    return Bottled(row, minutes, psi, where, tested, acids, jar_kg, jars, left_kg, beside, empty)


def _acid(agent: str, jar_ml: float, jars: int) -> Acid:
    each = acid_a_jar(agent, jar_ml)
    return Acid(agent, each, "g" if agent == "citric acid" else "ml", each * jars)


def doubt_minutes(altitude_m: float) -> int:
    """Minutes to boil what a sound-looking jar in doubt holds, at the height nearest to this that the rule covers."""
    return boil_before_tasting(min(3000.0, max(-10.0, altitude_m)), any_sign=False)
