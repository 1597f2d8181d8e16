"""When each piece of kit is in use: what entries claim of it from day to day, and the single jobs that want it."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.coming import windows_of
from app.records.store import ClashRow, KitRow
from app.rules.keys import split_key
from app.rules.spans import Day
from app.services.book import Book
from app.services.larder.kit_claims import claims_of, of_kit

AHEAD_DAYS = 120


class KitUse(NamedTuple):
    """A piece of kit in use: by a job, under its ``key`` and ``title``, or by an ``entry`` that has it for days."""

    kit: str
    key: str
    title: str
    name: str
    first: Day
    last: Day
    entry: str = ""


def kit_uses(book: Book, session: Session, today: Day) -> tuple[list[KitRow], list[KitUse], list[ClashRow]]:
    """The kit there is, what has it or wants it from today until some months on, and its clashes.

    An entry that has a thing for days on end is told once; its jobs there are not told again.
    """
    last = today + AHEAD_DAYS
    uses = [
        KitUse(kit, "", "", laid.entry.name, span.first, span.last, laid.entry.id)
        for laid in list(book.live(session, today).laid.values())
        if laid.bars and not laid.entry.struck
        for kit, span in claims_of(laid)
        if span.last >= today and span.first <= last
    ]
    held = {(use.entry, use.kit) for use in uses}
    kit = {name: step.needs.kit for name, step in book.steps.items() if step.needs.kit}
    uses += [
        KitUse(kit[row.sheet, row.step], row.key, row.title, row.entry_name, row.opens, row.closes)
        for row in windows_of(session, kit, today, last)
        if (split_key(row.key).entry, kit[row.sheet, row.step]) not in held
    ]
    uses.sort(key=lambda one: (one.kit, one.first, one.key, one.entry))
    clashes = store.clash_rows(session, kit_since=today)
    return store.kit(session), uses, of_kit(book, session, clashes, today)
