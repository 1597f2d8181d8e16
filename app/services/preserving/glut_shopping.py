"""What a way of keeping a glut uses up, set against what the larder has of it."""

from collections.abc import Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.rules.facts import Entry
from app.rules.sheet import Sheet
from app.services.garden.stands import said_or_usual

BASE_UNITS = {"kg": ("g", 1000.0), "l": ("ml", 1000.0)}
JARS = ("new lids", "jars and lids", "jars", "lids")


class Bought(NamedTuple):
    """Something that a way uses up, and how much of it the larder has, in the same unit (None: none is put down)."""

    what: str
    amount: float
    unit: str
    have: float | None


def in_the_larder(session: Session) -> dict[tuple[str, str], float]:
    """What there is, by name and unit, wherever it lies: weights in g, volumes in ml."""
    found: dict[tuple[str, str], float] = {}
    for _, what, unit, _, left in store.batch_sums(session):
        base, each = BASE_UNITS.get(unit, (unit, 1.0))
        found[what.casefold(), base] = found.get((what.casefold(), base), 0.0) + each * left
    return found


def to_buy(sheet: Sheet, entry: Entry, have: Mapping[tuple[str, str], float], jarred: bool) -> tuple[Bought, ...]:
    """What the sheet's jobs use up, in all, against what the larder has of that name.

    ``jarred`` ways count their jars themselves.
    """
    sums: dict[tuple[str, str], float] = {}
    facts = said_or_usual(entry, sheet).facts
    for step in sheet.steps:
        for use in step.uses:
            each = facts.get(use.per) if use.per else 1.0
            if isinstance(each, int | float) and not (jarred and use.what in JARS):
                sums[use.what, use.unit] = sums.get((use.what, use.unit), 0.0) + use.amount * float(each)
    found = []
    for (what, unit), amount in sums.items():
        base, each = BASE_UNITS.get(unit, (unit, 1.0))
        there = have.get((what.casefold(), base))
        found.append(Bought(what, amount, unit, None if there is None else there / each))
    return tuple(found)
