"""Feed as a page: what to order by when, what each group takes, by month, and what it costs."""

from collections.abc import Mapping
from datetime import date

from app.services.livestock.feed import Feed, GroupFeed, Thing
from app.services.livestock.feed_groups import GRAZED
from app.web import pages
from app.web.links import entry_href
from app.web.livestock.husbandry_drawing import month_bars
from app.web.livestock.husbandry_links import ways
from app.web.pages.husbandry import FeedGroup, FeedThing
from app.web.parts import Field, Form, Frame, Pair
from app.web.rows import date_of
from app.web.weights import weight
from app.web.words import MONTHS, SP, counted, day, figure, left

BALED = ("hay", "straw", "shavings")
WHY = (
    "A day’s feed is the heads alive on it times what one takes at its age; weigh what yours eat, and go by that.",
    "Hay is dry matter over 0.85, and a tenth more for what is trodden; it is fed, and sheep and cattle lie on straw,"
    " while the soil here is colder than 6 °C, and three weeks on, until there is grass (common practice).",
    "Order by: the day it runs out, less the days it takes to come, less three. No more compound feed is ordered than"
    " is eaten in three months.",
    "Figures by kind: a feed manufacturer of the United Kingdom, Irish Farmers Journal, Poultry Cooperative Research"
    " Centre; the rest common practice. Mammals’ water is from memory.",
)


def feed_page(
    frame: Frame, found: Feed, imperial: bool, today: date, wrong: tuple[str, Mapping[str, str], Mapping[str, str]]
) -> pages.LivestockFeed:
    """The page; ``wrong`` is the thing whose form was refused, what was typed, and why."""
    things = tuple(_thing(one, n, imperial, today, wrong) for n, one in enumerate(found.things))
    sums = [Pair("water", f"{figure(found.water_l, 1)}{SP}l a day now; half as much again above 32{SP}°C")]
    if found.cost is not None:
        sums.append(Pair("cost of a year", f"{money(found.cost)}, by the prices typed"))
    return pages.LivestockFeed(
        frame, _first(found, today), things, tuple(_group(one, imperial, today) for one in found.groups),
        tuple(sums) if found.groups else (), WHY, ways("/livestock/feed"),
        "" if found.groups else "No group of animals whose feed is known here is put down.",
    )  # fmt: skip


def _first(found: Feed, today: date) -> Pair | None:
    known = [(one, one.order) for one in found.things if one.left is not None and one.order is not None]
    if not known:
        return None
    one, wanted = known[0]
    by = date_of(wanted.by)
    return Pair(left(by, today).capitalize() if by < today else f"By {day(by, today)}",
                f"Order {one.what}: {_bags(one, wanted.bags)}", f"#feed-{found.things.index(one)}")  # fmt: skip


def money(value: float) -> str:
    """An amount of money, in whatever the prices were typed."""
    return f"{value:.2f}"


def bag_of(what: str, count: int) -> str:
    """What it comes in: bags, or bales of hay, straw and shavings."""
    return counted(count, "bale" if what in BALED else "bag")


def _bags(one: Thing, count: int) -> str:
    return f"{bag_of(one.what, count)} of {figure(one.pack)}{SP}{one.unit}"


def _thing(
    one: Thing, n: int, imperial: bool, today: date, wrong: tuple[str, Mapping[str, str], Mapping[str, str]]
) -> FeedThing:
    answer, trouble = _answer(one, today)
    months = [(f"{MONTHS[month - 1][:3]}", amount) for (_, month), amount in one.months.items()]
    said = [
        (f"{MONTHS[month - 1]} {year}", weight(amount, imperial))
        for (year, month), amount in one.months.items()
        if amount
    ]
    words = f"{one.what.capitalize()} by month: " + ", ".join(f"{name} {amount}" for name, amount in said) + "."
    highest = weight(max(one.months.values(), default=0.0), imperial)
    facts = [
        Pair("there", weight(one.left, imperial) if one.left is not None else "not counted"),
        Pair("the next 30 days", weight(one.a_month, imperial)),
        Pair("a year, or to its end", weight(one.total, imperial)),
        Pair("cost", money(one.cost) if one.cost is not None else ""),
    ]
    typed, errors = (wrong[1], wrong[2]) if wrong[0] == one.what else ({}, {})
    return FeedThing(
        f"feed-{n}", one.what.capitalize(), answer, trouble, tuple(pair for pair in facts if pair.value),
        month_bars(months, words, highest), tuple(Pair(name, amount) for name, amount in said),
        _form(one, n, today, typed, errors), bool(errors),
    )  # fmt: skip


def _answer(one: Thing, today: date) -> tuple[str, bool]:
    """What to order by when; and whether that presses."""
    if one.left is None:
        from_now = _bags(one, max(1, -(-round(one.a_month) // round(max(one.pack, 1)))))
        return f"Say how much is there: the next month takes about {from_now}.", False
    if one.order is None:
        return "There is enough for a year, or to its end.", False
    by, out = date_of(one.order.by), date_of(one.order.runs_out)
    runs = f"it runs out on {day(out, today)}"
    if by < today:
        return f"Order {_bags(one, one.order.bags)} now: {runs}.", True
    return f"Order {_bags(one, one.order.bags)} by {day(by, today)}: {runs}.", (by - today).days < 7


def _form(one: Thing, n: int, today: date, typed: Mapping[str, str], errors: Mapping[str, str]) -> Form:
    known = {
        "left": f"{one.left:.4g}" if one.left is not None else "",
        "pack": f"{one.pack:g}",
        "price": f"{one.price:g}" if one.price is not None else "",
        "lead": f"{one.lead_days}",
    }
    bag = "A bale" if one.what in BALED else "A bag"
    asks = (
        ("left", "There now", "number", one.unit), ("pack", f"{bag} holds", "number", one.unit),
        ("price", f"{bag} costs", "number", ""), ("lead", "Comes in", "count", "days"),
    )  # fmt: skip
    fields = tuple(
        Field(name, label, kind, typed.get(name, known[name]), unit, error=errors.get(name, ""), id=f"feed-{n}-{name}")
        for name, label, kind, unit in asks
    )
    return Form("/livestock/feed", "Take it down", fields, (Pair("what", one.what),), quiet=True)


def _group(one: GroupFeed, imperial: bool, today: date) -> FeedGroup:
    eater = one.eater
    first, last = date_of(eater.first), date_of(eater.last) if eater.last is not None else None
    when = f"come {day(first, today)}" if first > today else "here"
    until = f", to {day(last, today)}" if last is not None else ", a year is reckoned"
    takes = tuple(
        Pair("grass" if each.what == GRAZED else each.what, _takes(each.a_day, each.in_all, each.unit, imperial))
        for each in one.takes
    )
    sub = f"{counted(one.head, 'head', 'head')}, {when}{until}"
    return FeedGroup(eater.entry.name, entry_href(eater.entry.id), sub, takes)


def _takes(a_day: float, in_all: float, unit: str, imperial: bool) -> str:
    def said(value: float) -> str:
        return f"{figure(value, 1)}{SP}l" if unit == "l" else weight(value, imperial)

    now = f"{said(a_day)} a day" if a_day else "none now"
    return f"{now}, {said(in_all)} in all"
