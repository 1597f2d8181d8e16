"""What to buy for the upkeep of the months to come: what its jobs use up, in packs, and by when to order."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.spans import Day
from app.rules.state import ASKED, State, state
from app.rules.tasks import Task
from app.services.book import Book
from app.services.garden.stands import said_or_usual
from app.services.upkeep.amounts import SMALL_TINS_L, TINS_L
from app.services.upkeep.elements import Element
from app.services.upkeep.plan import upkeep_plan
from app.services.upkeep.prices import Prices, prices
from app.services.upkeep.there import elements, title_of
from app.trade.upkeep.paint_needed import Packs, packs

DELIVERY_DAYS = 7
"""Ordered a week before the job's best day where the household did not say how long it takes: common practice."""
MONTH_DAYS = 30.4375


class For(NamedTuple):
    """A job that wants it."""

    title: str
    element: Element
    task: Task
    amount: float


class Wanted(NamedTuple):
    """A thing to buy: how much for all of its jobs, in which packs (None: by the piece), and by when to order."""

    what: str
    unit: str
    amount: float
    buy: Packs | None
    priced: bool
    order_by: Day
    jobs: tuple[For, ...]


def shopping(book: Book, session: Session, months: int, today: Day) -> tuple[Wanted, ...]:
    """What the jobs of so many months use up, the first to be ordered first.

    Raises: MissingFact while the first run is not done.
    """
    far = upkeep_plan(book, session, today)
    end = today + round(months * MONTH_DAYS)
    wanted: dict[tuple[str, str], list[For]] = {}
    for one in elements(book, session, today):
        steps = {step.id: step for step in one.sheet.steps if step.uses}
        facts = said_or_usual(one.entry, one.sheet).facts
        for task in far.laid[one.entry.id].tasks if steps else ():
            step = steps.get(task.step)
            if (
                step is None
                or task.best is None
                or task.best > end
                or state(task, today) not in ASKED | {State.TO_COME}
            ):
                continue
            for use in step.uses:
                many = facts.get(use.per, 1) if use.per else 1
                amount = use.amount * (many if isinstance(many, int | float) else 1)
                wanted.setdefault((use.what, use.unit), []).append(For(title_of(one, task), one, task, amount))
    known = prices(session)
    found = [_wanted(what, unit, jobs, known, today) for (what, unit), jobs in wanted.items()]
    return tuple(sorted(found, key=lambda each: (each.order_by, each.what)))


def _wanted(what: str, unit: str, jobs: list[For], known: Prices, today: Day) -> Wanted:
    jobs.sort(key=lambda one: (one.task.best or 0, one.task.key))
    amount = sum(one.amount for one in jobs)
    usual = (TINS_L if amount > 4 else SMALL_TINS_L) if unit == "l" else ()
    tins = known.tins(what, unit) or usual
    buy = packs(round(amount, 3), tins) if tins else None
    priced = bool(tins) and all(one.price > 0 for one in tins)
    pack = known.known(what, unit)
    days = pack.lead_days if pack is not None and pack.lead_days is not None else DELIVERY_DAYS
    order_by = max((jobs[0].task.best or today) - days, today)
    return Wanted(what, unit, amount, buy, priced, order_by, tuple(jobs))
