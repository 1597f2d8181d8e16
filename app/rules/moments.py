"""Moments made ready: each becomes a function from the run to a day, once for a sheet."""

import inspect
from collections.abc import Callable, Mapping
from typing import Any

from app.errors import OutOfRange
from app.rules.almanac import Yearly
from app.rules.run import Run
from app.rules.sheet import (
    EntryDate,
    Given,
    Mark,
    Moment,
    Said,
    Sheet,
    StepDay,
    TickDay,
    Value,
    Warmth,
    Work,
    YearDay,
)  # fmt: skip
from app.rules.spans import NOTHING, Day, Span, add
from app.rules.ticks import Word
from app.trade.reckoned import Reckoned

_REMEMBERED = 1024

DayOf = Callable[[Run], Day | None]
SpreadOf = Callable[[Run], tuple[Day, Day, Day] | None]


class Place:
    """Where on a sheet a moment stands: the step it serves, and how the others are found from there."""

    def __init__(self, sheet: Sheet, step: str) -> None:
        self.sheet = sheet
        self.step = step
        self.slot = {each.id: at for at, each in enumerate(sheet.steps)}
        self.depth = len(sheet.scopes.get(step, ()))

    def depth_of(self, step: str) -> int:
        """How many cycles a step lies in."""
        return len(self.sheet.scopes.get(step, ()))


def day_of(moment: Moment, place: Place) -> DayOf:
    """Make a moment ready: a function that gives its best day, or None while it can't be told.

    Source: the table of moments in DEVELOPERS.md.
    """
    match moment:
        case EntryDate():
            return _entry_date(moment, place)
        case StepDay():
            return _step_day(moment, place)
        case TickDay():
            return _tick_day(moment, place)
        case YearDay() | Mark():
            return _yearly(moment, place)
        case Said():
            return _said(moment, place)
        case _:
            spread = spread_of(moment, place)
            return lambda run: found[1] if (found := spread(run)) else None


def spread_of(moment: Moment, place: Place) -> SpreadOf:
    """Make a moment ready with its spread: the earliest, best and latest day.

    Source: warmth gives the 10, 50 and 90 % days, a computation its own least and most.
    """
    match moment:
        case Warmth():
            return _warmth(moment, place)
        case Work():
            return _work(moment, place)
        case Said():
            told, otherwise = told_day(moment, place), spread_of(moment.otherwise, place)
            by = moment.by

            def said(run: Run) -> tuple[Day, Day, Day] | None:
                day = told(run)
                found = (day, day, day) if day is not None else otherwise(run)
                return _moved(found, by) if found else None

            return said
        case _:
            one = day_of(moment, place)
            return lambda run: (day, day, day) if (day := one(run)) is not None else None


def is_wide(moment: Moment) -> bool:
    """Whether a moment brings a spread of its own.

    Source: none; the kinds that are reckoned in a spread.
    """
    return isinstance(moment, Warmth | Work) or (isinstance(moment, Said) and is_wide(moment.otherwise))


def _moved(spread: tuple[Day, Day, Day], by: Span) -> tuple[Day, Day, Day]:
    return spread if by == NOTHING else (add(spread[0], by), add(spread[1], by), add(spread[2], by))


def _shifted(by: Span) -> Callable[[Day], Day]:
    if not by.months:
        return by.days.__add__
    return lambda day: add(day, by)


def _entry_date(moment: EntryDate, place: Place) -> DayOf:
    fact, shift, step = moment.fact, _shifted(moment.by), place.step
    ask = place.sheet.facts.get(fact)
    may_be_unsaid = ask is not None and ask.optional

    def day(run: Run) -> Day | None:
        value = run.facts.get(fact)
        if value is None:
            if not may_be_unsaid:
                run.lack(step, fact)
            return None
        return shift(int(value))

    return day


def _step_day(moment: StepDay, place: Place) -> DayOf:
    slot, shift, which = place.slot[moment.step], _shifted(moment.by), moment.which

    def day(run: Run) -> Day | None:
        days = run.first if which == "first" else run.latest if which == "last" else run.day
        found = days[slot]
        return None if found is None else shift(found)

    return day


