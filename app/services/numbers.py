"""The numbers on the printed month, fixed when the page is numbered to be printed: each line keeps the number it was
first given, so that a page printed on any day of the month can be typed back by its numbers."""

import json
from collections.abc import Iterable

from sqlalchemy.orm import Session

from app.records import store

MOST = 999


def _key(month: str) -> str:
    return f"printed.{month}"


def numbers(session: Session, month: str) -> dict[str, int]:
    """The lines of a month, "2027-09", that have a number."""
    kept = store.state(session, [_key(month)]).get(_key(month))
    return {str(line): int(number) for line, number in json.loads(kept).items()} if kept else {}


def give_numbers(session: Session, month: str, lines: Iterable[str]) -> dict[str, int]:
    """Give the next numbers to lines that have none yet; no number is ever given again in the same month."""
    given = numbers(session, month)
    following = max(given.values(), default=0) + 1
    fresh = [line for line in dict.fromkeys(lines) if line not in given][: MOST - len(given)]
    if fresh:
        given |= {line: following + n for n, line in enumerate(fresh)}
        store.set_state(session, **{_key(month): json.dumps(given, separators=(",", ":"))})
    return given
