"""What a phone kept while it had no signal: taken in once each, in order, in one transaction with one planning anew.

Times: a phone's day and moment are trusted within two days of the house's own (a clock may be in another zone, or a
little off); otherwise the phone is asked, and nothing is taken down until it says the day.
"""

import hashlib
import json
import logging
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from typing import Literal, NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, DataFolderError, TwelvemonthError
from app.records import store
from app.records.store import SentRow
from app.rules.keys import split_key
from app.rules.spans import Day
from app.services.book import Book
from app.services.together import Spoilt

LOG = logging.getLogger("twelvemonth")

MOST = 500
"""So many operations a phone keeps, and sends at once."""
TRUSTED_DAYS = 2
"""So far from the house's own day a phone's is believed."""
ALONE = ("/tick", "/undo", "/letgo")
"""What reads the projection of its own entry only."""

Came = Literal["done", "before", "first", "refused", "asked", "later"]
"""Taken down; taken down before; somebody else had done it first; refused; its day is asked for; try once more."""


class Operation(NamedTuple):
    """One small write: the fields of a form with the phone's own id, its day and the moment of the tap.

    ``on`` and ``made_at`` are None where they could not be read; ``sure`` says that the day was asked for and given.
    """

    id: str
    path: str
    fields: tuple[tuple[str, str], ...]
    on: Day | None
    made_at: datetime | None
    sure: bool = False

    @property
    def digest(self) -> str:
        """A digest of what is said. Its day is left out: it may be asked for and given."""
        said = json.dumps([self.path, self.fields], ensure_ascii=False)
        return hashlib.sha256(said.encode("utf-8", "replace")).hexdigest()

    def field(self, name: str) -> str:
        """A field, "" where there is none."""
        return next((value for key, value in self.fields if key == name), "")


class Answer(NamedTuple):
    """What came of one operation: in a sentence, and as a code of HTTP (RFC 9110, 15)."""

    id: str
    came: Came
    says: str = ""
    code: int = 200
    href: str = ""


class Said(NamedTuple):
    """What an act gives: what came of it, in a sentence, and the page that tells of it."""

    says: str = ""
    came: Came = "done"
    href: str = ""


Act = Callable[[Operation, Day, datetime], Said]
"""Does what an operation says, on a day of the house's calendar and at a moment; raises as services do."""


def take_in(book: Book, operations: Sequence[Operation], act: Act) -> list[Answer]:
    """Take operations down, each once by its id, in order.

    Raises: BadInput when there are more than `MOST`; DataFolderError when the records can't be written.
    """
    if len(operations) > MOST:
        raise BadInput({"": f"More than {MOST} at once can’t be taken in; send them in parts."})
    troubled: dict[str, str] = {}
    while True:
        batch = _Batch(book, act, troubled)
        try:
            with book.together() as session:
                return batch.run(session, operations)
        except DataFolderError:
            raise
        except Exception as error:
            # Everything went back. The one that did it is left on the phone, and the others are taken in without it.
            if not batch.at or batch.at in troubled:
                raise
            LOG.error("an operation of a phone failed", exc_info=error)
            troubled[batch.at] = "That could not be taken down, and nobody foresaw it. It stays on this phone."


class _Batch:
    """One try at some operations."""

    def __init__(self, book: Book, act: Act, troubled: Mapping[str, str]) -> None:
        self.book, self.act, self.troubled = book, act, troubled
        self.now = book.now()
        self.at = ""

    def run(self, session: Session, operations: Sequence[Operation]) -> list[Answer]:
        """The answers, in order."""
        before = store.sent(session, [one.id for one in operations])
        rows: dict[str, SentRow] = {}
        answers = []
        for one in operations:
            known = rows.get(one.id) or before.get(one.id)
            answer = self._again(one, known) if known is not None else self._fresh(one)
            answers.append(answer)
            if known is None and answer.came in ("done", "before", "first"):
                rows[one.id] = SentRow(
                    id=one.id, digest=one.digest, path=one.path, came=answer.came, says=answer.says,
                    made_at=one.made_at, at=self.now,
                )  # fmt: skip
        self.at = ""
        self.book.settle()
        store.put_sent(session, list(rows.values()), self.now)
        return answers

    def _again(self, one: Operation, known: SentRow) -> Answer:
        if known.digest != one.digest:
            return Answer(one.id, "refused", "This was sent before and said something else; that is kept.", 409)
        return Answer(one.id, "first" if known.came == "first" else "before", known.says)

    def _fresh(self, one: Operation) -> Answer:
        if one.id in self.troubled:
            return Answer(one.id, "later", self.troubled[one.id], 500)
        found = stamp(self.book, one, self.now)
        if found is None:
            return Answer(one.id, "asked", "", 422)
        self.at = one.id
        self.book.settle(_entry(one) if one.path in ALONE else "")
        try:
            said = self.act(one, *found)
        except DataFolderError:
            raise
        except BadInput as error:
            return Answer(one.id, "refused", " ".join(dict.fromkeys(error.fields.values())), 422)
        except TwelvemonthError as error:
            return Answer(one.id, "refused", str(error), 409)
        return Answer(one.id, said.came, said.says, 200, said.href)


def stamp(book: Book, one: Operation, now: datetime) -> tuple[Day, datetime] | None:
    """The day of the house's calendar on which it was done, and the moment; None when the phone must be asked.

    The house's calendar may stand still (a day set for a trial): then it is as many days back there as it is here.
    """
    today, here = book.today().toordinal(), book.day_of(now).toordinal()
    if one.on is None:
        return None
    if one.sure:
        return (today - (here - one.on), now) if one.on <= here else None
    if one.made_at is None or abs(one.on - here) > TRUSTED_DAYS:
        return None
    if abs(one.made_at - now) > timedelta(days=TRUSTED_DAYS + 1):
        return None
    return min(today, today - (here - one.on)), min(one.made_at.astimezone(UTC), now)


def _entry(one: Operation) -> str:
    try:
        return split_key(one.field("key")).entry
    except ValueError:
        return ""


__all__ = ["MOST", "Act", "Answer", "Operation", "Said", "Spoilt", "stamp", "take_in"]
