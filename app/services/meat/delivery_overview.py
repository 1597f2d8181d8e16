"""What meat there is to deal with: deliveries and carcases open, cures under way, meat in the freezer by kind."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.packs import frozen_kinds
from app.records.rows import BatchRow
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Fate, Laid, Task
from app.services.book import Book
from app.services.larder.lasting import Meals, meals_left
from app.services.meat.delivery import Cut
from app.services.meat.delivery_put import SHEET, packing

COMING_DAYS = 60
"""What comes later than this is not yet to be thought of."""
_OVER = (Fate.LOST, Fate.LET_GO, Fate.PASSED_OVER, Fate.UNLAWFUL, Fate.ALONE)
_OPEN_DAYS = 14
"""A delivery with nothing but old reminders left is not open any more."""


class Open(NamedTuple):
    """A delivery or a carcase that is not dealt with; its next job, and what of it waits to be packed."""

    entry: str
    name: str
    sheet: str
    on: Day
    title: str
    key: str
    by: Day | None
    waiting: tuple[Cut, ...] = ()
    by_cut: bool = False


class Cure(NamedTuple):
    """A cure under way, and its next job."""

    entry: str
    name: str
    title: str
    key: str
    by: Day | None


class Meat(NamedTuple):
    """What meat there is."""

    open: tuple[Open, ...]
    cures: tuple[Cure, ...]
    frozen: tuple[Meals, ...]
    first: tuple[BatchRow, ...]


def meat(book: Book, session: Session, today: Day) -> Meat:
    """What meat there is to deal with today, what is most pressing first.

    Raises: MissingFact while the first run is not done.
    """
    every = book.live(session, today).laid
    mouths = book.holding(session).mouths
    sheets = book.library.sheets
    found, cures = [], []
    for laid in list(every.values()):
        sheet = sheets.get(laid.entry.sheet)
        if sheet is None or sheet.trade != "meat" or laid.entry.struck or not laid.entry.sure:
            continue
        task = _next(laid, sheet, today)
        if task is None:
            continue
        title = book.steps[sheet.id, task.step].title
        if sheet.kind == "cure":
            cures.append(Cure(laid.entry.id, laid.entry.name, title, task.key, task.closes))
        elif sheet.kind in ("delivery", "carcase"):
            waiting = packing(session, every, laid, mouths).waiting if sheet.id == SHEET else ()
            found.append(
                Open(
                    laid.entry.id, laid.entry.name, sheet.id, _begun(laid), title, task.key, task.closes, waiting,
                    sheet.id == SHEET,
                )
            )  # fmt: skip
    first = [row for row in store.first_to_expire(session, 40, today - _OPEN_DAYS) if row.trade == "meat" or row.killed]
    return Meat(
        tuple(sorted(found, key=lambda one: (_last(one.by), one.name))),
        tuple(sorted(cures, key=lambda one: (_last(one.by), one.name))),
        tuple(meals_left(frozen_kinds(session), mouths)),
        tuple(first[:5]),
    )


def _next(laid: Laid, sheet: Sheet, today: Day) -> Task | None:
    """The open job that is first to close: mere reminders to eat it up, and what is long past, are none."""
    work = {step.id for step in sheet.steps if step.minutes.base + step.minutes.each > 0}
    some = [task for task in laid.tasks if task.step in work and _is_open(task, today)]
    return min(some, key=lambda task: (task.closes or 0, task.opens or 0), default=None)


def _is_open(task: Task, today: Day) -> bool:
    if task.done is not None or task.fate in _OVER or task.opens is None or task.closes is None:
        return False
    if task.missed == "passes" and task.closes < today:
        return False
    return today - _OPEN_DAYS <= task.closes and task.opens <= today + COMING_DAYS


def _begun(laid: Laid) -> Day:
    value = laid.entry.facts.get("date")
    return value if isinstance(value, int) and not isinstance(value, bool) else laid.entry.told


def _last(by: Day | None) -> Day:
    return by if by is not None else 10**7
