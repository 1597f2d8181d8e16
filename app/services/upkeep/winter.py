"""Ready for winter: all that must be sound before the first frost, with the day by which it must be."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.spans import Day
from app.rules.state import State, state
from app.rules.tasks import Laid, Task
from app.services.book import Book
from app.services.upkeep.elements import OPEN, Element
from app.services.upkeep.plan import upkeep_plan
from app.services.upkeep.there import elements
from app.sheets.upkeep_tables import BeforeWinter, before_winter
from app.trade.climate.normals_season import NormalsSeason

EARLY_FROST = 10
"""The frost of the earliest year in ten: what can't wait is done before it."""
LOOK_BACK_DAYS = 120
"""So long after that frost it is still this winter that is got ready for."""
NEAR_DAYS = 28
DONE_DAYS = 200


class WinterJob(NamedTuple):
    """A job before the frost: ``by`` when and why, and whether it is late.

    Where its own season opens only after such an early frost (``after_frost``), ``by`` is the last day of that.
    """

    title: str
    element: Element
    task: Task
    by: Day
    why: str
    late: bool
    after_frost: bool


class Spring(NamedTuple):
    """Work that was begun and can't be finished before the frost: it is offered for the next season."""

    title: str
    element: Element
    task: Task


class Done(NamedTuple):
    """What is ready."""

    title: str
    element: Element
    on: Day


class Winter(NamedTuple):
    """The frost of one year in ten (None: it does not freeze here), what to do before it, what not, what is done."""

    frost: Day | None
    jobs: tuple[WinterJob, ...]
    spring: tuple[Spring, ...]
    done: tuple[Done, ...]


def ready_for_winter(book: Book, session: Session, today: Day) -> Winter:
    """What must be done before the first early frost, the latest first.

    Raises: MissingFact while the first run is not done.
    """
    frost = early_frost(book.season(session), today)
    if frost is None:
        return Winter(None, (), (), ())
    far = upkeep_plan(book, session, today)
    found: Winter | None = far.kept.get("winter")
    if found is None or found.frost != frost:
        rules = {one.sheet: one for one in before_winter()}
        mine = [one for one in elements(book, session, today) if one.sheet.id in rules]
        found = far.kept["winter"] = _winter(mine, far.laid, rules, frost, today)
    return found


def early_frost(season: NormalsSeason, today: Day) -> Day | None:
    """The next first frost that comes so early in one year of ten, or the one just past; None where there is none.

    Source: the season's mark; season years as in `app.trade.climate.days`.
    """
    from_year = date.fromordinal(today).year
    days = (season.mark("first frost", EARLY_FROST, year) for year in range(from_year - 1, from_year + 3))
    return min((day for day in days if day is not None and day >= today - LOOK_BACK_DAYS), default=None)


def _winter(
    mine: Sequence[Element], laid: Mapping[str, Laid], rules: Mapping[str, BeforeWinter], frost: Day, today: Day
) -> Winter:
    jobs: list[WinterJob] = []
    spring: list[Spring] = []
    done: list[Done] = []
    for one in mine:
        rule = rules[one.sheet.id]
        titles = {step.id: step.title for step in one.sheet.steps}
        for name in rule.steps:
            tasks = [task for task in laid[one.entry.id].tasks if task.step == name]
            task = _turn([each for each in tasks if each.opens is not None and state(each, today) in OPEN])
            if task is not None and (task.opens or 0) <= frost + NEAR_DAYS:
                by = _by(task, frost, rule.weeks)
                late = by < today or state(task, today) is State.LATE
                after = (task.opens or 0) > frost
                jobs.append(WinterJob(titles[name], one, task, by, rule.why, late, after))
                continue
            if task is not None and _begun(one, task):
                spring.append(Spring(titles[name], one, task))
            when = max((each.done for each in tasks if each.done is not None), default=None)
            if when is not None and when >= today - DONE_DAYS:
                done.append(Done(titles[name], one, when))
    jobs.sort(key=lambda job: (not job.late, job.by, job.element.entry.name, job.task.key))
    spring.sort(key=lambda job: (job.task.opens or 0, job.task.key))
    done.sort(key=lambda each: (-each.on, each.element.entry.name))
    return Winter(frost, tuple(jobs), tuple(spring), tuple(done))


def _by(task: Task, frost: Day, weeks: int) -> Day:
    """So many weeks before the frost; later where its own season opens later, and then its last day at the latest."""
    opens, by = task.opens or 0, frost - 7 * weeks
    return by if opens <= by else frost if opens <= frost else task.closes or frost


def _turn(tasks: Sequence[Task]) -> Task | None:
    """The next turn of a step."""
    return min(tasks, key=lambda task: (task.opens or 0, task.key), default=None)


def _begun(one: Element, task: Task) -> bool:
    """Whether a job belongs to a repair that something found has begun, and not to the next coat years ahead."""
    step = next((each for each in one.sheet.steps if each.id == task.step), None)
    return step is not None and step.again is None and step.when is not None