def word_of(step: str, place: Place) -> Callable[[Run], Word | None]:
    """What stands for a step: in my own cycle, or the latest doing where it has cycles beneath mine.

    Source: none; "of the same cycle" as DEVELOPERS.md puts it.
    """
    depth = place.depth_of(step)
    if depth <= place.depth:
        return lambda run: run.word(step, depth)
    mine = place.depth

    def latest(run: Run) -> Word | None:
        label = run.label_at(mine)
        found = [word for word in run.words_of(step) if word.label[:mine] == label]
        return found[-1] if found else None

    return latest


def _tick_day(moment: TickDay, place: Place) -> DayOf:
    find, shift, name = word_of(moment.step, place), _shifted(moment.by), moment.days.rpartition(".")[2]

    def day(run: Run) -> Day | None:
        word = find(run)
        if word is None or word.done is None:
            return None
        if not name:
            return shift(word.done.on)
        figure = word.measures.get(name)
        return None if figure is None else shift(word.done.on + int(figure))

    return day


def told_day(moment: Said, place: Place) -> DayOf:
    """The day that somebody outside gave, or None until it has been taken down.

    Source: none; reads ticks only, so that it can't go in a circle.
    """
    find, name = word_of(moment.step, place), moment.ask

    def day(run: Run) -> Day | None:
        word = find(run)
        told = word.measures.get(name) if word is not None and word.done is not None else None
        return int(told) if isinstance(told, int) else None

    return day


def _said(moment: Said, place: Place) -> DayOf:
    told, otherwise, shift = told_day(moment, place), day_of(moment.otherwise, place), _shifted(moment.by)

    def day(run: Run) -> Day | None:
        found = told(run)
        if found is None:
            found = otherwise(run)
        return None if found is None else shift(found)

    return day


def yearly_of(moment: Moment) -> Yearly | None:
    """The yearly day in a moment, if it is one.

    Source: none.
    """
    if isinstance(moment, YearDay):
        return Yearly("", 0, moment.month, moment.day)
    return Yearly(moment.name, moment.value) if isinstance(moment, Mark) else None


def since_of(moment: YearDay | Mark, place: Place) -> DayOf:
    """The day on or after which (or on or before which) a yearly day is sought; the entry's date when not said.

    Source: none.
    """
    return day_of(moment.since or moment.before or EntryDate("date"), place)


def _yearly(moment: YearDay | Mark, place: Place) -> DayOf:
    found = nth_of(moment, place)
    return lambda run: found(run, 0)


def nth_of(moment: YearDay | Mark, place: Place) -> Callable[[Run, int], Day | None]:
    """A yearly day's occurrence: the first sought, or the ``skip``-th after it.

    Source: none; "wait for next season" needs those after the first.
    """
    yearly, since, shift = yearly_of(moment), since_of(moment, place), _shifted(moment.by)
    before = moment.before is not None
    other = moment.otherwise if isinstance(moment, Mark) else None
    otherwise = day_of(other, place) if other else None
    assert yearly is not None

    def day(run: Run, skip: int) -> Day | None:
        start = since(run)
        if start is None:
            return None
        search = yearly.on_or_before if before else yearly.on_or_after
        found = search(run.almanac, start)
        if found is None and otherwise is not None:
            return otherwise(run)
        if found is None:
            run.lack(place.step, "", f"there is no {yearly.name} here")
            return None
        days = found[1] if not skip else yearly.in_year(run.almanac, found[0] + skip)
        return None if days is None else shift(days)

    return day


def _warmth(moment: Warmth, place: Place) -> SpreadOf:
    since, by, total, base = day_of(moment.since, place), moment.by, moment.total, moment.base

    def spread(run: Run) -> tuple[Day, Day, Day] | None:
        start = since(run)
        if start is None:
            return None
        found = run.almanac.warmth(total, base, start)
        if found is None:
            run.lack(place.step, "", f"{total:g} degree-days above {base:g} °C do not come here in a year")
            return None
        run.note("warmth", f"{total:g} degree-days above {base:g} °C since then", found.best)
        return _moved((found.low, found.best, found.high), by)

    return spread


# ── Computations ──────────────────────────────────────────────────────────────────────────────────────────────────


