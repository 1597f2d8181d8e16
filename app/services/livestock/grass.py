"""Grass and hay: paddocks stocked and rested, ground clean for lambs, what is shut up for hay, what is still short."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Literal, NamedTuple

from sqlalchemy.orm import Session

from app.errors import OutOfRange
from app.rules.made import with_defaults
from app.rules.spans import Day
from app.rules.tasks import Laid, Task
from app.services.book import Book
from app.services.livestock.feed import Thing, feed
from app.services.livestock.feed_groups import HAY
from app.services.livestock.winters import winters
from app.trade.climate.year import MonthOfYear, months_of
from app.trade.livestock.grazing import MOST_DAYS_ON, clean_from, paddocks_wanted
from app.trade.livestock.hay import Hay, hay_from_kg, to_buy

State = Literal["to come", "stocked", "over", "rests", "fit"]
HAY_MONTHS = (5, 6, 7, 8)
"""Months in which hay is made in the north; half a year on in the south. Source: common practice."""
ORDER_BEFORE_DAYS = 30


class Paddock(NamedTuple):
    """A paddock by its name: how it stands, since when, until when (off by, or fit from, best and latest).

    ``clean`` is the day from which it is clean for weaned lambs, None while it is grazed; ``cut`` says that hay was
    taken since, which halves the wait.
    """

    name: str
    entry: str
    state: State
    since: Day
    until: tuple[Day, Day, Day] | None
    head: int
    area_m2: float
    clean: Day | None
    cut: bool
    key: str


class Field(NamedTuple):
    """Ground shut up for hay: the next job, when it is cut, and what it may yield."""

    name: str
    entry: str
    shut: bool
    cut_on: Day | None
    made: bool
    key: str
    title: str
    by: Day | None
    area_m2: float
    yield_kg: float


class DryMonth(NamedTuple):
    """A month of haymaking: dry days, and how many windows of three dry days it has in a usual year; None: no rain
    on record."""

    month: int
    dry_days: float | None
    windows: float | None


class Short(NamedTuple):
    """Hay that the coming winter asks: what is there, what is to be made, what is to buy and by when."""

    thing: Thing
    winter: tuple[Day, Day]
    wanted_kg: float
    there_kg: float
    to_make_kg: float
    buy: Hay
    by: Day


class Grass(NamedTuple):
    """All of it. ``wanted`` is how many paddocks a round takes at the rest and days on now; None without any."""

    paddocks: tuple[Paddock, ...]
    fields: tuple[Field, ...]
    wanted: tuple[int, int, int] | None
    months: tuple[DryMonth, ...]
    short: Short | None


def grass(book: Book, session: Session, today: Day) -> Grass:
    """Grass and hay today.

    Raises: MissingFact while the first run is not done.
    """
    live, north = book.live(session, today), book.holding(session).latitude >= 0
    every = [one for one in live.laid.values() if not one.entry.struck]
    fields = tuple(
        _field(book, laid, today)
        for laid in every
        if laid.entry.sheet == "hay-made" and (laid.entry.ends is None or laid.entry.ends >= today)
        and _date(laid) >= today - 365
    )  # fmt: skip
    cuts = {one.name: one.cut_on for one in fields if one.made and one.cut_on is not None}
    paddocks = _paddocks(book, [one for one in every if one.entry.sheet == "paddock"], cuts, today)
    return Grass(
        paddocks, tuple(sorted(fields, key=lambda one: (one.made, one.cut_on or 0))), _wanted(book, every, today),
        dry_months(months_of(book.season(session)), north), _short(book, session, fields, today),
    )  # fmt: skip


def dry_months(months: Sequence[MonthOfYear], north: bool) -> tuple[DryMonth, ...]:
    """The months of haymaking with their chances.

    Source: `app.trade.climate.dryness`; the months by common practice.
    """
    wanted = HAY_MONTHS if north else tuple((month + 5) % 12 + 1 for month in HAY_MONTHS)
    by_month = {one.month: one for one in months}
    return tuple(DryMonth(n, by_month[n].dry_days, by_month[n].dry_windows) for n in wanted if n in by_month)


def _paddocks(book: Book, laid: Sequence[Laid], cuts: Mapping[str, Day], today: Day) -> tuple[Paddock, ...]:
    """Each paddock once: what was put down last of its name and has begun, else what comes next."""
    by_name: dict[str, list[Laid]] = {}
    for one in laid:
        by_name.setdefault((one.entry.place or one.entry.name).casefold(), []).append(one)
    found = []
    for same in by_name.values():
        begun = [one for one in same if _date(one) <= today]
        one = max(begun, key=_date) if begun else min(same, key=_date)
        found.append(_paddock(book, one, cuts, today))
    order = {"over": 0, "stocked": 1, "fit": 2, "to come": 3, "rests": 4}
    return tuple(sorted(found, key=lambda one: (order[one.state], one.until[0] if one.until else one.since, one.name)))


def _paddock(book: Book, laid: Laid, cuts: Mapping[str, Day], today: Day) -> Paddock:
    entry = with_defaults(laid.entry, book.library.sheets[laid.entry.sheet])
    name = entry.place or entry.name
    on, off, fit = (_task(laid, step) for step in ("on", "off", "fit"))
    state: State = "to come"
    since, until, key = _date(laid), None, ""
    if since <= today and off is not None and off.done is None:
        state, until, key = "stocked", _window(off), off.key
        if until is not None and until[2] < today:
            state = "over"
    elif off is not None and off.done is not None:
        since, until = off.done, _window(fit)
        state, key = "rests", fit.key if fit is not None else ""
        if fit is not None and (fit.done is not None or (until is not None and until[1] <= today)):
            state = "fit"
    elif on is not None:
        key = on.key
    left = off.done if off is not None else None
    cut = left is not None and cuts.get(name, 0) > left
    clean = clean_from(left, cut) if left is not None else None
    return Paddock(
        name, entry.id, state, since, until, int(_number(entry.facts.get("head"))), _number(entry.facts.get("area_m2")),
        clean, cut, key,
    )  # fmt: skip


def _field(book: Book, laid: Laid, today: Day) -> Field:
    entry = with_defaults(laid.entry, book.library.sheets[laid.entry.sheet])
    cut, bale, shut = (_task(laid, step) for step in ("cut", "bale", "shut"))
    open_tasks = [
        task for task in laid.tasks if task.done is None and task.best is not None and task.closes is not None
    ]
    nearest = min(
        (one for one in open_tasks if (one.closes or 0) >= today), key=lambda one: one.best or 0, default=None
    )
    made = bale is not None and bale.done is not None
    step = book.steps.get((entry.sheet, nearest.step)) if nearest is not None else None
    area = _number(entry.facts.get("area_m2"))
    return Field(
        entry.place or entry.name, entry.id, shut is not None and shut.done is not None,
        (cut.done if cut.done is not None else cut.best) if cut is not None else None, made,
        nearest.key if nearest is not None else "", step.title if step is not None else "",
        nearest.closes if nearest is not None else None, area, hay_from_kg(area) if area > 0 else 0.0,
    )  # fmt: skip


def _wanted(book: Book, every: Sequence[Laid], today: Day) -> tuple[int, int, int] | None:
    """Paddocks for a round, the rest in days, and days on each, by what was put down last."""
    laid = max((one for one in every if one.entry.sheet == "paddock"), key=_date, default=None)
    if laid is None:
        return None
    facts = with_defaults(laid.entry, book.library.sheets["paddock"]).facts
    step = book.steps[("paddock", "fit")]
    work = getattr(step.start, "call", None)
    if work is None:
        return None
    try:
        rest = work(growth=str(facts["growth"])).best
        on = min(MOST_DAYS_ON, max(1, int(_number(facts.get("days_on_d")))))
        return paddocks_wanted(rest, on), rest, on
    except (OutOfRange, KeyError):
        return None


def _short(book: Book, session: Session, fields: Sequence[Field], today: Day) -> Short | None:
    """The hay of the winter that is, or the next one."""
    thing = next((one for one in feed(book, session, today).things if one.what == HAY), None)
    winter = winters(book, session).next(today)
    if thing is None or winter is None:
        return None
    first, last = max(today, winter.first), winter.last
    wanted = sum(
        kg for (year, month), kg in thing.months.items() if _first_of(first) <= (year, month) <= _first_of(last)
    )
    there = thing.left or 0.0
    to_make = sum(
        one.yield_kg for one in fields if not one.made and one.cut_on is not None and today <= one.cut_on <= first
    )
    buy = to_buy(wanted, there + to_make, thing.pack)
    by = thing.order.by if thing.order is not None and there else first - thing.lead_days - ORDER_BEFORE_DAYS
    return Short(thing, (first, last), wanted, there, to_make, buy, max(today, by))


def _first_of(day: Day) -> tuple[int, int]:
    on = date.fromordinal(day)
    return on.year, on.month


def _task(laid: Laid, step: str) -> Task | None:
    return next((task for task in laid.tasks if task.step == step), None)


def _window(task: Task | None) -> tuple[Day, Day, Day] | None:
    if task is None or task.opens is None or task.best is None or task.closes is None:
        return None
    return task.opens, task.best, task.closes


def _date(laid: Laid) -> Day:
    on = laid.entry.facts.get("date")
    return on if isinstance(on, int) else laid.entry.told


def _number(value: object) -> float:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else 0.0
