"""An entry's chain: its jobs from the first to the last, drawn on a line, told in a sentence, and listed."""

from datetime import date
from typing import NamedTuple

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.state import State, state
from app.rules.tasks import Fate, Task
from app.rules.why import FATES
from app.services.what_there_is import OPEN, Whole
from app.web import told
from app.web.chain import Chain, Item, lay
from app.web.drawing import Stretch, line
from app.web.parts import Follow, Link
from app.web.rows import STATES, job_href
from app.web.words import counted, day, month

A_YEAR = 365
MOST_COMING = 3
MOST_PAST = 2


class Pictured(NamedTuple):
    """The chain as drawn, told and listed."""

    chain: Chain
    words: str
    steps: tuple[Follow, ...]
    older: Link | None


def pictured(whole: Whole, here: str, today: date, every: bool) -> Pictured:
    """The chain of an entry; of a long one the last year and what is to come, unless ``every`` job is wanted."""
    sheet, now = whole.sheet, today.toordinal()
    dated = [task for task in whole.laid.tasks if task.best is not None or task.done is not None]
    shown, hidden = _shown(_in_order(sheet, dated), now, every)
    items = [_item(sheet, task) for task in shown]
    first = min((item.opens for item in items), default=now)
    last = max((item.closes for item in items), default=now)
    stretch = Stretch(first, max(last, first + 27), now)
    chain = lay(items, first, last, now)
    numbers = _numbers(chain, items) if chain.numbered else {}
    return Pictured(
        chain,
        _in_words(dated, items, today),
        tuple(
            _follow(sheet, task, stretch, today, hidden.get(task.step, 0), numbers.get(task.step, "")) for task in shown
        ),
        _older(here, len(dated) - len(shown), every),
    )


def _numbers(chain: Chain, items: list[Item]) -> dict[str, str]:
    """The number of each step in a picture that has numbers for names."""
    steps = {item.href: item.step for item in items}
    return {steps[one.href]: one.label for one in chain.steps}


def _shown(tasks: list[Task], today: Day, every: bool) -> tuple[list[Task], dict[str, int]]:
    """What the page lists: the last year and what is to come, of each step a few.

    Also how many more are to come of each. ``tasks`` are in the order of their days.
    """
    if every:
        return tasks, {}
    recent = [task for task in tasks if _last(task) >= today - A_YEAR]
    past = [task for task in recent if state(task, today) not in OPEN]
    coming = [task for task in recent if state(task, today) in OPEN]
    few = {task.key for some in _by_step(past) for task in some[-MOST_PAST:]}
    few |= {task.key for some in _by_step(coming) for task in some[:MOST_COMING]}
    hidden = {some[0].step: len(some) - MOST_COMING for some in _by_step(coming) if len(some) > MOST_COMING}
    return [task for task in recent if task.key in few], hidden


def _by_step(tasks: list[Task]) -> list[list[Task]]:
    steps: dict[str, list[Task]] = {}
    for task in tasks:
        steps.setdefault(task.step, []).append(task)
    return list(steps.values())


def _last(task: Task) -> Day:
    """The day a job was done, else its last."""
    return task.done if task.done is not None else task.closes or 0


def _in_order(sheet: Sheet | None, tasks: list[Task]) -> list[Task]:
    """In the order of days, those done by the day they were done; on one day, as the sheet has them."""

    def place(task: Task) -> tuple[Day, int, tuple[int, ...]]:
        on = task.done if task.done is not None else task.best or 0
        return on, told.place_in(sheet, task.step), task.label

    return sorted(tasks, key=place)


def _item(sheet: Sheet | None, task: Task) -> Item:
    best = task.best if task.best is not None else task.done or 0
    opens = task.opens if task.opens is not None else best
    closes = task.closes if task.closes is not None else best
    if task.done is not None:
        opens, closes = min(opens, task.done), max(closes, task.done)
    return Item(task.step, _title(sheet, task), job_href(task.key), opens, best, closes, task.done)


def _follow(sheet: Sheet | None, task: Task, stretch: Stretch, today: date, more: int, number: str) -> Follow:
    what = state(task, today.toordinal())
    bests = (task.best,) if task.best is not None else ()
    when = told.days(task.opens, task.best, task.closes, today)
    if task.done is not None:
        when = f"done on {day(date.fromordinal(task.done), today)}"
    note = STATES.get(what, "")
    if not note and task.fate is not Fate.PLAIN and what in OPEN:
        note = FATES.get(task.fate, "")
    if not note and not task.sure:
        note = "not sure yet"
    if not note and more and what in OPEN:
        note = f"one of {MOST_COMING + more}"
    trouble = what in (State.LOST, State.UNLAWFUL, State.NO_ROOM, State.LATE) or task.fate is Fate.SQUEEZED
    return Follow(
        _title(sheet, task),
        job_href(task.key),
        when,
        line(stretch, task.opens, task.closes, bests, task.done),
        number,
        past=what not in OPEN,
        note=note,
        trouble=trouble,
    )


def _title(sheet: Sheet | None, task: Task) -> str:
    step = told.step_of(sheet, task.step)
    return step.title if step else task.step.replace("-", " ").capitalize()


def _in_words(tasks: list[Task], items: list[Item], today: date) -> str:
    if not items:
        return "No job can be dated yet."
    done = sum(task.done is not None for task in tasks)
    first = month(date.fromordinal(min(item.opens for item in items)))
    last = month(date.fromordinal(max(item.closes for item in items)))
    return f"{counted(len(tasks), 'job').capitalize()} from {first} to {last}; {counted(done, 'is', 'are')} done."


def _older(here: str, left_out: int, every: bool) -> Link | None:
    if every:
        return Link("Show less", here)
    return Link(f"Show all of it: {counted(left_out, 'more job')}", f"{here}?all=yes") if left_out > 0 else None
