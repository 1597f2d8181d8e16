"""Single animals that were treated by tag or name: who they are, and until when each is held while its group is not."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records.store import AnimalRow, animals
from app.rules.facts import Entry
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.tasks import Bar
from app.services.livestock.groups import Group
from app.services.livestock.singles import is_meant

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


def held_ones(session: Session, live: Live, groups: Iterable[Group], on: Day) -> list[HeldOnes]:
    """Every treatment of some of these groups that holds them on a day, without those that are gone by then.

    Source: each bar's own.
    """
    wanted = {group.entry.id: group for group in groups}
    rows = animals(session, wanted)
    gone = [row for row in rows if row.gone_on is not None and row.gone_on.toordinal() <= on]
    here = [row for row in rows if row not in gone]
    bars: dict[str, list[Bar]] = {}
    for bar in live.law():
        if bar.on == "entry" and bar.first <= on and (bar.last is None or bar.last >= on):
            bars.setdefault(bar.by, []).append(bar)
    found = []
    for laid in list(live.laid.values()):
        entry = laid.entry
        group = wanted.get(str(entry.facts.get("for", ""))) if entry.sheet in (SOME, MIXED) else None
        mine = bars.get(entry.id, [])
        if group is None or not mine:
            continue
        said = [name.strip() for name in str(entry.facts.get("animals", "")).split(";") if name.strip()] or [entry.name]
        names = tuple(name for name in said if _is_one(here, name) or not _is_one(gone, name))
        if not names:
            continue
        meat, produce = ([bar for bar in mine if act in bar.acts] for act in ("slaughter", "eat"))
        found.append(HeldOnes(group, names, entry, tuple(meat), tuple(produce)))
    return found


def _is_one(rows: Sequence[AnimalRow], name: str) -> bool:
    return any(is_meant(row, name) for row in rows)


def names_held(ones: Iterable[HeldOnes]) -> set[str]:
    """The single animals that some treatments keep from the table, each once, by name in small letters."""
    return {name.casefold() for one in ones if one.meat for name in one.names}


def number_held(ones: Iterable[HeldOnes]) -> int:
    """How many single animals some treatments keep from the table."""
    return len(names_held(ones))
