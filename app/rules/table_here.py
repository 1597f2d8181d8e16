"""Back from the table, from what is here: what stands on the holding already, planned on to the same end."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from app.rules.facts import Amendment, Entry, Tick
from app.rules.plan import Planner
from app.rules.spans import Day
from app.rules.table import FURTHEST_DAYS, chain_ids
from app.rules.terms import Value
from app.rules.touch import root
from app.rules.ways_in import Link


class Here(NamedTuple):
    """An entry that stands already, and when its end is ``ready``; of ``say``, which it makes, more must be said."""

    entry: Entry
    ready: Day
    say: str = ""


def from_here(
    planner: Planner, way: Sequence[Link], entries: Iterable[Entry], amendments: Mapping[str, Amendment],
    ticks: Mapping[str, Sequence[Tick]], as_of: Day, facts: Mapping[str, Value] | None = None,
) -> list[Here]:  # fmt: skip
    """Of the entries that stand, those from which a chain goes on to its end, planned forward as they are today.

    ``amendments`` by entry, ``ticks`` by entry. What a chain needs said of entries still to be made is taken as said.
    Source: none; `Planner.plan` of each with its own ticks.
    """
    found: list[Here] = []
    for entry in entries:
        if entry.sheet != way[0].sheet or entry.struck or entry.made_by or (entry.ends or as_of) < as_of:
            continue
        one = _on(planner, way, entry, amendments, ticks, as_of, facts)
        if one is not None:
            found.append(one)
    return sorted(found, key=lambda one: (one.ready, one.entry.id))


def _on(
    planner: Planner, way: Sequence[Link], entry: Entry, amendments: Mapping[str, Amendment],
    ticks: Mapping[str, Sequence[Tick]], as_of: Day, facts: Mapping[str, Value] | None,
) -> Here | None:  # fmt: skip
    ids = chain_ids(way, entry.id)
    mine = {name: one for name, one in amendments.items() if root(name) == entry.id}
    say = ""
    for name, link in zip(ids[1:], way[1:], strict=True):
        before = mine.get(name, Amendment(name))
        more = {**link.facts, **(facts or {} if link is way[-1] else {})}
        if any(before.facts.get(fact) != value for fact, value in link.facts.items()) and not say:
            say = name
        mine[name] = before._replace(facts={**more, **before.facts, **link.facts})
    said = [tick for name, some in ticks.items() if root(name) == entry.id for tick in some]
    plan = planner.plan([entry], mine.values(), said, as_of, as_of + FURTHEST_DAYS)
    end = plan.laid.get(ids[-1])
    task = next((one for one in end.tasks if one.step == way[-1].step), None) if end is not None else None
    if task is None or task.best is None or task.done is not None:
        return None
    return Here(entry, max(task.best, as_of), say)