def given_of(given: Given, place: Place) -> Callable[[Run, Day], Any]:
    """Where a parameter's value comes from, as a function of the run and of the day it is reckoned from.

    Source: none; see `Given`.
    """
    name = given.name
    if given.of == "value":
        return lambda run, start: given.value
    if given.of == "fact":
        return lambda run, start: run.facts.get(name)
    if given.of == "latest":
        find, default = word_of(given.step, place), _default_of(given, place)
        return lambda run, start: word.measures.get(name, default) if (word := find(run)) and word.done else default
    return lambda run, start: [
        (word.done.on - start, word.measures[name])
        for word in run.words_of(given.step)
        if word.done is not None and word.done.on >= start and name in word.measures
    ]


def _default_of(given: Given, place: Place) -> Value | None:
    """What a measure is taken to be until it is said: the sheet's own ``else``."""
    asks = (ask for step in place.sheet.steps if step.id == given.step for ask in step.asks if ask.name == given.name)
    return next((ask.default for ask in asks), None)


Asked = Callable[[Run, Day], Reckoned | None]


def days_of(work: Work, place: Place) -> Asked:
    """A computation made ready: from the run and the day it is reckoned from, to whole days with their spread.

    Source: the computation's own. What its source does not cover is taken down as the reason why there is no date.
    """
    sources = {name: given_of(given, place) for name, given in work.given.items()}
    parameters = inspect.signature(work.call).parameters
    needed = [name for name, one in parameters.items() if one.default is inspect.Parameter.empty]

    known: dict[tuple[tuple[str, Any], ...], Reckoned | OutOfRange | None] = {}

    def reckon(run: Run, start: Day) -> Reckoned | None:
        values = {name: value for name, get in sources.items() if (value := get(run, start)) is not None}
        if "on" in parameters:
            values["on"] = start
        missing = [name for name in needed if name not in values and name != "season"]
        if missing:
            _say_missing(run, place, work.given, missing)
            return None
        if "season" in parameters:
            answer = _answered(work, {**values, "season": run.almanac.season})
        else:
            answer = _remembered(known, work, values)
        if isinstance(answer, OutOfRange):
            run.lack(place.step, "", str(answer))
            return None
        if run.notes is not None and answer is not None:
            run.note(work.name.replace("_", " "), "; ".join(answer.because) or _listed(values))
        return answer

    return reckon


def _answered(work: Work, values: Mapping[str, Any]) -> Reckoned | OutOfRange | None:
    try:
        return _reckoned(work.call(**values))
    except OutOfRange as out:
        return out


def _remembered(
    known: dict[tuple[tuple[str, Any], ...], Reckoned | OutOfRange | None], work: Work, values: Mapping[str, Any]
) -> Reckoned | OutOfRange | None:
    """A computation is pure: the same values give the same answer, so it is asked once (some take milliseconds)."""
    asked = tuple((name, tuple(value) if isinstance(value, list) else value) for name, value in values.items())
    if asked not in known:
        if len(known) >= _REMEMBERED:
            known.clear()
        known[asked] = _answered(work, values)
    return known[asked]


def _reckoned(answer: Reckoned | float | None) -> Reckoned | None:
    if answer is None or isinstance(answer, Reckoned):
        return answer
    return Reckoned(int(answer), int(answer), int(answer))


def _listed(values: Mapping[str, Value]) -> str:
    return ", ".join(f"{name.replace('_', ' ')} {value}" for name, value in values.items() if name != "season")


def _say_missing(run: Run, place: Place, given: Mapping[str, Given], missing: list[str]) -> None:
    for name in missing:
        source = given.get(name)
        fact = name if source is None else source.name if source.of == "fact" else f"{source.step}.{source.name}"
        run.lack(place.step, fact)


def _work(moment: Work, place: Place) -> SpreadOf:
    start_of, reckon, by = (
        day_of(moment.before or moment.since or EntryDate("date"), place),
        days_of(moment, place),
        moment.by,
    )
    back = moment.before is not None

    def spread(run: Run) -> tuple[Day, Day, Day] | None:
        start = start_of(run)
        answer = None if start is None else reckon(run, start)
        if start is None or answer is None:
            return None
        low, best, high = answer[:3]
        found = (start - high, start - best, start - low) if back else (start + low, start + best, start + high)
        return _moved(found, by)

    return spread
