"""A withdrawal period that goes along with animals that join another group."""

from collections.abc import Sequence

from sqlalchemy.orm import Session

from app.records.values import moment_text
from app.rules.facts import Tick
from app.rules.keys import key
from app.rules.spans import Day
from app.rules.terms import Value
from app.services.book import Book
from app.services.entries import add
from app.services.livestock.groups import Group
from app.services.livestock.held import Held, until_of
from app.services.livestock.treat import SHEET, measures
from app.services.preview import Draft
from app.services.put_once import once_id
from app.services.ticking import NO_WORDS, say


def carry(book: Book, session: Session, rows: Sequence[Held], target: Group, on: Day, token: str, today: Day) -> None:
    """Some that are inside a withdrawal period join another group: that one is held as long, since they can't be told
    apart there. What has no end yet has none there either."""
    running = [one for one in rows if one.last is None or one.last >= on]
    if not running:
        return
    ident = once_id(SHEET, token)
    names = ", ".join(dict.fromkeys(one.by.name for one in running if one.by is not None))
    product = f"moved in inside a withdrawal period ({names})"[:120]
    facts: dict[str, Value] = {"date": on, "for": target.entry.id, "product": product}
    add(book, session, Draft(SHEET, f"Moved into {target.entry.name}"[:80], target.entry.place, facts), today, ident)
    figures = measures(_days(running, "slaughter", on), _days(running, "eat", on))
    said: dict[str, Value] = {"product": product, "course": False, **figures}
    tick = Tick(f"{ident}-0", key(ident, "dose"), "done", on, moment_text(book.now()), said)
    say(book, session, tick, today, NO_WORDS._replace(measures=said))


def _days(rows: Sequence[Held], act: str, on: Day) -> int | None:
    """Days for which an act is still barred, nought where it is not; one at least, since the day itself is barred."""
    barring = [one for one in rows if act in one.acts]
    if not barring:
        return 0
    last = until_of(barring)
    return None if last is None else max(1, last - on)
