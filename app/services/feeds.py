"""A calendar as it is served: behind its secret, written once for as long as nothing was said."""

import hashlib
import uuid
from datetime import UTC, date, datetime, time
from typing import NamedTuple
from urllib.parse import quote
from weakref import WeakKeyDictionary

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.feed import Feed, calendar, uid
from app.records import store
from app.records.values import read_moment
from app.services.book import Book
from app.services.counted import version_of
from app.services.feed_items import AHEAD_DAYS, BACK_DAYS, items
from app.services.feed_links import Options, read_options
from app.services.secret import hashed

_SPACE = uuid.UUID("2b6d0a5e-3f0c-4c55-9a77-1f4e6d0f5a21")


class Served(NamedTuple):
    """A calendar as it is served: ``etag`` is a strong tag of its bytes, ``changed_at`` when they may have changed.

    ``changed_at`` is None where they also change with what has no date of its own: absences, and who did what.
    """

    body: bytes
    etag: str
    changed_at: datetime | None


def serve(book: Book, secret: str, base: str, *, read: bool = True) -> Served:
    """The calendar behind a secret; ``base`` is the address under which the reader found the house.

    Raises: NotFound for a secret that was never given out or is stopped; MissingFact before the first run is over.
    """
    today = book.today().toordinal()
    with book.reading() as session:
        row = store.feed_link(session, hashed(secret))
        if row is None:
            raise NotFound("There is no such page.")
        source = f"{base}/calendar/{quote(secret)}.ics" if base else ""
        link, last_read = row.id or 0, row.options.get("read")
        served = write(book, session, read_options(row.options), row.name, f"link {link}", base, source)
    if read and last_read != date.fromordinal(today).isoformat():
        with book.writing() as session:
            store.feed_link_read(session, link, today)
    return served


def write(
    book: Book,
    session: Session,
    options: Options,
    name: str = "",
    which: str = "file",
    base: str = "",
    source: str = "",
) -> Served:
    """The calendar as bytes, with what a reader needs to know whether it changed.

    Raises: MissingFact before the first run is over.
    """
    asked = (version_of(session), book.today(), options, name, which, base, source)
    known = _SERVED.setdefault(book, {})
    served = known.get(asked)
    if served is None:
        served = _write(book, session, options, name, which, base, source)
        if len(known) >= _MOST_SERVED:
            known.clear()
        known[asked] = served
    return served


_SERVED: WeakKeyDictionary[Book, dict[tuple[object, ...], Served]] = WeakKeyDictionary()
"""Calendars as last written: a phone asks every few hours, and most of the time nothing has been said meanwhile."""
_MOST_SERVED = 6


def _write(book: Book, session: Session, options: Options, name: str, which: str, base: str, source: str) -> Served:
    holding = book.holding(session)
    today = book.today().toordinal()
    space = uuid.uuid5(_SPACE, holding.created_at.astimezone(UTC).isoformat(timespec="microseconds"))
    found = tuple(items(book, session, options, space, base, today))
    stamps = [item.changed_at for item in found]
    gone = store.gone_rows(session, today - BACK_DAYS, today + AHEAD_DAYS)
    stamps += [read_moment(row.changed_at) for row in gone]
    changed_at = max(stamps, default=holding.created_at).replace(microsecond=0)
    feed = Feed(
        f"{holding.name}: {name}" if name else holding.name,
        uid(space, which),
        changed_at,
        _about(options),
        f"{base}/" if base else "",
        source,
        options.todos,
        options.alarm,
    )
    body = calendar(feed, found)
    # With every day the calendar reaches a day further, though no job in it changed.
    dawn = min(datetime.combine(date.fromordinal(today), time(), UTC), book.now().astimezone(UTC))
    undated = options.done or options.person is not None
    stamp = None if undated else max(changed_at, dawn.replace(microsecond=0))
    return Served(body, f'"{hashlib.sha256(body).hexdigest()}"', stamp)


def _about(options: Options) -> str:
    trades = ", ".join(options.trades) if options.trades else "all trades"
    which = "done jobs and those to do" if options.done else "jobs to do"
    span = f"from {BACK_DAYS} days back to {AHEAD_DAYS} days ahead of the day on which it is read"
    return (
        f"{which[0].upper()}{which[1:]}, {trades}, {span}. Dates follow from what was put down, and move with what is"
        " done."
    )
