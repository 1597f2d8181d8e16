"""One element of a building: its coating, when it was last done, what was found, what comes, which wait runs."""

from collections.abc import Iterable, Mapping, Sequence
from inspect import signature
from typing import NamedTuple

from app.errors import OutOfRange
from app.rules.facts import Entry, Tick
from app.rules.keys import split_key
from app.rules.moment import EntryDate, Work
from app.rules.sheet import Sheet
from app.rules.spans import NOTHING, Day, add
from app.rules.state import ASKED, State, state
from app.rules.step import After, Step
from app.rules.tasks import Fate, Laid, Task
from app.rules.terms import Value
from app.rules.ticks import in_force
from app.services.garden.stands import said_or_usual
from app.services.what_there_is import next_job
from app.sheets.upkeep_tables import coatings, unsuited

SIZES = ("area_m2", "run_m")
"""The facts that say how large an element is."""
GOES_ON = ("surface", "wall")
"""The facts that say what a coating is put on."""
COAT_WORK = "years_to_next_coat"
OPEN = frozenset({*ASKED, State.TO_COME, State.WAITING})
RARE = 8
"""What comes round no more than so often in fifteen years is drawn and named; the rest comes every year or oftener."""


class Last(NamedTuple):
    """When it was last done: ``what`` in the sheet's words, the day, and how sure ("to the day", "about", ..)."""

    what: str
    day: Day
    known: str


class Found(NamedTuple):
    """What a look found: the answer, where, and the day."""

    what: str
    where: str
    day: Day


class Waiting(NamedTuple):
    """A wait that is running: what was done and when, what comes after it and not before which day.

    ``cured`` is the day on which what was done has stood long enough; ``until`` is later where a season comes between.
    """

    entry: str
    name: str
    done: str
    since: Day
    cured: Day
    then: str
    key: str
    until: Day
    best: Day


class Element(NamedTuple):
    """An element with what is known of it. ``facts`` hold the usual answers where nothing was said.

    ``next`` is the job asked soonest, ``look`` the next one that asks what was found, ``coat`` the next coat of its
    coating; ``drawn`` the jobs that a picture of years shows; ``misfit`` why its coating does not suit what it is on.
    """

    entry: Entry
    sheet: Sheet
    facts: Mapping[str, Value]
    coating: str
    misfit: str
    last: Last | None
    found: Found | None
    next: Task | None
    look: Task | None
    coat: Task | None
    drawn: tuple[Task, ...]
    waits: tuple[Waiting, ...]


def element(laid: Laid, sheet: Sheet, ticks: Sequence[Tick], today: Day) -> Element:
    """What is known of an entry of upkeep."""
    entry = said_or_usual(laid.entry, sheet)
    open_ = [task for task in laid.tasks if task.best is not None and state(task, today) in OPEN]
    steps = {step.id: step for step in sheet.steps}
    looks = {step.id for step in sheet.steps if _answer(step) is not None}
    coat = coat_step(sheet)
    coated = [task for task in open_ if coat is not None and task.step == coat.id]
    return Element(
        laid.entry,
        sheet,
        entry.facts,
        coating_of(sheet),
        misfit(sheet, entry.facts),
        _last(laid, sheet, coat, today),
        _found(steps, ticks),
        next_job(laid.tasks, today),
        min((t for t in open_ if t.step in looks and t.fate is Fate.PLAIN), key=_best, default=None),
        min(coated, key=_best, default=None),
        _drawn(open_, steps, coat),
        tuple(_waits(laid, steps, entry.facts, today)),
    )


def coat_step(sheet: Sheet) -> Step | None:
    """The step that puts a new coat on: the first whose interval is that of a coating."""
    return next(
        (
            step for step in sheet.steps
            if step.again is not None and isinstance(step.again.every, Work) and step.again.every.name == COAT_WORK
        ),
        None,
    )  # fmt: skip


def coating_of(sheet: Sheet) -> str:
    """The coating that a sheet keeps up, "" for none."""
    return next((one.id for one in coatings().values() if one.sheet == sheet.id), "")


def misfit(sheet: Sheet, facts: Mapping[str, Value]) -> str:
    """Why the coating does not suit what it goes on; "" when nothing speaks against it, or it is not known."""
    kept = [one.id for one in coatings().values() if one.sheet == sheet.id]
    on = [str(facts[name]) for name in GOES_ON if name in facts]
    return next((says for one in kept for each in on if (says := unsuited(one, each))), "")


def misfit_of(entry: Entry, sheet: Sheet) -> str:
    """The same of an entry, with the usual answers where nothing was said."""
    return misfit(sheet, said_or_usual(entry, sheet).facts)


def _best(task: Task) -> Day:
    return task.best or 0


