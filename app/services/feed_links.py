"""Calendar links: given out, replaced, stopped. Of a secret only its hash is kept."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any, NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.records.store import FeedLinkRow
from app.rules.terms import TRADES
from app.services.book import Book
from app.services.secret import hashed, new_secret


class Options(NamedTuple):
    """What a link gives: of which trades (all when empty), done jobs too, as to-dos, ringing before a window closes.

    Jobs are nobody's in particular; ``person`` leaves out what opens and closes while that person is away, and of the
    done ones those that somebody else ticked.
    """

    trades: tuple[str, ...] = ()
    done: bool = False
    todos: bool = False
    alarm: bool = False
    person: int | None = None


class Made(NamedTuple):
    """A link just made; its secret is not kept and can't be shown again."""

    id: int
    name: str
    secret: str


class Given(NamedTuple):
    """A link that holds; ``read`` is the day on which a calendar last read it."""

    id: int
    name: str
    options: Options
    made: datetime
    read: date | None


def make_link(book: Book, name: str, options: Options) -> Made:
    """Give out a link."""
    secret = new_secret()
    with book.writing() as session:
        row = store.add_feed_link(session, name, hashed(secret), _kept(options), book.now())
        return Made(row.id or 0, name, secret)


def renew(book: Book, link_id: int) -> Made:
    """Give a link a new secret; the old one answers nothing from now on.

    Raises: NotFound when there is no such link any more.
    """
    secret = new_secret()
    with book.writing() as session:
        row = _link(session, link_id)
        store.revoke_feed_link(session, link_id, book.now())
        fresh = store.add_feed_link(session, row.name, hashed(secret), _kept(read_options(row.options)), book.now())
        return Made(fresh.id or 0, fresh.name, secret)


def revoke(book: Book, link_id: int) -> str:
    """Stop a link; its name comes back.

    Raises: NotFound when it is stopped already.
    """
    with book.writing() as session:
        name = _link(session, link_id).name
        store.revoke_feed_link(session, link_id, book.now())
        return name


def links(session: Session) -> list[Given]:
    """The links that hold."""
    found = []
    for row in store.feed_links(session):
        read = str(row.options.get("read") or "")
        day = date.fromisoformat(read) if read else None
        found.append(Given(row.id or 0, row.name, read_options(row.options), row.created_at, day))
    return found


def read_options(kept: Mapping[str, Any]) -> Options:
    """Options as they were kept."""
    trades = tuple(trade for trade in TRADES if trade in kept.get("trades", ()))
    person = kept.get("person")
    return Options(
        trades, bool(kept.get("done")), bool(kept.get("todos")), bool(kept.get("alarm")),
        person if isinstance(person, int) else None,
    )  # fmt: skip


def _link(session: Session, link_id: int) -> FeedLinkRow:
    row = next((one for one in store.feed_links(session) if one.id == link_id), None)
    if row is None:
        raise NotFound("That link is already taken back.")
    return row


def _kept(options: Options) -> dict[str, object]:
    return {
        "trades": list(options.trades), "done": options.done, "todos": options.todos, "alarm": options.alarm,
        "person": options.person,
    }  # fmt: skip
