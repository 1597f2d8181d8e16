"""Hands-on time and waiting time of an entry, told apart."""

from typing import NamedTuple

from app.rules.sheet import Sheet
from app.rules.tasks import Laid


class Work(NamedTuple):
    """``hands_min`` minutes of work in all; hours that kit runs without hands; days from the first job to the last.

    ``soon_min`` are the minutes of the jobs that fall within three days of its beginning.
    """

    hands_min: int
    waiting_h: float
    days: int
    soon_min: int = 0


SOON_DAYS = 3


def work_of(laid: Laid, sheet: Sheet, kit_hours: float | None = None) -> Work:
    """The work of an entry as it was laid: the minutes of its jobs, and the hours of those that run by themselves.

    ``kit_hours`` stand in place of the sheet's hours, where loads were counted. Days end where the keeping begins.
    """
    steps = {step.id: step for step in sheet.steps}
    timed = sum(
        step.timed.hours for task in laid.tasks if (step := steps.get(task.step)) is not None and step.timed is not None
    )
    last = [
        task.best for task in laid.tasks
        if task.best is not None and (step := steps.get(task.step)) is not None and step.makes
    ]  # fmt: skip
    every = [task.best for task in laid.tasks if task.best is not None]
    if not every:
        return Work(0, kit_hours or 0.0, 0)
    first = min(every)
    date = laid.entry.facts.get("date")
    begin = max(first, date) if isinstance(date, int) else first
    soon = sum(task.minutes for task in laid.tasks if task.best is not None and task.best < begin + SOON_DAYS)
    hands = sum(task.minutes for task in laid.tasks)
    waiting = kit_hours if kit_hours is not None else timed
    return Work(hands, waiting, max(last, default=max(every)) - begin, soon)
