"""Choosing what to put down: the sheets there are, by trade, and how many entries follow each already."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.terms import TRADES
from app.services.book import Book


class Choosable(NamedTuple):
    """A sheet, and how many entries that are not over follow it."""

    sheet: Sheet
    have: int


def choosable(
    book: Book, session: Session, today: Day, *, found: bool = False, words: str = "", trade: str = ""
) -> list[Choosable]:
    """The sheets in whose title, kind or line all the words stand; ``found`` those that are begun when they are seen.

    Raises: MissingFact while the first run is not done.
    """
    have: dict[str, int] = {}
    for laid in list(book.live(session, today).laid.values()):
        entry = laid.entry
        if not entry.struck and entry.sure and (entry.ends is None or entry.ends >= today):
            have[entry.sheet] = have.get(entry.sheet, 0) + 1
    wanted = words.casefold().split()
    sheets = [
        sheet
        for sheet in book.library.sheets.values()
        if sheet.found is found and (not trade or sheet.trade == trade) and _has(sheet, wanted)
    ]
    sheets.sort(key=lambda sheet: (TRADES.index(sheet.trade), sheet.title.casefold()))
    return [Choosable(sheet, have.get(sheet.id, 0)) for sheet in sheets]


def _has(sheet: Sheet, words: list[str]) -> bool:
    text = f"{sheet.title} {sheet.kind} {sheet.about} {sheet.id}".casefold()
    return all(word in text for word in words)
