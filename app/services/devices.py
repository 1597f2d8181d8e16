"""The phones that are let in: who they are, when they were last seen, and the door."""

from datetime import date, datetime
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.services.book import Book
from app.services.secret import hashed, new_secret


class Device(NamedTuple):
    """A phone that is let in; ``person`` is whose it is, "" when nobody's."""

    id: int
    name: str
    person_id: int | None
    person: str
    let_in: datetime
    seen: date


class Known(NamedTuple):
    """What is remembered of a phone between two of its requests."""

    id: int
    person_id: int | None
    seen: date


class Devices:
    """Which phones are known, remembered by the hash of their secret, so that no page waits for it."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._known: dict[str, Known] = {}

    def find(self, secret: str) -> Known | None:
        """The phone with this secret; it is put down once a day that it was seen."""
        print_ = hashed(secret)
        known = self._known.get(print_)
        today = self._book.today()
        if known is None:
            known = self._on_record(print_)
        if known is None:
            return None
        if known.seen != today:
            with self._book.writing() as session:
                store.device_seen(session, known.id, today.toordinal())
            known = known._replace(seen=today)
        self._known[print_] = known
        return known

    def _on_record(self, print_: str) -> Known | None:
        with self._book.reading() as session:
            row = store.device(session, print_)
            if row is None:
                return None
            here = {one.id for one in store.people(session)}
            return Known(row.id or 0, row.person if row.person in here else None, row.seen_on)

    def let_in(self, name: str, person: int | None) -> str:
        """Let a phone in; its secret comes back, and only a hash of it is kept."""
        secret = new_secret()
        with self._book.writing() as session:
            today = self._book.today().toordinal()
            store.let_device_in(session, name, person, hashed(secret), self._book.now(), today)
        return secret

    def show_out(self, device_id: int) -> str:
        """A phone is let in no longer; its name comes back.

        Raises: NotFound when it is gone already.
        """
        with self._book.writing() as session:
            name = store.show_device_out(session, device_id, self._book.now()).name
        self.forget()
        return name

    def forget(self) -> None:
        """Ask the records again: something about phones or people changed."""
        self._known.clear()


def devices(session: Session) -> list[Device]:
    """Those that are let in."""
    names = {row.id: row.name for row in store.people(session, left=True)}
    return [
        Device(row.id or 0, row.name, row.person, names.get(row.person, ""), row.let_in_at, row.seen_on)
        for row in store.devices(session)
    ]


def person_there(session: Session, person: int) -> None:
    """Check that somebody is of the household.

    Raises: BadInput.
    """
    if all(row.id != person for row in store.people(session)):
        raise BadInput({"person": "There is nobody of that name in the household."})
