"""What a group needs to its end, by day, age and head, and by month; when it runs out, and by when to order."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from math import ceil
from typing import NamedTuple

from app.errors import OutOfRange

SAFETY_DAYS = 3
SHELF_DAYS = 90
"""Compound feed keeps about three months: no more is ordered than is eaten by then. Source: common practice."""


class Ate(NamedTuple):
    """A stretch of age in which one animal takes ``amount`` of ``what`` a day; ``to_d`` None: to its end, inclusive."""

    what: str
    from_d: int
    to_d: int | None
    amount: float


class Order(NamedTuple):
    """``amount`` in whole bags, to be ordered ``by`` a day number, because it ``runs_out`` on another."""

    amount: float
    bags: int
    by: int
    runs_out: int


class Supply(NamedTuple):
    """A thing over a group's time: its need by month and in all, the next order if any, and what all of it costs."""

    what: str
    months: Mapping[tuple[int, int], float]
    total: float
    order: Order | None
    cost: float


def daily(eats: Sequence[Ate], born: int, heads: Sequence[int], first: int) -> dict[str, list[float]]:
    """Need of each day by thing: ``heads`` alive on it times what one takes at its age; ``first`` is the first day.

    Valid: amounts of 0 and more, a first day no earlier than birth. Source: summing. Raises: OutOfRange beyond that.
    """
    if first < born:
        raise OutOfRange("An age in days", first - born, "0 and more")
    found: dict[str, list[float]] = {}
    for one in eats:
        if one.amount < 0:
            raise OutOfRange(f"A day's {one.what}", one.amount, "0 and more")
        row = found.setdefault(one.what, [0.0] * len(heads))
        for at, head in enumerate(heads):
            age = first + at - born
            if one.from_d <= age and (one.to_d is None or age <= one.to_d):
                row[at] += head * one.amount
    return found


def by_month(needs: Sequence[float], first: int) -> Mapping[tuple[int, int], float]:
    """Daily needs summed by (year, month), in order.

    Source: the calendar.
    """
    found: dict[tuple[int, int], float] = {}
    for at, need in enumerate(needs):
        on = date.fromordinal(first + at)
        found[on.year, on.month] = found.get((on.year, on.month), 0.0) + need
    return found


def runs_out(stock: float, needs: Iterable[float], first: int) -> int | None:
    """The first day on which what has been needed is more than the stock; None where it lasts.

    Source: arithmetic.
    """
    left = stock
    for at, need in enumerate(needs):
        left -= need
        if left < -1e-9:
            return first + at
    return None


def order(stock: float, needs: Sequence[float], first: int, bag: float, lead_days: int) -> Order | None:
    """What to order next, and by when: ``runs out - lead - 3 days``, whole bags, no more than three months' worth.

    None where the stock lasts.
    Valid: bags above 0, a lead of 0 and more. Source: common practice; arithmetic. Raises: OutOfRange beyond that.
    """
    if bag <= 0:
        raise OutOfRange("A bag", bag, "more than 0")
    if lead_days < 0:
        raise OutOfRange("A lead in days", lead_days, "0 and more")
    empty = runs_out(stock, needs, first)
    if empty is None:
        return None
    until = min(len(needs), empty - first + SHELF_DAYS)
    short = sum(needs[:until]) - stock
    count = max(1, ceil(round(short / bag, 9)))
    return Order(count * bag, count, empty - lead_days - SAFETY_DAYS, empty)


def cost(amount: float, unit_price: float) -> float:
    """What an amount costs.

    Valid: 0 and more. Source: arithmetic. Raises: OutOfRange below that.
    """
    if amount < 0 or unit_price < 0:
        raise OutOfRange("An amount or a price", min(amount, unit_price), "0 and more")
    return amount * unit_price


def supply(
    what: str, needs: Sequence[float], first: int, stock: float, bag: float, lead_days: int, price: float = 0.0
) -> Supply:
    """One thing from ``first`` to the group's end: by month, in all, what to order by when, and its cost.

    ``price`` is that of a kilo or a litre.
    Valid and raises: as `order` and `cost`. Source: arithmetic.
    """
    total = sum(needs)
    return Supply(what, by_month(needs, first), total, order(stock, needs, first, bag, lead_days), cost(total, price))
