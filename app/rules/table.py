"""Back from the table: the latest day on which a chain can be begun so that its end is there by a day.

A search over the forward planner, and no second set of rules: a start is tried, what follows is planned, and the start
is moved until what is wanted is there by the day and would not be with a day less. It rests on "begin later, nothing
sooner".
"""

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from app.rules.facts import Amendment, Entry
from app.rules.keys import key, made_id
from app.rules.plan import Planner
from app.rules.spans import Day
from app.rules.tasks import Fate, Plan, Task
from app.rules.terms import Value
from app.rules.ways_in import Goal, Link, usual_facts

ENTRY = "table"
"""The id of the entry that is tried; it is never put down under it."""
FURTHEST_DAYS = 1100
_EARLY_DAYS = 400
"""A chain is tried as seen from so long before it that nothing in it is late yet."""
_UNDATED_DAYS = 14
_NEVER = (Fate.NO_ROOM, Fate.LOST, Fate.UNLAWFUL, Fate.BARRED, Fate.PASSED_OVER)


class Dated(NamedTuple):
    """A step of the chain, dated: of the link ``at``; ``key`` stands in for its job. ``must``: more than a reminder."""

    at: int
    sheet: str
    step: str
    opens: Day
    best: Day
    closes: Day
    must: bool


class Tried(NamedTuple):
    """A chain begun on a day: the day its end is ``ready`` (None: it has none, for the ``reason``), and its steps.

    ``hopeless`` when no other day would do either: a fact was not said, or a job that never comes.
    """

    ready: Day | None
    steps: tuple[Dated, ...]
    reason: str = ""
    hopeless: bool = False


class Back(NamedTuple):
    """A chain worked back from a day.

    ``start`` is the first entry's date; ``begin_by`` the last day of the first act that cannot wait: the same, but for
    a sheet that is itself counted back from its meal. Both are None where no start of the last three years would do,
    for the ``reason``. ``ready`` is when it is there; ``late`` the steps whose windows are past; ``late_by`` how many
    days too late it is to begin, 0 while there is time; ``from_today`` when it would be there if begun today.
    """

    start: Day | None
    begin_by: Day | None
    ready: Day | None
    steps: tuple[Dated, ...]
    late: tuple[Dated, ...]
    late_by: int
    from_today: Day | None
    reason: str = ""


def back_from(
    planner: Planner,
    way: Sequence[Link],
    goal: Goal,
    day: Day,
    as_of: Day,
    facts: Mapping[str, Value] | None = None,
    guess: Day | None = None,
) -> Back:
    """A way in worked back from ``day``, as seen on ``as_of``; ``facts`` are what is known of the last link's entry.

    ``guess`` is the start of a shorter way, before which a longer one must begin.

    Source: none; bisection over `Planner.plan`.
    """
    known: dict[Day, Tried] = {}
    made = chain_entries(planner, way, day, facts)

    def tried(on: Day) -> Tried:
        if on not in known:
            known[on] = _begun(planner, way, made, on)
        return known[on]

    start = None if tried(day).hopeless else latest_start(lambda on: tried(on).ready, day, guess=guess)
    if start is None:
        return Back(
            None, None, None, (), (), 0, None, tried(day).reason or "No start of the last three years would do."
        )
    found = tried(start)
    begin = _begin_by(found, start, goal)
    late = tuple(one for one in found.steps if one.must and one.closes < as_of)
    late_by = max(0, as_of - begin)
    from_today = _from_today(tried, goal, day, as_of, late_by) if late_by else None
    return Back(start, begin, found.ready, found.steps, late, late_by, from_today)


