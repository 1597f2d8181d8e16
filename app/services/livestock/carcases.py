"""What animals for the table give: live weight, carcase and packs to expect, and what came."""

from collections.abc import Mapping, Sequence
from math import inf
from typing import NamedTuple

from app.rules.facts import Entry, Tick
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.made import with_defaults
from app.rules.spans import Day
from app.rules.tasks import Laid
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.livestock.groups import head_of
from app.sheets.livestock_tables import dressings, weights
from app.trade.livestock.weights import weight_at_kg

DRESSED_AS: Mapping[str, str] = {
    "weaners": "pig", "abattoir-pigs": "pig", "store-lambs": "lamb", "abattoir-sheep": "lamb", "calf": "beef",
    "abattoir-cattle": "beef", "abattoir-goats": "goat", "kids": "goat", "table-birds": "table hybrid",
    "ducklings": "duck", "geese": "goose", "turkey-poults": "turkey", "rabbits": "rabbit",
}  # fmt: skip
"""The row of species.toml by which a sheet's animals are dressed."""
GROWN: Mapping[str, str] = {
    "table-birds": "table hybrid", "ducklings": "Pekin duck", "geese": "Embden goose on range",
    "turkey-poults": "turkey, female", "rabbits": "rabbit",
}  # fmt: skip
"""The row of weights by age."""
LOOK_BACK_DAYS = 400


class Carcase(NamedTuple):
    """Animals for the table: live weight of all, carcase (low, best, high) and packs in kg; what came, if it has."""

    name: str
    entry: str
    head: int
    on: Day | None
    live_kg: float
    carcase_kg: tuple[float, float, float]
    packed_kg: float
    came_kg: float | None
    came_what: str
    source: str


def carcase(book: Book, live: Live, laid: Laid, today: Day) -> Carcase | None:
    """What the animals of an entry give when they are killed; None where it is of none, or long ago.

    A day for some of a group takes no more of them than are left.
    """
    entry, sheet = laid.entry, book.library.sheets.get(laid.entry.sheet)
    kind = DRESSED_AS.get(entry.sheet)
    kill = next((task for task in laid.tasks if task.step == "kill"), None)
    if sheet is None or kind is None or kill is None or entry.struck:
        return None
    on = kill.done if kill.done is not None else kill.best
    if on is not None and on < today - LOOK_BACK_DAYS:
        return None
    entry, ticks = with_defaults(entry, sheet), live.facts.ticks.get(entry.id, ())
    told = _number(entry.facts.get("head"), 1)
    head = told if kill.done is not None else min(told, _left(live, entry, today))
    weight = live_kg(entry, told, ticks, today if on is None else on)
    if weight is None or head <= 0:
        return None
    kg = weight * head / told
    row = dressings()[kind]
    low, best, high = (kg * part / 100 for part in (row.low_percent, row.best_percent, row.high_percent))
    came, what = _came(ticks)
    return Carcase(
        entry.name, entry.id, round(head), on, kg, (low, best, high), best * row.packed_percent / 100, came, what,
        row.source,
    )  # fmt: skip


def live_kg(entry: Entry, head: float, ticks: Sequence[Tick], on: Day) -> float | None:
    """Live weight of all of them on the day: as put down, as they are to be killed, or by their age."""
    facts = entry.facts
    if "live_kg" in facts:
        return _number(facts["live_kg"], 0) or None
    if "target_kg" in facts:
        latest = max(
            (_number(tick.measures.get("kg"), 0) for tick in in_force(ticks) if split_key(tick.key).step == "weigh"),
            default=0.0,
        )
        return head * max(_number(facts["target_kg"], 0), latest)
    kind = GROWN.get(entry.sheet)
    came = facts.get("date")
    if kind is None or not isinstance(came, int):
        return None
    rows = weights()[kind].rows
    weeks = (on - came + _number(facts.get("age_d"), 0)) / 7
    return head * weight_at_kg(min(max(weeks, rows[0][0]), rows[-1][0]), rows)


def _came(ticks: Sequence[Tick]) -> tuple[float | None, str]:
    """What was weighed of it: cold carcases, or birds ready for the oven."""
    for step, name, what in (("kill", "carcase_kg", "carcases"), ("pack", "kg", "oven-ready")):
        for tick in reversed(in_force(ticks)):
            value = tick.measures.get(name)
            if split_key(tick.key).step == step and isinstance(value, int | float):
                return float(value), what
    return None, ""


def _left(live: Live, entry: Entry, today: Day) -> float:
    """How many are left of an entry's own, or of the group that it is for; no bound where that is not here."""
    whose = str(entry.facts.get("for", ""))
    group = live.laid.get(whose or entry.id)
    if group is None:
        return inf
    gone = group.entry.ends is not None and group.entry.ends <= today
    return 0 if gone else head_of(group.entry)


def _number(value: object, otherwise: float) -> float:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else otherwise
