"""How a made-up household went about its year: ticks on what the planner asked for, by a fixed pattern."""

import heapq
from collections.abc import Iterable, Mapping
from datetime import date
from hashlib import blake2b
from typing import NamedTuple

from app.rules.facts import Entry, Tick, TickKind, Window
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.moment import Said
from app.rules.moves import taken_as_done
from app.rules.plan import Planner
from app.rules.spans import Day
from app.rules.tasks import Fate, Plan, Task, window
from app.rules.terms import Ask, Value

_ASKED = (Fate.PLAIN, Fate.SQUEEZED, Fate.OUTSIDE)
_WEEK = 7
_PATIENT_DAYS = 9
_PATIENT = ("garden", "upkeep")
"""Only jobs of these trades, and with a window of so many days, are put off: what is warm or alive does not wait."""


class Once(NamedTuple):
    """Something said a single time, of the first cycle of a ``job`` ("entry.step"); a move is by so many ``days``."""

    say: TickKind
    job: str
    reason: str
    days: int = 0


class Habits(NamedTuple):
    """How punctual a household is: of a hundred jobs so many are done ``near`` their best day, or near the ``end``.

    The others are done up to ``late_days`` after it, or left where nothing is owed. Of the jobs that can wait, only
    ``busy_percent`` of those of the last ``busy_days`` are done, and ``left_percent`` of those that closed in the last
    ``left_days`` are still open. ``faithful`` are jobs, as sheet.step, that they never let pass.
    """

    days: int
    near: int
    end: int
    late_days: int
    busy_days: int
    busy_percent: int
    left_days: int
    left_percent: int
    once: tuple[Once, ...]
    measures: Mapping[str, tuple[Value, ...]]
    remarks: Mapping[str, str]
    faithful: tuple[str, ...] = ()


class Saying(NamedTuple):
    """A tick with what is written beside it."""

    tick: Tick
    remark: str = ""
    reason: str = ""


def live_through(planner: Planner, entries: Iterable[Entry], habits: Habits, today: Day) -> list[Saying]:
    """Go through the weeks from the first entry told to ``today``, ticking what the planner asks for.

    The same entries, habits and day give the same ticks. Source: none; a demonstration.
    """
    year = _Year(planner, list(entries), habits, today)
    first = min((entry.told for entry in year.entries), default=today)
    for monday in range(first, today + 1, _WEEK):
        year.week(monday, min(monday + _WEEK - 1, today))
    return year.said


