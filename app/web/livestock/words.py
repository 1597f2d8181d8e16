"""Animals in words: species, kinds of loss, days of law, counts."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from urllib.parse import quote

from app.rules.spans import Day
from app.services.livestock.groups import LAYERS
from app.services.livestock.held import Held, until_of
from app.services.livestock.held_ones import HeldOnes
from app.services.livestock.orders import ZONE, InForce
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
GIVES: Mapping[str, str] = {**dict.fromkeys(LAYERS, "eggs"), "cattle": "milk", "goat": "milk"}
"""What is taken of them while they live."""
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


def held_says(rows: Sequence[Held], of: str, today: date) -> str:
    """What of a group of a species is barred, plainly: its meat, and what it gives, each until its own day."""
    meat, gives = ([one for one in rows if act in one.acts] for act in ("slaughter", "eat"))
    ends = [until_of(some) for some in (meat, gives)]
    if meat and gives and ends[0] == ends[1]:
        return f"Nothing of theirs is eaten or sold, nor are they killed for food, {until(ends[0], today)}."
    says = [f"They are not killed for food {until(ends[0], today)}."] if meat else []
    if gives:
        says.append(f"Their {GIVES.get(of, 'milk')} may be neither {used(of)} nor sold {until(ends[1], today)}.")
    return " ".join(says)


def ones_say(one: HeldOnes, today: date) -> str:
    """Of single animals what is barred, and until when."""
    their = "its" if len(one.names) == 1 else "their"
    gives, eaten = GIVES.get(one.group.species, ""), used(one.group.species)
    meat, produce = until_of(one.meat), until_of(one.produce)
    if one.meat and one.produce and meat == produce:
        also = f", nor {their} {gives} {eaten} or sold," if gives else ""
        return f"not killed for food{also} {until(meat, today)}."
    parts = [f"not killed for food {until(meat, today)}"] if one.meat else []
    parts += [f"{their} {gives or 'milk'} neither {eaten} nor sold {until(produce, today)}"] if one.produce else []
    return f"{'; '.join(parts)}."


def order_says(one: InForce, today: date) -> str:
    """An order that is in force, and what it asks; its terms are its own."""
    since = f"in force since {on(one.first, today)}"
    if one.last is not None:
        since += f", lifted on {on(one.last, today)}"
    if one.entry.sheet == ZONE:
        asks = "No cattle, sheep or goats leave without your authority’s licence"
    else:
        asks = "Your birds are kept in" if one.ours else "Read whether it touches your birds, and house them if it does"
    return f"{asks}: {since}. {one.law.says}"


def used(of: str) -> str:
    """What is done with what a species gives: eggs are eaten, milk is drunk."""
    return "eaten" if of in LAYERS else "drunk"


def capital(text: str) -> str:
    """A sentence as it begins."""
    return f"{text[:1].upper()}{text[1:]}"


def because(rows: Iterable[Held]) -> str:
    """Of which treatments that comes."""
    names = dict.fromkeys(one.by.name for one in rows if one.by is not None and one.by.id != one.group.id)
    return listed(names)


def hours(value: float) -> str:
    """Hours of milk."""
    return f"{value:g}{SP}h"
