"""The household's own ways as they are kept: told, struck out, listed, and what each of them may change."""

import calendar
from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple, get_args

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.records.store import WayRow
from app.rules.facts import Entry, Way, WayKind, WayScope
from app.rules.own import cannot, shifts, ways_of
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.tasks import Laid
from app.services.book import Book
from app.services.preview import sheet_of

SCOPES: tuple[WayScope, ...] = get_args(WayScope)
DAYS_A_MONTH = 30.4375
"""A twelfth of the Gregorian mean year."""


class NewWay(NamedTuple):
    """A way as it was typed: ``amount`` in days, or in per cent; ``until_month`` instead, for what keeps until then."""

    scope: WayScope
    sheet: str
    what: WayKind
    amount: float | None
    step: str = ""
    entry: str = ""
    variety: str = ""
    note: str = ""
    until_month: int | None = None


class Known(NamedTuple):
    """A way that is told, its sheet (None when there is none any more), and how many entries it concerns now."""

    way: Way
    told: date
    sheet: Sheet | None
    entry: str
    concerns: int


class Told(NamedTuple):
    """What came of telling a way: its words' way, and how many open jobs of how many entries are dated otherwise."""

    way: Way
    jobs: int
    entries: int


def known_ways(book: Book, session: Session, today: Day) -> list[Known]:
    """Every way that holds, with whom it concerns.

    Raises: MissingFact while the first run is not done.
    """
    laid = list(book.live(session, today).laid.values())
    found = []
    for row in store.ways(session):
        way = store.own_way(row)
        here = [one.entry for one in laid if not one.entry.struck and ways_of(one.entry, [way])]
        name = next((one.entry.name for one in laid if one.entry.id == way.entry), "")
        found.append(Known(way, row.told, book.library.sheets.get(way.sheet), name, len(here)))
    return found


def ways_by_step(session: Session, sheet: Sheet) -> Mapping[str, Sequence[Way]]:
    """The ways told of a sheet, by step; "" for those of all of it."""
    found: dict[str, list[Way]] = {}
    for way in store.own_ways(session):
        if way.sheet == sheet.id:
            found.setdefault(way.step, []).append(way)
    return found


def may_shift(sheet: Sheet) -> list[Step]:
    """The jobs of a sheet that may come sooner or later here, as they stand in its file."""
    return [step for step in _in_order(sheet) if step.round is None and shifts(sheet, step)]


def may_keep(sheet: Sheet) -> list[Step]:
    """The jobs of a sheet of which something comes that keeps."""
    return [step for step in _in_order(sheet) if any(make.keeps is not None for make in step.makes)]


def _in_order(sheet: Sheet) -> list[Step]:
    order = {name: at for at, name in enumerate(sheet.order)}
    return sorted(sheet.steps, key=lambda step: order.get(step.id, len(order)))


def tell(book: Book, new: NewWay, today: Day) -> Told:
    """Take a way down and plan by it; only the entries that it concerns are planned again.

    Raises: BadInput with a sentence per field; NotFound for an unknown sheet.
    """
    sheet = sheet_of(book, new.sheet)
    with book.writing() as session:
        laid = book.live(session, today).laid
        way = _checked(sheet, new, laid)
        row = WayRow(
            scope=way.scope, entry=way.entry, sheet=way.sheet, variety=way.variety, step=way.step, what=way.what,
            amount=way.amount, note=way.note, told=date.fromordinal(today),
        )  # fmt: skip
        row = store.add_way(session, row)
        before = dict(laid)
        touched = book.replan_ways(session, today)
        after = book.live(session, today).laid
        jobs = sum(_moved(before.get(name), after.get(name)) for name in touched)
        return Told(way._replace(id=row.id or 0), jobs, len(touched))


def put_back(book: Book, way_id: int, today: Day, *, struck: bool) -> Way:
    """Strike a way out, or take that back; what it concerned is planned again.

    Raises: NotFound.
    """
    with book.writing() as session:
        row = session.get(WayRow, way_id)
        if row is None:
            raise NotFound("That way was never told.")
        store.strike(session, row, struck)
        book.replan_ways(session, today)
        return store.own_way(row)


def _checked(sheet: Sheet, new: NewWay, laid: Mapping[str, Laid]) -> Way:
    wrong: dict[str, str] = {}
    mine = [one for one in laid.values() if one.entry.sheet == sheet.id and not one.entry.struck]
    if new.scope == "entry" and all(one.entry.id != new.entry for one in mine):
        wrong["entry"] = "Choose which of them it is."
    if new.scope == "variety" and not new.variety.strip():
        wrong["variety"] = "Which variety is it? As it is written on its entry."
    amount = new.amount
    if new.until_month is not None and not wrong:
        amount = _days_until(sheet, new, mine)
        if amount is None:
            wrong["month"] = "Nothing of it is dated here yet, so say in weeks how long it keeps."
    elif amount is None and new.until_month is None:
        wrong["amount"] = "How much is it?"
    way = Way(
        new.scope, sheet.id, new.what, amount or 0.0, "" if new.what == "yield_percent" else new.step,
        new.entry if new.scope == "entry" else "", new.variety.strip() if new.scope == "variety" else "", new.note,
    )  # fmt: skip
    if not wrong and (refused := cannot(sheet, way)):
        named = (
            "step" if any(word in refused for word in ("law", "outside", "every day", "own date", "job")) else "amount"
        )
        wrong[named] = refused
    if wrong:
        raise BadInput(wrong)
    return way


def _days_until(sheet: Sheet, new: NewWay, mine: Sequence[Laid]) -> float | None:
    """From the job's next day to the end of the month after it."""
    way = Way(new.scope, sheet.id, new.what, 1, new.step, new.entry, new.variety.strip())
    days = [
        task.best
        for one in mine
        if _concerned(one.entry, way)
        for task in one.tasks
        if task.step == new.step and task.best is not None
    ]
    if not days or new.until_month is None:
        return None
    on = date.fromordinal(min(days))
    year = on.year + (new.until_month < on.month)
    last = date(year, new.until_month, calendar.monthrange(year, new.until_month)[1])
    return float(last.toordinal() - on.toordinal())


def _concerned(entry: Entry, way: Way) -> bool:
    return bool(ways_of(entry, [way]))


def _moved(before: Laid | None, after: Laid | None) -> int:
    """How many open jobs are dated otherwise than before."""
    was = {task.key: task[4:7] for task in before.tasks} if before is not None else {}
    now = after.tasks if after is not None else ()
    return sum(1 for task in now if task.done is None and was.get(task.key) != task[4:7])
