"""Putting an entry down under an id that its form brings, so that a form sent twice puts it down once."""

from collections.abc import Iterable

from app.records import store
from app.rules.facts import Amendment
from app.rules.spans import Day
from app.services.book import Book
from app.services.entries import add
from app.services.preview import Draft

_LETTERS = 12


def once_id(sheet: str, token: str) -> str:
    """The id of an entry that a form's token gives: the sheet's, and the first twelve letters of the token."""
    clean = "".join(letter for letter in token.lower() if letter.isascii() and letter.isalnum())[:_LETTERS]
    return f"{sheet}-{clean or 'once'}"


def put_once(book: Book, draft: Draft, token: str, today: Day, more: Iterable[Amendment] = ()) -> str:
    """Put an entry down, and at once what is said of the entries that its jobs will make; its id comes back.

    Raises: NotFound for a sheet that is not there.
    """
    ident = once_id(draft.sheet, token)
    with book.writing() as session:
        if store.entries(session, [ident]):
            return ident
        add(book, session, draft, today, ident)
        for amendment in more:
            store.amend(session, amendment)
            book.replan(session, {amendment.entry}, today)
    return ident
