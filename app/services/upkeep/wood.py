"""Firewood: what is stacked and when it is dry, what a meter really says, how much a winter asks."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, OutOfRange
from app.rules.facts import Tick
from app.rules.keys import split_key
from app.rules.spans import Day
from app.rules.tasks import Task
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.upkeep.elements import Element
from app.services.upkeep.plan import upkeep_plan
from app.services.upkeep.there import elements
from app.trade.upkeep.firewood import (
    READY_PERCENT,
    WOODS,
    Stack,
    dry_basis_percent,
    heat_mj_kg,
    moisture_after_percent,
    wet_basis_percent,
)
from app.trade.upkeep.winter_fuel import Fuel, heat_by_evenings_kwh, winter_wood

__all__ = ["WOODS", "Fuel", "Meter", "Need", "Pile", "Winterful", "Wooded", "meter", "need", "wood"]

SHEET = "firewood"


class Pile(NamedTuple):
    """A stack: m³, the day it was stacked, how wet it should be today (wet basis, %), when it is ready, what was read.

    ``ready`` is the job that measures it, None once it was measured as ready; ``read`` the last reading on the wet
    basis and its day. ``never`` says that such a stack does not get there.
    """

    element: Element
    m3: float
    wood: str
    stacked: Day | None
    now_percent: float | None
    ready: Task | None
    read: tuple[float, Day] | None
    is_ready: bool
    never: bool


class Wooded(NamedTuple):
    """The stacks; m³ that are ready, and m³ that will be by the first day of the coming winter's fires."""

    piles: tuple[Pile, ...]
    ready_m3: float
    in_all_m3: float


class Meter(NamedTuple):
    """A reading by both bases, whether it is ready to burn, and the heat of a kilogram."""

    wet_percent: float
    dry_percent: float
    ready: bool
    kwh_kg: float


class Need(NamedTuple):
    """How a winter is heated: the stove's kW, hours a day, days, wood, how wet, its efficiency (%)."""

    kilowatts: float
    hours: float
    days: float
    wood: str
    wet_percent: float = READY_PERCENT
    efficiency_percent: float = 75.0


class Winterful(NamedTuple):
    """Heat wanted (kWh) and the wood for it."""

    kwh: float
    fuel: Fuel


def wood(book: Book, session: Session, today: Day) -> Wooded:
    """The stacks that were put down, the next to be ready first.

    Raises: MissingFact while the first run is not done.
    """
    far = upkeep_plan(book, session, today)
    southern = book.holding(session).latitude < 0
    piles = [
        _pile(one, far.laid[one.entry.id].tasks, far.ticks.get(one.entry.id, ()), southern, today)
        for one in elements(book, session, today)
        if one.sheet.id == SHEET
    ]
    piles.sort(key=lambda one: (not one.is_ready, (one.ready.best or 0) if one.ready else 0, one.element.entry.name))
    return Wooded(tuple(piles), sum(one.m3 for one in piles if one.is_ready), sum(one.m3 for one in piles))


def _pile(one: Element, tasks: Sequence[Task], ticks: Sequence[Tick], southern: bool, today: Day) -> Pile:
    date_ = one.facts.get("date")
    stacked = date_ if isinstance(date_, int) else None
    read, said = None, False
    for tick in in_force(ticks):
        if tick.kind == "done" and split_key(tick.key).step in ("test", "again"):
            value = tick.measures.get("dry_percent")
            if isinstance(value, int | float) and 0 <= value <= 900:
                read = (wet_basis_percent(float(value)), tick.on)
            said = tick.measures.get("ready", True) is not False
    ready = next((task for task in tasks if task.step in ("test", "again") and task.done is None and task.best), None)
    now = _moisture(one, stacked, southern, today) if stacked is not None and stacked <= today else None
    is_ready = said and ready is None
    return Pile(one, float(str(one.facts.get("stacked_m3", 0))), str(one.facts.get("wood")), stacked, now, ready, read,
                is_ready, ready is None and not is_ready)  # fmt: skip


def _moisture(one: Element, stacked: Day, southern: bool, today: Day) -> float | None:
    facts = one.facts
    kind = next((each for each in WOODS if each == facts.get("wood")), WOODS[0])
    stack = Stack(kind, facts.get("split") is not False, facts.get("roofed") is not False)
    try:
        return moisture_after_percent(
            stack, date.fromordinal(stacked), date.fromordinal(today), float(str(facts.get("green_percent", 50))),
            float(str(facts.get("still_percent", 18))), southern,
        )  # fmt: skip
    except OutOfRange:
        return None


def meter(percent: float, basis: str) -> Meter:
    """A meter's reading ("dry": by the dry wood, as most pin meters read; "wet": by the whole) by both.

    Raises: BadInput.
    """
    try:
        wet = percent if basis == "wet" else wet_basis_percent(percent)
        dry = dry_basis_percent(wet)
        return Meter(wet, dry, wet <= READY_PERCENT + 1e-9, heat_mj_kg(min(wet, 80.0)) / 3.6)
    except OutOfRange as error:
        raise BadInput({"percent": str(error)}) from error


def need(asked: Need) -> Winterful:
    """How much wood a winter asks.

    Raises: BadInput.
    """
    try:
        kwh = heat_by_evenings_kwh(asked.kilowatts, asked.hours, asked.days)
        return Winterful(kwh, winter_wood(kwh, asked.wood, asked.wet_percent, asked.efficiency_percent))
    except OutOfRange as error:
        raise BadInput({"kilowatts": str(error)}) from error
