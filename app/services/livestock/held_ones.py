"""Single animals that were treated by tag or name: who they are, and until when each is held while its group is not."""

from collections.abc import Iterable
from typing import NamedTuple

from app.rules.facts import Entry
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.tasks import Bar
from app.services.livestock.groups import Group

SOME, MIXED = "medicine-one", "medicine-one-mixed"
"""The sheets of a treatment of some of a group: their eggs or milk kept apart from the others', or not."""
BETWEEN = "; "


class HeldOnes(NamedTuple):
    """Some of a group, told by ``names``, and the bars that a treatment lays on them alone: on killing for food
    (``meat``), and on eggs and milk where those are kept apart."""

    group: Group
    names: tuple[str, ...]
    by: Entry
    meat: tuple[Bar, ...]
    produce: tuple[Bar, ...]


def held_ones(live: Live, groups: Iterable[Group], first: Day, last: Day | None = None) -> list[HeldOnes]:
    """Every treatment of some of these groups that holds them on a day, or on any day between two.

    Source: each bar's own.
    """
    last = first if last is None else last
    wanted = {group.entry.id: group for group in groups}
    bars: dict[str, list[Bar]] = {}
    for bar in live.law():
        if bar.on == "entry" and bar.first <= last and (bar.last is None or bar.last >= first):
            bars.setdefault(bar.by, []).append(bar)
    found = []
    for laid in list(live.laid.values()):
        entry = laid.entry
        group = wanted.get(str(entry.facts.get("for", ""))) if entry.sheet in (SOME, MIXED) else None
        mine = bars.get(entry.id, [])
        if group is None or not mine:
            continue
        names = tuple(name.strip() for name in str(entry.facts.get("animals", "")).split(";") if name.strip())
        meat, produce = ([bar for bar in mine if act in bar.acts] for act in ("slaughter", "eat"))
        found.append(HeldOnes(group, names or (entry.name,), entry, tuple(meat), tuple(produce)))
    return found


def names_held(ones: Iterable[HeldOnes]) -> set[str]:
    """The single animals that some treatments keep from the table, each once, by name in small letters."""
    return {name.casefold() for one in ones if one.meat for name in one.names}


def number_held(ones: Iterable[HeldOnes]) -> int:
    """How many single animals some treatments keep from the table."""
    return len(names_held(ones))
