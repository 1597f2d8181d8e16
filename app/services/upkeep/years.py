"""The long view: what upkeep asks in each of the next fifteen years, in jobs, hours and money."""

from collections.abc import Mapping
from datetime import date
from functools import partial
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.state import ASKED, State, state
from app.rules.step import Step, When
from app.rules.tasks import Laid, Task
from app.services.book import Book
from app.services.garden.stands import said_or_usual
from app.services.upkeep.elements import is_seldom
from app.services.upkeep.plan import YEARS_AHEAD, Far, upkeep_plan
from app.services.upkeep.prices import Prices, prices
from app.services.what_there_is import is_over
from app.trade.upkeep.horizon import Due, by_year

_ASKS = ASKED | {State.TO_COME}


REPAIR = "Put right what was found"
LEAST_REPAIR_MIN = 60
"""What takes less is not worth a line of the long view."""


class Big(NamedTuple):
    """A job that comes seldom: a coat, a new roof, a repair in one. Its window, where, and what it asks."""

    title: str
    name: str
    entry: str
    key: str
    opens: Day
    best: Day
    closes: Day
    hours: float


class Year(NamedTuple):
    """What a year asks: ``jobs`` in all, their hours, what the household's own prices make of what they use up.

    ``seldom_h`` are those of what comes seldom, with what hangs from it.
    ``cost`` is None while nothing that is used has a price; ``unpriced`` names what has none.
    """

    year: int
    jobs: int
    hours: float
    seldom_h: float
    cost: float | None
    unpriced: tuple[str, ...]
    big: tuple[Big, ...]


class LongView(NamedTuple):
    """The years, the first of them from today on; ``yearly_h`` is what comes every year whatever is painted."""

    years: tuple[Year, ...]
    elements: int
    yearly_h: float


class _Share(NamedTuple):
    """What one entry asks of each year: (year, hours, jobs, often) sums, what it uses, and its big jobs."""

    hours: tuple[tuple[int, float, int, float], ...]
    uses: tuple[tuple[int, str, str, float], ...]
    big: tuple[Big, ...]
    often_h: float


def long_view(book: Book, session: Session, today: Day) -> LongView:
    """Fifteen years of upkeep, this year's rest first.

    Raises: MissingFact while the first run is not done.
    """
    far = upkeep_plan(book, session, today)
    known = prices(session)
    found: tuple[Prices, LongView] | None = far.kept.get("years")
    if found is None or found[0] != known:
        found = far.kept["years"] = (known, _view(_shares(book, far, today), known, today))
    return found[1]


def _shares(book: Book, far: Far, today: Day) -> list[_Share]:
    found = []
    for laid in far.laid.values():
        sheet = book.library.sheets.get(laid.entry.sheet)
        if sheet is not None and not is_over(laid.entry, today) and not sheet.found:
            found.append(far.each("years", laid, partial(_share, laid, sheet, today)))
    return found


def _share(laid: Laid, sheet: Sheet, today: Day) -> _Share:
    """One entry's share. What is late falls to this year."""
    steps = {step.id: step for step in sheet.steps}
    counts: dict[str, int] = {}
    asked: list[tuple[int, Task]] = []
    facts = said_or_usual(laid.entry, sheet).facts
    for task in laid.tasks:
        if task.best is not None and state(task, today) in _ASKS:
            asked.append((date.fromordinal(max(task.best, today)).year, task))
            counts[task.step] = counts.get(task.step, 0) + 1
    years: dict[int, list[float]] = {}
    uses, big, often = [], _repairs(laid, asked, steps), 0.0
    for year, task in asked:
        step = steps.get(task.step)
        sums = years.setdefault(year, [0.0, 0.0, 0.0])
        sums[0] += task.minutes / 60
        sums[1] += 1
        for use in step.uses if step is not None else ():
            many = facts.get(use.per, 1) if use.per else 1
            uses.append((year, use.what, use.unit, use.amount * (many if isinstance(many, int | float) else 1)))
        if step is not None and is_seldom(step, counts[task.step]):
            big.append(_big(laid, task, step.title))
        elif step is not None and step.again is not None:
            often += task.minutes / 60
            sums[2] += task.minutes / 60
    return _Share(
        tuple((year, one[0], round(one[1]), one[2]) for year, one in years.items()), tuple(uses), tuple(big), often
    )


def _repairs(laid: Laid, asked: list[tuple[int, Task]], steps: Mapping[str, Step]) -> list[Big]:
    """What a look found and what must be done of it, a line for each year."""
    years: dict[int, list[Task]] = {}
    for year, task in asked:
        step = steps.get(task.step)
        if step is not None and step.again is None and step.when is not None and _is_found(step.when):
            years.setdefault(year, []).append(task)
    found = []
    for tasks in years.values():
        minutes = sum(task.minutes for task in tasks)
        if minutes >= LEAST_REPAIR_MIN:
            first = min(tasks, key=lambda task: (task.best or 0, task.key))
            found.append(_big(laid, first, REPAIR)._replace(hours=minutes / 60))
    return found


def _is_found(when: When) -> bool:
    """Whether a condition asks for what a look found, and not for what the thing is."""
    return any(given.of != "fact" for given, _ in when.tests)


def _big(laid: Laid, task: Task, title: str) -> Big:
    best = task.best or 0
    return Big(
        title, laid.entry.name, laid.entry.id, task.key, task.opens or best, best, task.closes or best,
        task.minutes / 60,
    )  # fmt: skip


def _view(shares: list[_Share], known: Prices, today: Day) -> LongView:
    first = date.fromordinal(today).year
    end = first + YEARS_AHEAD - 1
    dues = [Due(year, "", hours) for share in shares for year, hours, _, _ in share.hours]
    jobs: dict[int, int] = {}
    often: dict[int, float] = {}
    for share in shares:
        for year, _, count, much in share.hours:
            jobs[year] = jobs.get(year, 0) + count
            often[year] = often.get(year, 0.0) + much
    big = sorted((one for share in shares for one in share.big), key=lambda one: (one.best, one.name, one.key))
    cost, unpriced = _costs(shares, known)
    years = tuple(
        Year(
            one.year, jobs.get(one.year, 0), one.hours, max(0.0, one.hours - often.get(one.year, 0.0)),
            cost.get(one.year), tuple(sorted(unpriced.get(one.year, ()))),
            tuple(each for each in big if date.fromordinal(max(each.best, today)).year == one.year),
        )
        for one in by_year(dues, first, end)
    )  # fmt: skip
    return LongView(years, len(shares), sum(share.often_h for share in shares) / YEARS_AHEAD)


def _costs(shares: list[_Share], known: Prices) -> tuple[Mapping[int, float], Mapping[int, set[str]]]:
    """What each year's materials cost by the household's prices, and what has none."""
    cost: dict[int, float] = {}
    without: dict[int, set[str]] = {}
    for share in shares:
        for year, what, unit, amount in share.uses:
            each = known.a_unit(what, unit)
            if each is None:
                without.setdefault(year, set()).add(what)
            else:
                cost[year] = cost.get(year, 0.0) + amount * each
    return cost, without
