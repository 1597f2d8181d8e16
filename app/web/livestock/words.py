"""Animals in words: species, kinds of loss, days of law, counts."""

from collections.abc import Iterable, Mapping
from datetime import date
from urllib.parse import quote

from app.rules.spans import Day
from app.services.livestock.held import Held
from app.web.words import SP, day, listed, weekday

SPECIES: Mapping[str, str] = {
    "cattle": "Cattle", "sheep": "Sheep", "goat": "Goats", "pig": "Pigs", "hen": "Hens", "duck": "Ducks",
    "goose": "Geese", "turkey": "Turkeys", "quail": "Quail", "guinea fowl": "Guinea fowl", "rabbit": "Rabbits",
    "bees": "Bees",
}  # fmt: skip
KINDS: Mapping[str, str] = {
    "died": "Died", "predator": "Taken by a fox, a dog or a bird", "put down": "Put down, since it suffered",
    "killed": "Killed for the table", "sold": "Sold", "given": "Given away", "left": "Left alive, lent or moved",
    "moved": "Moved to another group here", "born": "Born or hatched", "joined": "Came to them",
    "counted": "Counted: so many are here",
}  # fmt: skip
"""What can be told of a count, in the order in which it is offered."""
SAID: Mapping[str, str] = {
    **KINDS, "began": "Began with", "came": "Came", "predator": "Taken", "moved": "Moved", "counted": "Counted",
    "left": "Left alive",
}  # fmt: skip
HOLDING = "Holding number and name"


def href(entry_id: str) -> str:
    """A group's page."""
    return f"/livestock/{quote(entry_id, safe='')}"


def species(name: str) -> str:
    """A species as a heading."""
    return SPECIES.get(name, name.capitalize() or "Others")


def on(at: Day, today: date) -> str:
    """A day in words."""
    return day(date.fromordinal(at), today)


def until(last: Day | None, today: date) -> str:
    """Until when something is barred; what has no end yet says what is wanted."""
    if last is None:
        return "until its withdrawal figure is said: ask the vet"
    return f"until {weekday(date.fromordinal(last), today)}, that day included"


def held_says(rows: Iterable[Held], last: Day | None, today: date) -> str:
    """What of a group is barred, plainly."""
    acts = {act for one in rows for act in one.acts}
    if "eat" in acts or "sell" in acts:
        what = "Nothing of theirs is eaten or sold, nor are they killed for food,"
    else:
        what = "They are not killed for food"
    return f"{what} {until(last, today)}."


def because(rows: Iterable[Held]) -> str:
    """Of which treatments that comes."""
    names = dict.fromkeys(one.by.name for one in rows if one.by is not None and one.by.id != one.group.id)
    return listed(names)


def hours(value: float) -> str:
    """Hours of milk."""
    return f"{value:g}{SP}h"
