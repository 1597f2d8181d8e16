"""The rounds: the standing morning and evening work, one tick each, whatever animals they are walked for."""

from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import Conflict, NotFound
from app.records import store
from app.records.store import StandingRow
from app.records.values import moment_text
from app.rules.facts import Tick
from app.rules.keys import key, split_key
from app.rules.spans import Day
from app.rules.ticks import in_force, undone
from app.services.book import Book
from app.services.hours import walked
from app.services.memory import is_round_key

WALK = "-"
"""The entry in the key of a whole round, which no entry can be called."""

PARTS = ("morning", "evening")


class Walk(NamedTuple):
    """A morning's or an evening's round: its lines, its minutes, and the tick that says it was walked, or ""."""

    part: str
    day: Day
    key: str
    lines: tuple[StandingRow, ...]
    minutes: int
    tick_id: str
    times: int

    @property
    def done(self) -> bool:
        """Whether it was walked."""
        return bool(self.tick_id)


def label(day: Day) -> int:
    """A day as the label of a round's key: YYYYMMDD (ISO 8601-1:2019, basic format)."""
    return int(f"{date.fromordinal(day):%Y%m%d}")


def is_walk(text: str) -> bool:
    """Whether a key is that of a whole round."""
    return text.startswith(f"{WALK}.")


def walks(book: Book, session: Session, day: Day) -> list[Walk]:
    """The rounds of a day, morning first."""
    standing = [row for row in store.standing_rows(session, day, day) if walked(row, day)]
    ticks = [told.tick for told in store.ticks_on(session, day, day) if is_round_key(told.tick.key)]
    return [walk for part in PARTS if (walk := _walk(part, day, standing, ticks)) is not None]


def _walk(part: str, day: Day, standing: list[StandingRow], ticks: list[Tick]) -> Walk | None:
    lines = tuple(row for row in standing if row.part == part)
    if not lines:
        return None
    keys = {key(row.entry, row.step, (label(day),)) for row in lines}
    # Eggs counted on the way say that they were counted, not that the round was walked.
    mine = [t for t in ticks if t.key in keys and not t.measures]
    gone = undone(ticks)
    lead = [t for t in in_force(mine) if not t.tied_to and t.id not in gone]
    said = sum(not t.tied_to for t in mine)
    minutes = sum(row.minutes_a_day for row in lines)
    return Walk(part, day, key(WALK, part, (label(day),)), lines, minutes, lead[0].id if lead else "", said)


def walk_of(book: Book, session: Session, text: str) -> Walk:
    """The round that a key names.

    Raises: NotFound.
    """
    try:
        parts = split_key(text)
        day = date.fromisoformat(str(parts.label[0])).toordinal()
    except (ValueError, IndexError):
        raise NotFound("There is no such round.") from None
    found = next((walk for walk in walks(book, session, day) if walk.part == parts.step), None)
    if found is None:
        raise NotFound("There is no such round on that day.")
    return found


def tick_round(book: Book, text: str, tick_id: str, today: Day, person: int | None = None) -> Walk:
    """The round was walked: one tick, and one tied to it for every other thing done on the way.

    Raises: NotFound when there is no such round; Conflict for a day to come.
    """
    with book.writing() as session:
        walk = walk_of(book, session, text)
        if walk.day > today:
            raise Conflict("That day has not come yet.")
        at = moment_text(book.now())
        if not walk.done:
            for n, row in enumerate(walk.lines):
                name = key(row.entry, row.step, (label(walk.day),))
                ident, tied = (f"{tick_id}+{name}", tick_id) if n else (tick_id, "")
                store.add_tick(session, Tick(ident, name, "done", walk.day, at, tied_to=tied), person=person)
            book.replan(session, (), today)
        return walk_of(book, session, text)
