"""Weights of a group that were typed: they sharpen the day on which it is ready."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import OutOfRange
from app.rules.keys import split_key
from app.rules.spans import Day
from app.rules.state import state
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.livestock.groups import Group, date_of
from app.services.what_there_is import OPEN
from app.trade.livestock.growth import gain_kg_a_day


class Weights(NamedTuple):
    """Weighings in order of days, the gain they show in kg a day (None: too few), and the key of the next weighing."""

    weighed: tuple[tuple[Day, float], ...] = ()
    gain_kg: float | None = None
    key: str = ""


def weights(book: Book, session: Session, group: Group, today: Day) -> Weights:
    """What was weighed of a group on the jobs of its sheet that ask a weight again and again."""
    live = book.live(session, today)
    entry = group.entry
    steps = {step.id for step in group.sheet.steps if step.id == "weigh"}
    if not steps:
        return Weights()
    found = []
    first = entry.facts.get("kg")
    if isinstance(first, int | float) and date_of(entry) <= today:
        found.append((date_of(entry), float(first)))
    for tick in in_force(live.facts.ticks.get(entry.id, ())):
        kg = tick.measures.get("kg")
        if tick.kind == "done" and split_key(tick.key).step in steps and isinstance(kg, int | float):
            found.append((tick.on, float(kg)))
    found.sort()
    open_jobs = [task for task in live.laid[entry.id].tasks if task.step in steps and state(task, today) in OPEN]
    key = min(((task.closes or 10**8, task.key) for task in open_jobs), default=(0, ""))[1]
    gain = None
    if len(found) > 1:
        start = found[0][0]
        try:
            gain = gain_kg_a_day(found[0][1], [(on - start, kg) for on, kg in found[1:] if on > start])
        except OutOfRange:  # all of them on the day they came
            gain = None
    return Weights(tuple(found), gain, key)
