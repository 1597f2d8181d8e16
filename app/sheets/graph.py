"""What each step rests on: which other steps, through which of its dates."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from app.rules.moment import Mark, Moment, Said, StepDay, TickDay, Work, YearDay
from app.rules.spans import Span, length_in_days
from app.rules.step import Step
from app.sheets.moments import parts

Steps = Mapping[str, Step]


class Ref(NamedTuple):
    """One step named by another. ``hard``: its planned day is needed; otherwise only its ticks are read."""

    step: str
    which: str
    hard: bool
    key: str


def moments(step: Step) -> Iterator[tuple[str, Moment]]:
    """Every date of a step, by its key."""
    yield "from", step.start
    for key, edge in (("opens", step.opens), ("closes", step.closes)):
        if edge is not None and not isinstance(edge, Span):
            yield key, edge
    if step.again and step.again.until:
        yield "again.until", step.again.until
    if step.again and step.again.last and step.again.last is not step.start:
        yield "again.last", step.again.last
    if step.round and step.round.until:
        yield "round.until", step.round.until


def dated_by(step: Step) -> Iterator[Ref]:
    """The steps that a step's dates name."""
    for key, moment in moments(step):
        yield from named_in(key, moment)


def named_in(key: str, moment: Moment) -> Iterator[Ref]:
    """The steps that one moment names."""
    for part in parts(moment):
        if isinstance(part, StepDay):
            yield Ref(part.step, part.which, True, key)
        elif isinstance(part, Said | TickDay):
            yield Ref(part.step, "", False, key)


def refs(step: Step, back: frozenset[tuple[str, str]]) -> Iterator[Ref]:
    """The steps that a step names: by its dates, and as what must come first, but for what is reckoned back from it."""
    yield from dated_by(step)
    for one in step.after:
        yield Ref(one.step, one.which, (step.id, one.step) not in back, "after")


def back_pairs(steps: Steps) -> dict[tuple[str, str], int | None]:
    """Each ``(target, step)`` where ``step`` is reckoned back from ``target``, which must also come after it.

    With the lead in days, None where a computation gives it.
    """
    found: dict[tuple[str, str], int | None] = {}
    for step in steps.values():
        for one in step.after:
            lead = _lead(steps, one.step, step.id)
            if lead is not _NOT_BACK:
                found[step.id, one.step] = None if isinstance(lead, str) else lead
    return found


_NOT_BACK = "not back"


def _lead(steps: Steps, name: str, target: str) -> int | str | None:
    """By how many days ``name`` is reckoned back from ``target``, following what each step is reckoned from."""
    total, known, seen = 0, True, set[str]()
    at = name
    while at not in seen and at in steps:
        seen.add(at)
        link = _link(steps[at].start)
        if link is None:
            return _NOT_BACK
        at, by = link
        known = known and by is not None
        total += by or 0
        if at == target:
            if not known:
                return None
            return -total if total < 0 else _NOT_BACK
    return _NOT_BACK


def _link(moment: Moment | None) -> tuple[str, int | None] | None:
    """The step that a moment is reckoned from, and by how many days (None: counted back by an unknown number)."""
    if isinstance(moment, StepDay):
        return None if moment.which else (moment.step, length_in_days(moment.by))
    if isinstance(moment, Said):
        return _link(moment.otherwise)
    if isinstance(moment, YearDay | Mark | Work) and moment.before is not None:
        link = _link(moment.before)
        return None if link is None else (link[0], None)
    return None


def circles(needs: Mapping[str, set[str]]) -> list[list[str]]:
    """The circles in a graph of needs, each once, as the ids passed until the first comes round again."""
    done: set[str] = set()
    found: list[list[str]] = []
    for first in sorted(needs):
        path: list[str] = []
        _walk(first, needs, path, done, found)
    return found


def _walk(at: str, needs: Mapping[str, set[str]], path: list[str], done: set[str], found: list[list[str]]) -> None:
    if at in path:
        found.append([*path[path.index(at) :], at])
        return
    if at in done:
        return
    path.append(at)
    for other in sorted(needs.get(at, ())):
        _walk(other, needs, path, done, found)
    path.pop()
    done.add(at)
