"""Search across everything."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import BatchRow, Found, Remark
from app.services.book import Book


class Everything(NamedTuple):
    """What was found: batches, entries and jobs, sheets by id and title, remarks about jobs, notes about batches."""

    batches: tuple[BatchRow, ...]
    entries: tuple[Found, ...]
    sheets: tuple[tuple[str, str], ...]
    remarks: tuple[Remark, ...] = ()
    said: tuple[Remark, ...] = ()


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
