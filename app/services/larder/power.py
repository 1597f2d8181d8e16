"""The power is off: how long each freezer holds, what to look at first, what becomes of it."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import OutOfRange
from app.records import store
from app.records.store import BatchRow, KitRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.larder.larder import KG_A_LITRE, stands
from app.sheets.larder_tables import NationRow, basis_of, larder_tables, named, said_in
from app.trade.meat.power_cut import FRIDGE_HOURS, FULL_HOURS, HALF_HOURS, State, Verdict, after_the_cut, holds_hours

__all__ = ["FRIDGE_HOURS", "FULL_HOURS", "HALF_HOURS", "Hold", "Power", "power", "shares"]

MOST = 120
STATES: tuple[State, ...] = ("hard or icy", "soft but cold", "warm")
QUICK = ("mince", "minced", "sausage", "burger", "offal", "liver", "chicken", "duck", "goose", "turkey", "bird", "fish")
"""What spoils soonest once it is soft, and is felt first. Source: common practice, after its days in a fridge."""


class Hold(NamedTuple):
    """A freezer: how full by the book, and the hours it holds shut; None where nothing is published for so little."""

    name: str
    litres: float | None
    kg: float
    full_percent: float | None
    hours: float | None
    says: str


class Power(NamedTuple):
    """What to know and do; ``first`` are the batches in the order to look at them, ``more`` those not shown."""

    freezers: tuple[Hold, ...]
    fridge: tuple[BatchRow, ...]
    first: tuple[BatchRow, ...]
    more: int
    verdicts: tuple[tuple[State, Verdict], ...]
    refreeze: NationRow


def power(book: Book, session: Session, today: Day) -> Power:
    """What holds and what to look at.

    Raises: MissingFact while the first run is not done.
    """
    nation = book.holding(session).nation or ""
    frozen = store.batches_there(session, 100_000, "freezer")
    fridge = store.batches_there(session, MOST, "fridge")
    kit = [row for row in store.kit(session) if row.kind == "freezer" and stands(row, today)]
    order = sorted(frozen, key=lambda row: (_rank(row), row.keeps_until or today, row.id))
    perishable = [row for row in fridge if basis_of(row.what, row.trade, "fridge").of == "safety"]
    return Power(
        tuple(shares(kit, frozen)), tuple(perishable), tuple(order[:MOST]), max(0, len(order) - MOST),
        tuple((state, after_the_cut(state)) for state in STATES), said_in(larder_tables().refreeze, nation),
    )  # fmt: skip


def shares(kit: Sequence[KitRow], rows: Iterable[BatchRow]) -> list[Hold]:
    """How full each freezer is by the book: a batch lies in the one its place names, else in the only one there is."""
    load = dict.fromkeys((row.name for row in kit), 0.0)
    for row in rows:
        place = row.place.casefold()
        name = next((one for one in load if one.casefold() in place), kit[0].name if len(kit) == 1 else "")
        if name:
            load[name] += kilos(row)
    return [_hold(one, load[one.name]) for one in kit]


def kilos(row: BatchRow) -> float:
    """What is left of a batch in kilos, a litre as one; 0 for what can't be told so."""
    if row.left is None:
        return 0.0
    each = {"kg": 1.0, "l": 1.0, "g": 0.001, "ml": 0.001}.get(row.unit, row.pack_kg or 0.0)
    return row.left * each


def _hold(one: KitRow, kg: float) -> Hold:
    if one.litres is None:
        return Hold(one.name, None, kg, None, None, "How many litres it holds was not said.")
    percent = min(100.0, round(100 * kg / KG_A_LITRE / one.litres, 6))
    try:
        return Hold(one.name, one.litres, kg, percent, holds_hours(percent), "")
    except OutOfRange:
        says = "Nothing is published for less than half full: open it once after twelve hours, and judge by the ice."
        return Hold(one.name, one.litres, kg, percent, None, says)


def _rank(row: BatchRow) -> int:
    if named(row.what, QUICK):
        return 0
    return 1 if row.killed or basis_of(row.what, row.trade, "fridge").of == "safety" else 2
