"""Feed, water and bedding: what each group takes to its end, by month, what to order by when, and its cost."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.records.store import SupplyRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.livestock.feed_groups import AHEAD_DAYS, GRAZED, HAY, Eater, eaters, needs, total
from app.services.livestock.winters import Winters, winters
from app.trade.livestock.budget import Order, by_month, cost, order
from app.trade.livestock.ration import bags

PACKS: Mapping[str, float] = {HAY: 20.0, "straw": 15.0, "shavings": 20.0, "grit": 20.0, "pellets": 20.0}
USUAL_PACK = 20.0
"""kg of a bag, where nobody said: 20 or 25 of feed, small bales of 15 to 20. Source: common practice."""
USUAL_LEAD_DAYS = 7
NOT_BOUGHT = ("water", GRAZED)
NEAR_DAYS = 30


class Takes(NamedTuple):
    """What a group takes of a thing: today, and in all to its end or over a year."""

    what: str
    unit: str
    a_day: float
    in_all: float


class GroupFeed(NamedTuple):
    """A group and what it takes; ``head`` today (as it comes, where it is still to come)."""

    eater: Eater
    head: int
    takes: tuple[Takes, ...]


class Thing(NamedTuple):
    """A thing that is bought in: by month, in all, what is left of it, what to order, and what it costs.

    ``left`` is None where nobody counted: then the order is for all of it, at once. ``kg_price`` is None without a
    price. ``soon_bags`` is what the next month takes.
    """

    what: str
    unit: str
    months: Mapping[tuple[int, int], float]
    total: float
    left: float | None
    runs_out: Day | None
    order: Order | None
    pack: float
    lead_days: int
    price: float | None
    cost: float | None
    a_month: float


class Feed(NamedTuple):
    """All of it over the year from ``first``; ``water_l`` a day now."""

    first: Day
    last: Day
    groups: tuple[GroupFeed, ...]
    things: tuple[Thing, ...]
    water_l: float
    cost: float | None


def feed(book: Book, session: Session, today: Day) -> Feed:
    """What there is to feed, for a year from today.

    Raises: MissingFact while the first run is not done.
    """
    cold = winters(book, session)
    last = today + AHEAD_DAYS - 1
    here = eaters(book, session, today)
    taken = [needs(one, today, last, cold) for one in here]
    said = {row.what: row for row in store.supplies(session)}
    sums = total(taken)
    things = [
        _thing(what, unit, row, said.get(what), today, _eaten_since(here, what, unit, said.get(what), today, cold))
        for (what, unit), row in sums.items()
        if what not in NOT_BOUGHT
    ]
    things.sort(key=_pressing)
    costs = [one.cost for one in things if one.cost is not None]
    groups = tuple(_group(one, rows, today) for one, rows in zip(here, taken, strict=True) if rows)
    return Feed(
        today, last, groups, tuple(things),
        sum(row[0] for (what, _), row in sums.items() if what == "water"), sum(costs) if costs else None,
    )  # fmt: skip


def _pressing(one: Thing) -> tuple[bool, int, str]:
    """What was counted first, by its order; then what nobody counted."""
    return one.left is None, one.order.by if one.order is not None else 10**8, one.what


def find(found: Feed, what: str) -> Thing:
    """One thing that is bought in.

    Raises: NotFound.
    """
    for one in found.things:
        if one.what == what:
            return one
    raise NotFound("None of the groups here takes that.")


def say(book: Book, row: SupplyRow, today: Day) -> None:
    """Take down what is left of a thing, how it is packed, what it costs and how soon it comes."""
    with book.writing() as session:
        store.put_supply(session, row)
        book.replan(session, (), today)


def supply_of(
    what: str, unit: str, pack: float | None, price: float | None, lead: int | None, left: float | None, on: date
) -> SupplyRow:
    """The row of a thing, counted on a day where something was counted."""
    return SupplyRow(
        what=what, unit=unit, pack=pack, price=price, lead_days=lead, stock=left,
        stock_on=on if left is not None else None,
    )  # fmt: skip


def _group(one: Eater, rows: Mapping[tuple[str, str], Sequence[float]], today: Day) -> GroupFeed:
    day = max(today, one.first)
    head = one.heads(day, day)[0]
    at = day - today
    takes = (Takes(what, unit, row[at] if at < len(row) else 0.0, sum(row)) for (what, unit), row in rows.items())
    return GroupFeed(one, head, tuple(takes))


def _eaten_since(
    here: Sequence[Eater], what: str, unit: str, row: SupplyRow | None, today: Day, cold: Winters
) -> float:
    """What was taken since it was counted, until yesterday."""
    if row is None or row.stock_on is None or row.stock_on.toordinal() >= today:
        return 0.0
    first = max(row.stock_on.toordinal(), today - AHEAD_DAYS)
    return sum(sum(needs(one, first, today - 1, cold).get((what, unit), ())) for one in here)


def _thing(what: str, unit: str, row: Sequence[float], said: SupplyRow | None, today: Day, gone: float) -> Thing:
    pack = said.pack if said is not None and said.pack else PACKS.get(what, USUAL_PACK)
    lead = said.lead_days if said is not None and said.lead_days is not None else USUAL_LEAD_DAYS
    left = max(0.0, said.stock - gone) if said is not None and said.stock is not None else None
    price = said.price if said is not None else None
    wanted = order(left or 0.0, row, today, pack, lead)
    money = cost(bags(sum(row), pack), price) if price is not None else None
    out = wanted.runs_out if wanted is not None and left is not None else None
    return Thing(
        what, unit, by_month(row, today), sum(row), left, out, wanted, pack, lead, price, money,
        sum(row[:NEAR_DAYS]),
    )  # fmt: skip
