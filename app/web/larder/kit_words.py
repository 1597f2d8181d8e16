"""Kit and room in sentences: what is taken and the way out, a freezer that is full, hands-on time and waiting."""

from collections.abc import Sequence
from datetime import date

from app.services.larder.kit_claims import FreezerShort, KitClash
from app.services.work_of import Work
from app.web.words import SP, between, counted, day, figure, hours


def clash_words(clashes: Sequence[KitClash], today: date) -> tuple[str, ...]:
    """Clashes of kit, each with the way out."""
    said = []
    for one in clashes:
        when = between(date.fromordinal(one.first), date.fromordinal(one.last), today)
        out = (
            f"Begin it on {day(date.fromordinal(one.begin), today)}" if one.begin is not None else "Choose another way"
        )
        tail = "do one after the other" if one.first == one.last else "move that one"
        said.append(f"The {one.kit} is taken by ‘{one.other}’: {when}. {out}, or {tail}.")
    return tuple(said)


def room_words(room: FreezerShort | None) -> tuple[str, ...]:
    """A freezer without room for all of it."""
    if room is None:
        return ()
    wanted, free = figure(room.wanted_l, 0), figure(room.free_l, 0)
    return (
        f"That is more than the freezer has room for: {figure(room.kg, 1)}{SP}kg want {wanted}{SP}litres, and about"
        f" {free} are free. Freeze what fits, keep the rest another way, or use some first.",
    )


def work_words(work: Work | None) -> list[str]:
    """Hands-on time and waiting time, told apart."""
    if work is None or not work.hands_min:
        return []
    waiting = f", and {hours(60 * work.waiting_h)} of waiting while it works by itself" if work.waiting_h else ""
    after = f"; put away after {counted(work.days, 'day')}" if work.days > 0 else ""
    return [f"Hands-on {hours(work.hands_min)} in all{waiting}{after}."]
