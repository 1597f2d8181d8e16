"""What a job is today: worked out from its task and the day, never stored."""

from enum import StrEnum

from app.rules.spans import Day
from app.rules.tasks import Fate, Task

CLOSING_DAYS = 3
"""With so many days left, or fewer, a job can't wait. Our own choice, the same everywhere."""


class State(StrEnum):
    """The states of a job, in plain words."""

    DONE = "done"
    LET_GO = "let go"
    LOST = "lost"
    UNLAWFUL = "unlawful"
    WAITING = "waiting"  # barred until something is said
    PASSED = "passed"
    NO_ROOM = "no room"
    LATE = "late"
    CLOSING = "closing"
    OPEN = "open"
    TO_COME = "to come"


_ENDED = {
    Fate.LET_GO: State.LET_GO,
    Fate.LOST: State.LOST,
    Fate.UNLAWFUL: State.UNLAWFUL,
    Fate.PASSED_OVER: State.PASSED,
    Fate.NO_ROOM: State.NO_ROOM,
}

ASKED = frozenset({State.LATE, State.CLOSING, State.OPEN})
"""The states in which a job is asked of the household today."""


def state(task: Task, today: Day) -> State:
    """What a task is on a day.

    A task past its last day is late only where that is worth doing: what merely passes has passed.
    Source: the kinds of missing in DEVELOPERS.md.
    """
    if task.done is not None:
        return State.DONE
    if task.fate in _ENDED:
        return _ENDED[task.fate]
    if task.opens is None or task.best is None or task.closes is None:
        return State.WAITING
    if today > task.closes:
        return State.PASSED if task.missed == "passes" else State.LATE
    if today < task.opens:
        return State.TO_COME
    return State.CLOSING if task.closes - today < CLOSING_DAYS else State.OPEN


def status(task: Task, today: Day) -> str:
    """The status of a task as a to-do of an iCalendar object: NEEDS-ACTION, COMPLETED or CANCELLED.

    Source: RFC 5545, 3.8.1.11.
    """
    found = state(task, today)
    if found is State.DONE:
        return "COMPLETED"
    gone = (State.LET_GO, State.LOST, State.UNLAWFUL, State.PASSED, State.NO_ROOM)
    return "CANCELLED" if found in gone else "NEEDS-ACTION"
