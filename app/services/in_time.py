"""The steps of a garden sheet in the order in which they come here, from sowing to store."""

from collections.abc import Mapping

from sqlalchemy.orm import Session

from app.errors import MissingFact
from app.rules.facts import Entry
from app.rules.moment import StepDay
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.terms import Value
from app.services.book import Book
from app.services.preview import Copy, as_it_would_be

_TRIAL = "trial-sowing"
_LAST = 10**7


def in_time(book: Book, session: Session, sheet: Sheet, today: Day) -> tuple[Step, ...]:
    """The steps by the first day each would have if it were begun today, with seed kept; what has no day of its own
    stands with what it follows. As the file has them before the first run, and for all but the garden.
    """
    order = {name: at for at, name in enumerate(sheet.order)}
    steps = sorted(sheet.steps, key=lambda step: order.get(step.id, len(order)))
    if sheet.trade != "garden":
        return tuple(steps)
    facts: dict[str, Value] = {"date": today, "seed": True} if "seed" in sheet.facts else {"date": today}
    trial = Entry(_TRIAL, sheet.id, sheet.title, facts, today)
    try:
        laid = as_it_would_be(book, session, _TRIAL, Copy(trial), today).laid[_TRIAL]
    except MissingFact:
        return tuple(steps)
    days: dict[str, Day] = {}
    for task in laid.tasks:
        if task.best is not None:
            days[task.step] = min(task.best, days.get(task.step, _LAST))
    by_id = {step.id: step for step in steps}
    return tuple(sorted(steps, key=lambda step: (_day(step, days, by_id), len(step.after))))


def _day(step: Step, days: Mapping[str, Day], steps: Mapping[str, Step], deep: int = 9) -> Day:
    """The first day of a step, or of what it follows."""
    if step.id in days:
        return days[step.id]
    names = [step.start.step] if isinstance(step.start, StepDay) else [one.step for one in step.after]
    before = [steps[name] for name in names if name in steps]
    return max((_day(one, days, steps, deep - 1) for one in before), default=_LAST) if deep else _LAST