def _last(laid: Laid, sheet: Sheet, coat: Step | None, today: Day) -> Last | None:
    """The last doing of the step that the entry's date tells of, else of the one that is most work; else that date."""
    anchor = coat or next((step for step in _in_order(sheet) if _is_anchor(step)), None)
    date = laid.entry.facts.get("date")
    said = date if isinstance(date, int) and date <= today else None
    label = sheet.facts["date"].label.removesuffix(" on")
    if anchor is not None and anchor.again is not None:
        mine = {anchor.id, *anchor.again.counts}
        done = [task for task in laid.tasks if task.step in mine and task.done is not None]
    else:
        every = [task for task in laid.tasks if task.done is not None and task.done >= today - 2 * 366]
        most = max((task.minutes for task in every), default=0)
        done = [task for task in every if task.minutes == most]
    latest = max(done, key=lambda task: (task.done or 0, task.key), default=None)
    if latest is not None and (said is None or (latest.done or 0) >= said):
        return Last(label if anchor is not None else _title(sheet, latest.step), latest.done or 0, "to the day")
    if said is None or label == "From":
        return None
    return Last(label, said, str(laid.entry.facts.get("known", "to the day")))


def _in_order(sheet: Sheet) -> tuple[Step, ...]:
    steps = {step.id: step for step in sheet.steps}
    return tuple(steps[name] for name in sheet.order if name in steps) or sheet.steps


def _is_anchor(step: Step) -> bool:
    """Whether the entry's date is its last doing."""
    return step.again is not None and step.again.most != 1 and isinstance(step.again.last, EntryDate)


def _title(sheet: Sheet, step: str) -> str:
    return next((one.title for one in sheet.steps if one.id == step), step)


def _answer(step: Step) -> str | None:
    """The measure of a step that says how things stand: the first that offers a choice, or a yes or no."""
    return next((ask.name for ask in step.asks if ask.kind in ("choice", "yes or no")), None)


def _found(steps: Mapping[str, Step], ticks: Iterable[Tick]) -> Found | None:
    """What the latest look found."""
    found: Found | None = None
    for tick in in_force(ticks):
        step = steps.get(split_key(tick.key).step) if tick.kind == "done" else None
        name = _answer(step) if step is not None else None
        if step is None or name is None or name not in tick.measures or (found is not None and tick.on < found.day):
            continue
        ask = next(one for one in step.asks if one.name == name)
        value = tick.measures[name]
        what = f"{ask.label.lower()}: {'yes' if value else 'no'}" if isinstance(value, bool) else str(value)
        found = Found(what, str(tick.measures.get("where", "")), tick.on)
    return found


def _drawn(open_: Sequence[Task], steps: Mapping[str, Step], coat: Step | None) -> tuple[Task, ...]:
    """What a picture of fifteen years shows: the coats; without a coating, what comes seldom, and what comes next."""
    if coat is not None:
        coats = {step.id for step in steps.values() if _is_coat(step)}
        return tuple(task for task in open_ if task.step in coats)
    counts: dict[str, int] = {}
    for task in open_:
        counts[task.step] = counts.get(task.step, 0) + 1
    seldom = [task for task in open_ if is_seldom(steps.get(task.step), counts[task.step])]
    soonest = min(open_, key=_best, default=None)
    return tuple(seldom) if soonest is None or soonest in seldom else (soonest, *seldom)


def is_seldom(step: Step | None, times: int) -> bool:
    """Whether a step comes round seldom, or once at the end of a life; ``times`` in fifteen years."""
    if step is None:
        return False
    if step.again is None:
        return isinstance(step.start, EntryDate) and step.start.by.months >= 24
    return step.again.kind == "every" and step.again.most != 1 and times <= RARE


def _is_coat(step: Step) -> bool:
    return step.again is not None and isinstance(step.again.every, Work) and step.again.every.name == COAT_WORK


def _waits(laid: Laid, steps: Mapping[str, Step], facts: Mapping[str, Value], today: Day) -> Iterable[Waiting]:
    """The waits that run: something is done, and what must come some days after it may not begin yet."""
    done: dict[str, Task] = {}
    for task in laid.tasks:
        if task.done is not None and (task.step not in done or (done[task.step].done or 0) < task.done):
            done[task.step] = task
    for task in laid.tasks:
        step = steps.get(task.step)
        if (
            step is None
            or task.opens is None
            or task.best is None
            or task.opens <= today
            or state(task, today) not in OPEN
        ):
            continue
        for after in step.after:
            first = done.get(after.step)
            long = after.work is not None or after.by != NOTHING
            if long and first is not None and first.done is not None and task.label[: len(first.label)] == first.label:
                ready = [_cured(one, first.done, facts) or task.opens for one in step.after if one.step == after.step]
                yield Waiting(
                    laid.entry.id, laid.entry.name, steps[after.step].title, first.done,
                    min(max(ready), task.opens), step.title, task.key, task.opens, task.best,
                )  # fmt: skip
                break


def _cured(after: After, done: Day, facts: Mapping[str, Value]) -> Day | None:
    """The day from which a step may follow one done on ``done``; None where more than facts decides it."""
    if after.work is None:
        return add(done, after.by)
    if any(given.of not in ("fact", "value") for given in after.work.given.values()):
        return None
    asked = {name: facts.get(one.name) if one.of == "fact" else one.value for name, one in after.work.given.items()}
    if None in asked.values():
        return None
    if "on" in signature(after.work.call).parameters:
        asked["on"] = done
    try:
        found = after.work.call(**asked)
    except (OutOfRange, TypeError):
        return None
    return None if found is None else add(done + int(found.best), after.by)