def latest_start(
    ready: Callable[[Day], Day | None], by: Day, furthest: int = FURTHEST_DAYS, guess: Day | None = None
) -> Day | None:
    """The latest start with ``ready(start) <= by``; None when there is none within ``furthest`` days.

    What comes back is in time, and a day later is not (or is after ``by``). Where a start gives no day at all, earlier
    ones are tried by the fortnight. ``guess`` is a day that is most likely too late, from which it looks first.
    """
    on = by
    if guess is not None and guess < by:
        got = ready(guess)
        on = by if got is not None and got <= by else guess
    missed: Day | None = None
    while on >= by - furthest:
        got = ready(on)
        if got is not None and got <= by:
            break
        missed = on
        on -= _UNDATED_DAYS if got is None else got - by
    else:
        return None
    stride = 1  # what takes as long whenever it is begun is found at once: the very next day is too late
    while missed is not None and missed - on > 1:
        middle = min(on + stride, (on + missed) // 2)
        stride *= 2
        got = ready(middle)
        if got is not None and got <= by:
            on = middle
        else:
            missed = middle
    return on


def try_on(planner: Planner, way: Sequence[Link], on: Day, facts: Mapping[str, Value] | None = None) -> Tried:
    """A chain begun on a day, planned forward by itself: nobody else's room or kit is in its way."""
    return _begun(planner, way, chain_entries(planner, way, on, facts), on)


def _begun(planner: Planner, way: Sequence[Link], made: tuple[Entry, list[Amendment]], on: Day) -> Tried:
    entry, amendments = made
    early = on - _EARLY_DAYS
    entry = entry._replace(told=early, facts={**entry.facts, "date": on})
    plan = planner.plan([entry], amendments, (), early, on + FURTHEST_DAYS)
    return _read(planner, way, plan)


def chain_entries(
    planner: Planner, way: Sequence[Link], on: Day, facts: Mapping[str, Value] | None = None, ident: str = ENTRY
) -> tuple[Entry, list[Amendment]]:
    """The first entry of a chain, begun on a day, and what must be said of those that its jobs will make."""
    said = [{**link.facts, **(facts or {} if at == len(way) - 1 else {})} for at, link in enumerate(way)]
    first = way[0]
    sheet = planner.sheets[first.sheet]
    usual = usual_facts(planner.sheets, first.sheet)
    entry = Entry(ident, first.sheet, sheet.title, {**usual, **said[0], "date": on}, on)
    amendments = [Amendment(name, more) for name, more in zip(chain_ids(way, ident)[1:], said[1:], strict=True) if more]
    return entry, amendments


def chain_ids(way: Sequence[Link], ident: str = ENTRY) -> list[str]:
    """The ids of a chain's entries: the first, and those that jobs make one of another."""
    ids = [ident]
    for link in way[:-1]:
        ids.append(made_id(key(ids[-1], link.step), link.name))
    return ids


def _read(planner: Planner, way: Sequence[Link], plan: Plan) -> Tried:
    ids = chain_ids(way)
    steps: list[Dated] = []
    for at, (name, link) in enumerate(zip(ids, way, strict=True)):
        laid = plan.laid.get(name)
        if laid is None:
            return Tried(None, tuple(steps), "The job that would make it has no day.", True)
        steps += _first_of_each(planner, at, link, laid.tasks)
        lack = next((one for one in laid.lacks if _must(planner, link.sheet, one.step)), None)
        if lack is not None:
            return Tried(None, tuple(steps), lack.reason or f"‘{lack.fact}’ was not said.", not lack.reason)
    end = next((task for task in plan.laid[ids[-1]].tasks if task.step == way[-1].step), None)
    if end is None or end.best is None or end.fate in _NEVER:
        return Tried(None, tuple(steps), "Its last step has no day.")
    ready = end.best
    kept = [one for one in steps if one.best <= ready and _leads_on(planner, way, one, steps)]
    return Tried(ready, tuple(sorted(kept, key=lambda one: (one.best, one.at, one.opens, one.closes))))


def _leads_on(planner: Planner, way: Sequence[Link], one: Dated, steps: Sequence[Dated]) -> bool:
    """Whether a step is of this chain: not after the one that makes the next entry, and no maker of another."""
    link = way[one.at]
    if one.step == link.step:
        return True
    maker = next((each for each in steps if (each.at, each.step) == (one.at, link.step)), None)
    makes = next(each for each in planner.sheets[link.sheet].steps if each.id == one.step).makes
    return maker is not None and one.best <= maker.best and not any(make.kind == "entry" for make in makes)


def _first_of_each(planner: Planner, at: int, link: Link, tasks: Sequence[Task]) -> list[Dated]:
    found: dict[str, Dated] = {}
    for task in tasks:
        if task.opens is None or task.best is None or task.closes is None or task.step in found:
            continue
        must = _must(planner, link.sheet, task.step)
        found[task.step] = Dated(at, link.sheet, task.step, task.opens, task.best, task.closes, must)
    return list(found.values())


def _must(planner: Planner, sheet_id: str, step_id: str) -> bool:
    step = next((one for one in planner.sheets[sheet_id].steps if one.id == step_id), None)
    return step is not None and step.missed != "passes" and step.round is None


def _begin_by(found: Tried, start: Day, goal: Goal) -> Day:
    """The date itself; of what is counted back from its own day, the end of the first act that cannot wait."""
    if not goal.meal and found.ready != start:
        return start
    return min((one.closes for one in found.steps if one.must), default=start)


def _from_today(tried: Callable[[Day], Tried], goal: Goal, day: Day, as_of: Day, late_by: int) -> Day | None:
    """When it would be there if it were begun today."""
    if not goal.meal:
        return tried(as_of).ready
    for on in range(day + late_by, day + late_by + 60):  # a meal's day, put off until its first act is still to come
        found = tried(on)
        if found.ready is not None and _begin_by(found, on, goal) >= as_of:
            return found.ready
    return None
