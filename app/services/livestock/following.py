"""What follows of itself when animals leave or join others: a movement to report, a withdrawal that goes along. Taken
back, it is taken out with what was told."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.values import moment_text
from app.rules.facts import Tick
from app.rules.keys import key
from app.rules.spans import Day
from app.rules.terms import Value
from app.services.book import Book
from app.services.entries import add, date_facts
from app.services.livestock.groups import Group
from app.services.livestock.treat import SHEET
from app.services.preview import Draft
from app.services.put_once import once_id
from app.services.ticking import NO_WORDS, say

ALIVE = ("sold", "given", "left")
"""The kinds in which animals leave alive: a movement."""
LEAVE = {"pig": "pigs-leave", "sheep": "sheep-leave", "goat": "goats-leave", "cattle": "cattle-leave"}
"""The sheet that those who leave alive follow, by species."""


class Change(NamedTuple):
    """What is told of a group; ``to`` is the group that they were moved to, ``who`` the single animal that it is of.
    The rest stands on a movement's paper."""

    kind: str
    on: Day
    number: int
    note: str = ""
    other: str = ""
    tags: str = ""
    paper: str = ""
    to: str = ""
    who: str = ""


def report_leaving(book: Book, session: Session, group: Group, change: Change, today: Day, ident: str) -> None:
    """What left alive follows the sheet of those that leave: it is still to be reported."""
    sheet = book.library.sheets.get(LEAVE.get(group.species, ""))
    if change.kind not in ALIVE or sheet is None:
        return
    name = once_id(sheet.id, ident)
    if store.entries(session, [name]):
        return
    facts: dict[str, Value] = {"date": change.on, "for": group.entry.id, "head": change.number}
    draft = Draft(sheet.id, f"{group.entry.name}: {change.number} that left", group.entry.place, facts)
    add(book, session, draft, today, name)
    measures: dict[str, Value] = {"head": change.number, **({"to": change.other} if change.other else {})}
    went = Tick(f"{ident}-go", key(name, "go"), "done", change.on, moment_text(book.now()), measures)
    say(book, session, went, today, NO_WORDS._replace(measures=measures))


def carried_token(fact_id: str) -> str:
    """The token under which a withdrawal period goes along with those of whom a fact is told."""
    return f"mv{fact_id[:10]}"


def strike_made(book: Book, session: Session, fact_id: str, today: Day) -> None:
    """What followed of itself from something told of a count is taken out, since that was not so."""
    names = [*(once_id(sheet, fact_id) for sheet in LEAVE.values()), once_id(SHEET, carried_token(fact_id))]
    for entry in store.entries(session, names):
        if not entry.struck:
            dates = date_facts(book.library.sheets[entry.sheet])
            store.change_entry(session, entry._replace(struck=True), dates=dates)
            book.replan(session, {entry.id}, today)
