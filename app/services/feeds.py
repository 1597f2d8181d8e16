"""Calendar links: given out, read, replaced, stopped. Of a secret only its hash is kept."""

import hashlib
import secrets
import uuid
from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, NamedTuple
from urllib.parse import quote
from weakref import WeakKeyDictionary
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.feed import Feed, FeedItem, Status, calendar, uid
from app.records import store
from app.records.store import FeedLinkRow, FeedRow, GoneRow, HoldingRow, TaskRow
from app.records.values import read_moment
from app.rules.facts import Window
from app.rules.keys import split_key
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.tasks import Fate, Task
from app.rules.terms import TRADES
from app.rules.why import said, why
from app.services.book import Book
from app.services.counted import version_of

BACK_DAYS, AHEAD_DAYS = 60, 400
"""A calendar holds so many days back and ahead of today."""
SECRET_BYTES = 32
_SPACE = uuid.UUID("2b6d0a5e-3f0c-4c55-9a77-1f4e6d0f5a21")
_ASKED = (Fate.PLAIN, Fate.SQUEEZED, Fate.OUTSIDE, Fate.BARRED)
_CALLED_OFF = (Fate.LET_GO, Fate.LOST)


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


class Served(NamedTuple):
    """A calendar as it is served: ``etag`` is a strong tag of its bytes, ``changed_at`` when they may have changed.

    ``changed_at`` is None where they also change with what has no date of its own: absences, and who did what.
    """

    body: bytes
    etag: str
    changed_at: datetime | None


def make_link(book: Book, name: str, options: Options) -> Made:
    """Give out a link."""
    secret = secrets.token_urlsafe(SECRET_BYTES)
    with book.writing() as session:
        row = store.add_feed_link(session, name, hashed(secret), _kept(options), book.now())
        return Made(row.id or 0, name, secret)


def renew(book: Book, link_id: int) -> Made:
    """Give a link a new secret; the old one answers nothing from now on.

    Raises: NotFound when there is no such link any more.
    """
    secret = secrets.token_urlsafe(SECRET_BYTES)
    with book.writing() as session:
        row = _link(session, link_id)
        store.revoke_feed_link(session, link_id, book.now())
        fresh = store.add_feed_link(session, row.name, hashed(secret), _kept(_options(row.options)), book.now())
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
        found.append(Given(row.id or 0, row.name, _options(row.options), row.created_at, day))
    return found


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
        served = write(book, session, _options(row.options), row.name, f"link {link}", base, source)
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
    items = tuple(_items(book, session, options, space, base, today))
    stamps = [item.changed_at for item in items]
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
    body = calendar(feed, items)
    # With every day the calendar reaches a day further, though no job in it changed.
    dawn = min(datetime.combine(date.fromordinal(today), time(), UTC), book.now().astimezone(UTC))
    undated = options.done or options.person is not None
    stamp = None if undated else max(changed_at, dawn.replace(microsecond=0))
    return Served(body, f'"{hashlib.sha256(body).hexdigest()}"', stamp)


def hashed(secret: str) -> str:
    """What is kept of a secret."""
    return hashlib.sha256(secret.encode()).hexdigest()


# ── From rows to what a calendar gets ─────────────────────────────────────────────────────────────────────────────


def _items(
    book: Book, session: Session, options: Options, space: uuid.UUID, base: str, today: Day
) -> Iterator[FeedItem]:
    holding = book.holding(session)
    first, last = today - BACK_DAYS, today + AHEAD_DAYS
    who = _Who(session, options, first, last)
    for row in store.feed_rows(session, first, last):
        status = _status(row.task, options, today)
        if status and (not options.trades or row.task.trade in options.trades) and who.wants(row.task):
            item = _item(book, row, status, space, base, holding)
            note = who.note(row.task)
            yield item._replace(description=f"{note}\n{item.description}") if note else item
    laid = book.live(session, today).laid
    for gone in store.gone_rows(session, first, last):
        if read_moment(gone.gone_at).date().toordinal() < first or gone.opens is None or gone.closes is None:
            continue
        trade = _trade(book.library.sheets, laid, gone)
        if not options.trades or trade in options.trades:
            yield _called_off(gone, Window(gone.opens, gone.opens, gone.closes), space, trade)


class _Who:
    """Who did what, and when the person of a link is away."""

    def __init__(self, session: Session, options: Options, first: Day, last: Day) -> None:
        self._person = options.person
        self._names = {row.id: row.name for row in store.people(session, left=True)} if options.done else {}
        self._did = store.done_by(session, first, last) if options.done else {}
        self._away = [
            (one.first.toordinal(), one.last.toordinal())
            for one in (store.absences(session, first, last) if options.person is not None else ())
            if one.person == options.person
        ]

    def wants(self, task: TaskRow) -> bool:
        """Whether a job has a place in this person's calendar; everybody's where there is no person."""
        if task.done is not None:
            return self._person is None or self._did.get(task.key) in (None, self._person)
        opens, closes = task.opens or 0, task.closes or 0
        return not any(first <= opens and closes <= last for first, last in self._away)

    def note(self, task: TaskRow) -> str:
        """Who did it, or that this person is away on its best day."""
        if task.done is not None:
            name = self._names.get(self._did.get(task.key))
            return f"Done by {name}." if name else ""
        best = task.best or 0
        span = next((f"{said(first)} to {said(last)}" for first, last in self._away if first <= best <= last), "")
        return f"You are away from {span}." if span else ""


