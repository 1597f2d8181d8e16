"""From rows of the plan to what a calendar gets: which jobs, with what status, words and hours."""

import uuid
from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from urllib.parse import quote
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from app.feed import FeedItem, Status, uid
from app.records import store
from app.records.store import FeedRow, GoneRow, HoldingRow, TaskRow
from app.records.values import read_moment
from app.rules.facts import Window
from app.rules.keys import split_key
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.tasks import Fate, Task
from app.rules.why import said, why
from app.services.book import Book
from app.services.feed_links import Options

BACK_DAYS, AHEAD_DAYS = 60, 400
"""A calendar holds so many days back and ahead of today."""
_ASKED = (Fate.PLAIN, Fate.SQUEEZED, Fate.OUTSIDE, Fate.BARRED)
_CALLED_OFF = (Fate.LET_GO, Fate.LOST)


def items(
    book: Book, session: Session, options: Options, space: uuid.UUID, base: str, today: Day
) -> Iterator[FeedItem]:
    """The jobs that a calendar of these options holds, those called off too; ``base`` is the address of the house."""
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