class _Year:
    """The ticks so far, and what decides the next one."""

    def __init__(self, planner: Planner, entries: list[Entry], habits: Habits, today: Day) -> None:
        self.planner, self.entries, self.habits, self.today = planner, entries, habits, today
        self.said: list[Saying] = []
        self._once = {one.job: one for one in habits.once}
        self._steps = {(sheet.id, step.id): step for sheet in planner.sheets.values() for step in sheet.steps}
        self._acts = {step.id for sheet in planner.sheets.values() for step in sheet.steps if step.act}
        self._sheets = {entry.id: entry.sheet for entry in entries}
        self._count: dict[str, int] = {}
        self._moved: dict[str, Day] = {}
        self._again: dict[str, Day] = {}

    def week(self, first: Day, last: Day) -> None:
        """Do what falls due in a week, each thing on its day, laying the rest anew after it."""
        there = [entry for entry in self.entries if entry.told <= last]
        live = Live(self.planner, there, (), [one.tick for one in self.said], first, last + 2 * _WEEK)
        due: dict[str, Day] = {}
        queue: list[tuple[Day, str]] = []
        touched: Iterable[str] = list(live.laid)
        while True:
            self._look(live, touched, due, queue, first, last)
            if not queue:
                return
            day, key = heapq.heappop(queue)
            touched = ()
            if due.get(key) != day:
                continue
            first = max(first, day)
            due.pop(key)
            task = _task(live, key)
            if task is not None and not self._waits(live, task):
                touched = live.add_tick(self._say(live, task, day), task.entry)

    def _look(
        self,
        live: Live,
        names: Iterable[str],
        due: dict[str, Day],
        queue: list[tuple[Day, str]],
        first: Day,
        last: Day,
    ) -> None:
        for name in names:
            laid = live.laid.get(name)
            sheet = self.planner.sheets.get(laid.entry.sheet) if laid is not None else None
            for task in laid.tasks if laid is not None and sheet is not None else ():
                day = self._due(task, sheet is not None and sheet.trade in _PATIENT)
                if day is None or day > last:
                    due.pop(task.key, None)
                elif due.get(task.key) != (day := max(day, first)):
                    due[task.key] = day
                    heapq.heappush(queue, (day, task.key))

    def _due(self, task: Task, patient: bool) -> Day | None:
        """The day on which this household would do a job, or None: never."""
        at = window(task)
        if at is None or task.done is not None or not task.sure or task.fate not in _ASKED:
            return None
        if task.key in self._again:
            return max(self._again[task.key], at.opens)
        if task.key in self._moved or f"{task.entry}.{task.step}" in self._once:
            return at.best
        day = self._day(task, at)
        if not patient or at.closes - at.opens < _PATIENT_DAYS:
            return day
        left = task.missed == "late" and self.today - self.habits.left_days <= at.closes < self.today
        busy = day is not None and day > self.today - self.habits.busy_days and task.missed != "lost"
        if left and _dice(task.key, "left") < self.habits.left_percent:
            return None
        return None if busy and _dice(task.key, "busy") >= self.habits.busy_percent else day

    def _waits(self, live: Live, task: Task) -> bool:
        """Whether something that must come first is not done yet."""
        laid = live.laid[task.entry]
        alone = Plan((), (), (), (), (), {task.entry: laid}, live.as_of, live.last)
        first = taken_as_done(self.planner.sheets[laid.entry.sheet], alone, task.key)
        return any(each.missed != "passes" for each in laid.tasks if each.key in first)

    def _day(self, task: Task, at: Window) -> Day | None:
        if f"{self._sheets.get(task.entry)}.{task.step}" in self.habits.faithful:
            return at.best
        dice, small = _dice(task.key, "when"), _dice(task.key, "day")
        if dice < self.habits.near:
            return min(max(at.best + small % 5 - 2, at.opens), at.closes)
        if dice >= self.habits.near + self.habits.end:
            if task.missed == "passes":
                return None
            if task.missed == "late" and not task.legal and task.step not in self._acts:
                return at.closes + 1 + small % self.habits.late_days
        return max(at.best, at.closes - small % 3)

    def _say(self, live: Live, task: Task, day: Day) -> Tick:
        job = f"{task.entry}.{task.step}"
        once = self._once.get(job)
        if once is None:
            return self._done(live, task, day)
        if once.say == "moved":
            del self._once[job]
            at = window(task)
            on = day + once.days if at is None else min(day + once.days, max(at.closes, day))
            self._moved[task.key] = on
            return self._put(task, "moved", on, day, reason=once.reason)
        if once.say == "let go":
            del self._once[job]
            return self._put(task, "let go", day, day, reason=once.reason)
        return self._done_and_undone(live, task, day, once)

    def _done_and_undone(self, live: Live, task: Task, day: Day, once: Once) -> Tick:
        done = self._done(live, task, day)
        if day + 1 > self.today:
            return done
        del self._once[f"{task.entry}.{task.step}"]
        live.add_tick(done, task.entry)
        self._again[task.key] = day + 3
        return self._put(task, "undone", day, day + 1, answers=done.id, reason=once.reason)

    def _done(self, live: Live, task: Task, day: Day) -> Tick:
        sheet = live.laid[task.entry].entry.sheet
        step = self._steps[sheet, task.step]
        measures: dict[str, Value] = {}
        for ask in step.asks:
            told = self._told(task.entry, f"{sheet}.{step.id}.{ask.name}", f"{task.entry}.{step.id}.{ask.name}")
            if ask.kind == "date":
                measures[ask.name] = self._agreed(live, task, ask, day)
            elif told is not None or not ask.optional:
                measures[ask.name] = _usual(ask) if told is None else told
        word = f"{task.entry}.{step.id}"
        remark = self.habits.remarks.get(word) or self.habits.remarks.get(f"{sheet}.{step.id}", "")
        first = not any(one.remark == remark for one in self.said) if remark else False
        return self._put(task, "done", day, day, measures=measures, remark=remark if first else "")

    def _agreed(self, live: Live, task: Task, ask: Ask, day: Day) -> Day:
        """The day given by somebody outside: the one that was hoped for, put off to a weekday."""
        laid = live.laid[task.entry]
        wanted = {
            step.id
            for step in self.planner.sheets[laid.entry.sheet].steps
            if isinstance(step.start, Said) and (step.start.step, step.start.ask) == (task.step, ask.name)
        }
        days = (each.best for each in laid.tasks if each.step in wanted and each.best is not None and each.best > day)
        hoped = min(days, default=day + 3 * _WEEK)
        return hoped + {5: 2, 6: 1}.get(date.fromordinal(hoped).weekday(), 0)

    def _told(self, entry: str, of_sheet: str, of_entry: str) -> Value | None:
        """The next figure of an entry: its own where it has some, else its sheet's, each gone through in turn."""
        values = self.habits.measures.get(of_entry) or self.habits.measures.get(of_sheet)
        if not values:
            return None
        counted = f"{entry} {of_sheet}"
        number = self._count.get(counted, 0)
        self._count[counted] = number + 1
        return values[number % len(values)]

    def _put(
        self,
        task: Task,
        kind: TickKind,
        on: Day,
        said: Day,
        measures: Mapping[str, Value] = {},
        answers: str = "",
        remark: str = "",
        reason: str = "",
    ) -> Tick:
        number = self._count.get(task.key, 0)
        self._count[task.key] = number + 1
        minute = number % 60
        at = f"{date.fromordinal(said).isoformat()}T05:{minute:02}:00.000Z"
        tick = Tick(
            f"demo-{_hash(f'{task.key} {number}'):016x}", task.key, kind, on, at, measures, answers, window(task)
        )
        self.said.append(Saying(tick, remark, reason))
        return tick


def _task(live: Live, key: str) -> Task | None:
    parts = split_key(key)
    laid = live.laid.get(parts.entry)
    return next((task for task in laid.tasks if task.key == key), None) if laid is not None else None


def _usual(ask: Ask) -> Value:
    if ask.kind == "choice":
        return ask.choices[0]
    if ask.kind in ("yes or no", "text", "entry"):
        return False if ask.kind == "yes or no" else ""
    return max(ask.low or 0, min(1, ask.high or 1))


def _hash(text: str) -> int:
    return int.from_bytes(blake2b(text.encode(), digest_size=8).digest())


def _dice(key: str, what: str) -> int:
    return _hash(f"{what} {key}") % 100
