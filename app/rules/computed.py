"""Computations named on a sheet, made ready: where their parameters come from, and what they answer."""

import inspect
from collections.abc import Callable, Mapping
from typing import Any

from app.errors import OutOfRange
from app.rules.moment import Given, Work
from app.rules.place import Place, word_of
from app.rules.run import Run
from app.rules.spans import Day
from app.rules.terms import Value
from app.trade.reckoned import Job, Reckoned

_REMEMBERED = 1024
_FILLED_IN = frozenset({"season", "job"})
"""What planning knows of itself; where it does not, the computation does without."""


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
    job_of = _job_of(place) if "job" in parameters else None

    known: dict[tuple[tuple[str, Any], ...], Reckoned | OutOfRange | None] = {}

    def reckon(run: Run, start: Day) -> Reckoned | None:
        values = {name: value for name, get in sources.items() if (value := get(run, start)) is not None}
        if "on" in parameters:
            values["on"] = start
        if job_of is not None:
            values["job"] = job_of(run)
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


def _job_of(place: Place) -> Callable[[Run], Job | None]:
    step = next((one for one in place.sheet.steps if one.id == place.step), None)
    if step is None:
        return lambda run: None
    labour, kind, needs = step.minutes, place.sheet.kind, step.needs
    return lambda run: Job(labour.minutes(run.facts), needs.people, kind, needs.above_c, needs.dry)


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
    return ", ".join(f"{name.replace('_', ' ')} {value}" for name, value in values.items() if name not in _FILLED_IN)


def _say_missing(run: Run, place: Place, given: Mapping[str, Given], missing: list[str]) -> None:
    for name in missing:
        source = given.get(name)
        fact = name if source is None else source.name if source.of == "fact" else f"{source.step}.{source.name}"
        run.lack(place.step, fact)
