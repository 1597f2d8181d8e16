"""Search across everything, and what uses kit when."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.coming import windows_of
from app.records.store import BatchRow, ClashRow, Found, KitRow, Remark
from app.rules.spans import Day
from app.services.book import Book
from app.services.larder.kit_claims import of_kit

AHEAD_DAYS = 120


class Everything(NamedTuple):
    """What was found: batches, entries and jobs, sheets by id and title, remarks about jobs, notes about batches."""

    batches: tuple[BatchRow, ...]
    entries: tuple[Found, ...]
    sheets: tuple[tuple[str, str], ...]
    remarks: tuple[Remark, ...] = ()
    said: tuple[Remark, ...] = ()


class KitUse(NamedTuple):
    """A job that wants a piece of kit."""

    kit: str
    key: str
    title: str
    name: str
    first: Day
    last: Day


def search(book: Book, session: Session, words: str) -> Everything:
    """Everything in which every one of the words stands: five queries, however much there is."""
    wanted = words.casefold().split()[:8]
    if not wanted:
        return Everything((), (), ())
    sheets = [
        (sheet.id, sheet.title)
        for sheet in book.library.sheets.values()
        if all(word in f"{sheet.title} {sheet.about} {sheet.id}".casefold() for word in wanted)
    ]
    sheets.sort(key=lambda one: one[1])
    return Everything(
        tuple(store.find_batches(session, words)), tuple(store.search(session, words)), tuple(sheets[:30]),
        tuple(store.find_remarks(session, words)), tuple(store.find_said(session, words)),
    )  # fmt: skip


def kit_uses(book: Book, session: Session, today: Day) -> tuple[list[KitRow], list[KitUse], list[ClashRow]]:
    """The kit there is, the jobs of the next months that want it, and its clashes."""
    kit = {name: step.needs.kit for name, step in book.steps.items() if step.needs.kit}
    uses = [
        KitUse(kit[row.sheet, row.step], row.key, row.title, row.entry_name, row.opens, row.closes)
        for row in windows_of(session, kit, today, today + AHEAD_DAYS)
    ]
    uses.sort(key=lambda one: (one.kit, one.first, one.key))
    clashes = store.clash_rows(session, kit_since=today)
    return store.kit(session), uses, of_kit(book, session, clashes, today)