def _status(task: TaskRow, options: Options, today: Day) -> Status | None:
    """The status of a job in a calendar of these options; None where it has no place in it."""
    if task.done is not None:
        return "COMPLETED" if options.done else None
    if task.fate in _ASKED:
        over = task.closes is not None and task.closes < today and task.missed == "passes"
        return None if over else "NEEDS-ACTION"
    return "CANCELLED" if options.done and task.fate in _CALLED_OFF else None


def _item(book: Book, row: FeedRow, status: Status, space: uuid.UUID, base: str, holding: HoldingRow) -> FeedItem:
    task = row.task
    window = Window(task.opens or 0, task.best or 0, task.closes or 0)  # feed rows are dated, every one
    sheet = book.library.sheets.get(task.sheet)
    step = next((one for one in sheet.steps if one.id == task.step), None) if sheet is not None else None
    starts, ends = _clock(step, window.best, holding.timezone)
    return FeedItem(
        uid(space, task.key),
        f"{task.title}: {task.entry_name}" if task.entry_name else task.title,
        window,
        row.sequence,
        read_moment(row.changed_at).replace(microsecond=0),
        status,
        task.done,
        task.sure,
        (task.trade.capitalize(),),
        task.place,
        _description(book, task, window, step, sheet),
        f"{base}/job/{quote(task.key)}" if base else "",
        starts,
        ends,
    )


def _called_off(gone: GoneRow, window: Window, space: uuid.UUID, trade: str) -> FeedItem:
    return FeedItem(
        uid(space, gone.key),
        gone.summary,
        window,
        gone.sequence,
        read_moment(gone.changed_at).replace(microsecond=0),
        "CANCELLED",
        categories=(trade.capitalize(),) if trade else (),
    )


def _clock(step: Step | None, best: Day, timezone: str) -> tuple[datetime | None, datetime | None]:
    """When a timed step starts and ends, by the clock of the place."""
    if step is None or step.timed is None:
        return None, None
    minutes = step.timed.starts_min
    starts = datetime.combine(date.fromordinal(best), time(minutes // 60, minutes % 60), ZoneInfo(timezone))
    starts = starts.astimezone(UTC)
    return starts, starts + timedelta(hours=step.timed.hours)


def _description(book: Book, task: TaskRow, window: Window, step: Step | None, sheet: Sheet | None) -> str:
    """The window, what it is, why it is then, and what can hurt: a calendar's note."""
    lines = [f"From {said(window.opens)}, best {said(window.best)}, by {said(window.closes)}."]
    if not task.sure:
        lines.append("Not sure yet: it rests on another job that is still to be done.")
    if step is not None and sheet is not None:
        lines += [f"{step.note[:1].upper()}{step.note[1:]}."] if step.note else []
        for reason in why(_task(task), step, sheet):
            day = f" ({said(reason.day)})" if reason.day is not None and reason.rule not in ("opens", "closes") else ""
            lines.append(f"{reason.rule.capitalize()}: {reason.inputs}{day}")
    for name in dict.fromkeys(task.cautions.split()):
        if name in book.library.cautions:
            lines.append(f"Take care. {book.library.cautions[name].text}")
    return "\n".join(lines)


def _task(row: TaskRow) -> Task:
    label = tuple(int(part) for part in row.label.split(".") if part)
    return Task(
        row.key, row.entry, row.step, label, row.opens, row.best, row.closes, row.done, Fate(row.fate),
        row.missed, row.minutes, row.sure, row.legal,  # type: ignore[arg-type]
    )  # fmt: skip


def _trade(sheets: Mapping[str, Sheet], laid: Mapping[str, Any], gone: GoneRow) -> str:
    """The trade of a job that is gone; "" when its entry is gone too."""
    try:
        entry = laid.get(split_key(gone.key).entry)
    except ValueError:
        return ""
    sheet = sheets.get(entry.entry.sheet) if entry is not None else None
    return sheet.trade if sheet is not None else ""


# ── Options as they are kept ──────────────────────────────────────────────────────────────────────────────────────


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


def _options(kept: Mapping[str, Any]) -> Options:
    trades = tuple(trade for trade in TRADES if trade in kept.get("trades", ()))
    person = kept.get("person")
    return Options(
        trades, bool(kept.get("done")), bool(kept.get("todos")), bool(kept.get("alarm")),
        person if isinstance(person, int) else None,
    )  # fmt: skip


def _about(options: Options) -> str:
    trades = ", ".join(options.trades) if options.trades else "all trades"
    which = "done jobs and those to do" if options.done else "jobs to do"
    span = f"from {BACK_DAYS} days back to {AHEAD_DAYS} days ahead of the day on which it is read"
    return (
        f"{which[0].upper()}{which[1:]}, {trades}, {span}. Dates follow from what was put down, and move with what is"
        " done."
    )
