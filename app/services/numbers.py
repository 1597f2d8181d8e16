"""The numbers on the printed month: each line keeps the number it was first given, so that a page printed on any day
of the month can be typed back by its numbers."""

import json
from collections.abc import Iterable, Mapping

from sqlalchemy.orm import Session

from app.records import store
from app.services.book import Book

MOST = 999


def _key(month: str) -> str:
    return f"printed.{month}"


def numbers(book: Book, session: Session, month: str) -> dict[str, int]:
    """The lines of a month, "2027-09", that have a number."""
    known = book.printed.get(month)
    if known is None:
        kept = store.state(session, [_key(month)]).get(_key(month))
        known = {str(line): int(number) for line, number in json.loads(kept).items()} if kept else {}
        book.printed[month] = known
    return known


def give_numbers(book: Book, month: str, lines: Iterable[str], known: Mapping[str, int]) -> Mapping[str, int]:
    """Give the next numbers to lines that have none yet; no number is ever given again in the same month."""
    fresh = [line for line in lines if line not in known]
    if not fresh or len(known) >= MOST:
        return known
    with book.writing() as session:
        book.printed.pop(month, None)
        given = dict(numbers(book, session, month))
        following = max(given.values(), default=0) + 1
        for line in fresh[: MOST - len(given)]:
            if line not in given:
                given[line] = following
                following += 1
        store.set_state(session, **{_key(month): json.dumps(given, separators=(",", ":"))})
    book.printed[month] = given
    return given
