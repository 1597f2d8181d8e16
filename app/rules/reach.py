"""How far the steps of a sheet reach: who follows whom, what waits for an answer, how far ahead one must look.

All of it is read off the sheet once, and knows no entry and no day.
"""

from typing import Any

from app.rules.moment import Moment, StepDay
from app.rules.sheet import Sheet
from app.rules.spans import Span, length_in_days
from app.rules.step import Step


def idle(sheet: Sheet) -> set[str]:
    """The steps that follow only from an answer, and those reckoned from them: nothing while nothing is said."""
    found: set[str] = set()
    for step in sheet.steps:
        when = step.when
        asked = when is not None and not when.otherwise and any(given.of != "fact" for given, _ in when.tests)
        if asked or named_in(step.start) & found:
            found.add(step.id)
    return found


def named_in(moment: Moment | None) -> set[str]:
    """The steps in the present cycle that a moment is reckoned from."""
    if isinstance(moment, StepDay):
        return set() if moment.which else {moment.step}
    inner = [getattr(moment, name, None) for name in ("since", "before", "otherwise")]
    return set().union(*(named_in(each) for each in inner if each is not None))


def _behind(moment: Moment | None) -> set[str]:
    """The steps that a moment comes after: those it is reckoned from, save what it is reckoned back from.

    The booking eight weeks before a killing says nothing of the killing's being done.
    """
    if moment is None or min(moment.by.months, moment.by.days) < 0:
        return set()
    if isinstance(moment, StepDay):
        return named_in(moment)
    return set().union(*(_behind(getattr(moment, name, None)) for name in ("since", "otherwise")))


def followers(sheet: Sheet, step: str) -> tuple[tuple[str, int], ...]:
    """The steps that come only after this one, with the depth of the cycle they share with it."""
    held = {target for target, back in sheet.back if back == step}
    needs = {each.id: _needs(sheet, each) for each in sheet.steps if each.id not in held}
    found = {step}
    while more := {name for name, before in needs.items() if before & found} - found:
        found |= more
    mine = len(sheet.scopes.get(step, ()))
    return tuple(sorted((name, min(mine, len(sheet.scopes.get(name, ())))) for name in found - {step}))


def _needs(sheet: Sheet, step: Step) -> set[str]:
    """The steps that must be behind a step: those it comes after in time, save what is reckoned back from it."""
    back = {held for target, held in sheet.back if target == step.id}
    return _behind(step.start) | {after.step for after in step.after if after.step not in back}


def run_out(sheet: Sheet) -> set[str]:
    """The repeats that must be laid to their end, since some step asks for their last one."""
    named = {after.step for step in sheet.steps for after in step.after if after.which == "last"}
    for step in sheet.steps:
        for moment in (step.start, step.opens, step.closes, step.again.until if step.again else None):
            named |= _last_of(moment)
    for rule in sheet.bars:
        named |= _last_of(rule.opens) | _last_of(rule.closes)
    return {head for name in named for head in sheet.scopes.get(name, ())}


def _last_of(moment: Any) -> set[str]:
    if moment is None or isinstance(moment, Span):
        return set()
    own = {moment.step} if isinstance(moment, StepDay) and moment.which == "last" else set()
    inner = [getattr(moment, name, None) for name in ("since", "before", "otherwise")]
    return own.union(*(_last_of(each) for each in inner if each is not None))


def margin(sheet: Sheet) -> int:
    """How far ahead something later can reach back: the sum of every lead on the sheet, and a year where one counts."""
    days = 31
    for step in sheet.steps:
        for moment in (step.start, step.opens, step.closes):
            days += _lead(moment)
        if step.again and step.again.counts:
            days += 732  # what answers a painting may be planned up to a season after the painting itself
    return days


def _lead(moment: Any) -> int:
    if moment is None:
        return 0
    if isinstance(moment, Span):
        return max(0, -length_in_days(moment))
    days = max(0, -length_in_days(moment.by))
    if getattr(moment, "before", None) is not None:
        days += 400
    return days + sum(_lead(getattr(moment, name, None)) for name in ("since", "before", "otherwise"))
