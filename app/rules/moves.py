"""What a change moves, what a tick implies, and how late a start can be for a day to be met."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from app.rules.facts import Window
from app.rules.moment import StepDay
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Fate, Plan, Task, window


class Move(NamedTuple):
    """A job whose window differs between two plans; None where it is not in one of them, or not dated."""

    key: str
    was: Window | None
    now: Window | None


def moves(before: Plan, after: Plan) -> list[Move]:
    """The open jobs that differ between two plans, in the order of the later one."""
    return moves_among(before.tasks, after.tasks)


def moves_among(before: Sequence[Task], after: Sequence[Task]) -> list[Move]:
    """The same, of those jobs alone that may differ."""
    old = {task.key: task for task in before}
    new = {task.key: task for task in after}
    found = [
        Move(task.key, window(old[task.key]) if task.key in old else None, window(task))
        for task in after
        if task.done is None and (task.key not in old or window(old[task.key]) != window(task))
    ]
    gone = [Move(key, window(task), None) for key, task in old.items() if key not in new and task.done is None]
    return found + gone


def taken_as_done(sheet: Sheet, plan: Plan, key: str) -> list[str]:
    """The open jobs that must have been done before this one: a tick on it is taken to say so of them.

    Only those of the same cycle that it is reckoned from, or must come after, and that are asked by now.
    Source: none; settled by the tick service so that the planner never guesses.
    """
    by_key = {
        task.key: task for laid in plan.laid.values() for task in laid.tasks if key.startswith(laid.entry.id + ".")
    }
    target = by_key.get(key)
    if target is None:
        return []
    needs = {step.id: _needs(sheet, step.id) for step in sheet.steps}
    found: list[str] = []
    for name in _all_needs(needs, target.step):
        depth = len(sheet.scopes.get(name, ()))
        if depth > len(target.label):
            continue
        task = next((t for t in by_key.values() if t.step == name and t.label == target.label[:depth]), None)
        if (
            task is not None
            and task.done is None
            and task.fate in (Fate.PLAIN, Fate.SQUEEZED, Fate.OUTSIDE, Fate.BARRED)
        ):
            found.append(task.key)
    return found


def _needs(sheet: Sheet, name: str) -> set[str]:
    step = next(step for step in sheet.steps if step.id == name)
    needs = {after.step for after in step.after if not after.which}
    start = step.start
    if isinstance(start, StepDay) and not start.which and (start.step, name) not in sheet.back and start.by.days >= 0:
        needs.add(start.step)
    since = getattr(start, "since", None)
    if isinstance(since, StepDay) and not since.which:
        needs.add(since.step)
    return {need for need in needs if (need, name) not in sheet.back}


def _all_needs(needs: dict[str, set[str]], name: str) -> list[str]:
    found: list[str] = []
    queue = sorted(needs.get(name, ()))
    while queue:
        step = queue.pop(0)
        if step not in found:
            found.append(step)
            queue += sorted(needs.get(step, ()))
    return found


def latest_start(make: Callable[[Day], Plan], key: str, by_day: Day, first: Day, last: Day) -> Day | None:
    """The latest day from ``first`` to ``last`` on which to begin so that a job's best day is no later than ``by_day``.

    ``make(day)`` plans with the start on that day. None when even ``first`` is too late. It rests on "begin later,
    nothing sooner", which the planner keeps. Source: bisection.
    """

    def meets(start: Day) -> bool:
        found: Task | None = next((task for task in make(start).tasks if task.key == key), None)
        return found is not None and found.best is not None and found.best <= by_day

    if not meets(first):
        return None
    low, high = first, last
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if meets(middle) else (low, middle - 1)
    return low
