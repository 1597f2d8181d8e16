"""Rounds: the standing work of every day. No tasks: a first day, a last day and minutes."""

from app.rules.moments import day_of
from app.rules.place import Place
from app.rules.ready import Ready
from app.rules.run import Run
from app.rules.tasks import Standing


def lay_rounds(run: Run, ready: Ready) -> tuple[Standing, ...]:
    """The rounds of an entry, from their first day to their last or to the entry's end.

    Source: the sheet's own minutes.
    """
    found = []
    for one in ready.steps:
        rule = one.step.round
        if rule is None or (one.when is not None and not one.when(run)):
            continue
        first = one.base(run)
        if first is None:
            continue
        until = day_of(rule.until, Place(ready.sheet, one.step.id))(run) if rule.until else None
        ends = [day for day in (until, run.entry.ends) if day is not None]
        minutes = one.step.minutes.minutes(run.facts)
        found.append(Standing(run.entry.id, one.step.id, first, min(ends, default=None), minutes, rule.at))
    return tuple(found)
