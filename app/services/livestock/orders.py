"""Orders of an authority that are in force: switches that the household throws, with their dates."""

from collections.abc import Mapping
from typing import NamedTuple

from app.rules.facts import Entry
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.ticks import in_force
from app.services.livestock.groups import LAYERS, date_of
from app.services.what_there_is import is_over
from app.sheets.livestock_law import Order, orders

HOUSING, ZONE = "housing-order", "movement-order"
SHEETS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    HOUSING: ("housing of birds", LAYERS), ZONE: ("bluetongue zone", ("cattle", "sheep", "goat")),
}  # fmt: skip
"""The sheets of orders: which one of livestock-law.toml each is, and whom it touches."""


class InForce(NamedTuple):
    """An order that holds today: its entry, whom it touches, since and until when (None: not lifted), and the law.

    ``ours`` is whether the household said that it touches theirs; None where that was not read yet.
    """

    entry: Entry
    species: tuple[str, ...]
    first: Day
    last: Day | None
    ours: bool | None
    law: Order


def orders_in_force(live: Live, today: Day) -> list[InForce]:
    """The orders that hold on a day, without those that do not touch ours.

    Source: each order's own, in livestock-law.toml.
    """
    known = {one.what: one for one in orders()}
    found = []
    for laid in list(live.laid.values()):
        entry = laid.entry
        if entry.sheet not in SHEETS or entry.struck or not entry.sure or is_over(entry, today):
            continue
        what, species = SHEETS[entry.sheet]
        lifted = entry.facts.get("lifted")
        last = lifted if isinstance(lifted, int) and not isinstance(lifted, bool) else None
        if not date_of(entry) <= today <= (today if last is None else last):
            continue
        ours = _ours(live, entry) if entry.sheet == HOUSING else True
        if ours is not False:
            found.append(InForce(entry, species, date_of(entry), last, ours, known[what]))
    return sorted(found, key=lambda one: (one.first, one.entry.id))


def _ours(live: Live, entry: Entry) -> bool | None:
    """What was said of whether an order touches our animals, the latest; None where nothing was."""
    ticks = in_force(live.facts.ticks.get(entry.id, ()))
    said = [tick.measures.get("ours") for tick in ticks if split_key(tick.key).step == "ask" and tick.kind == "done"]
    return next((one for one in reversed(said) if isinstance(one, bool)), None)
