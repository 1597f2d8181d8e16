"""The medicine book and the movement record, from all that was told, as rows for a printed page or a CSV."""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.csvs import BOM, guarded
from app.records.store import HeadFactRow, MedicineRow
from app.rules.facts import Entry, Tick
from app.rules.keys import split_key
from app.rules.live import Live
from app.rules.sheet import Sheet
from app.rules.spans import Day, whole_days
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.livestock.groups import date_of, head_of, is_group
from app.services.livestock.heads import LEAVE
from app.services.put_once import once_id
from app.trade.livestock.withdrawal import first_ok

_OFF = ("sold", "given", "left", "killed")


class Dosed(NamedTuple):
    """A line of the medicine book: one dose. ``days`` is the longest figure, None where one was not said: then
    ``clear`` never comes. ``clears`` says it of each figure that was asked: of all; or of meat, and of eggs or milk."""

    on: Day
    group: str
    entry: str
    animals: str
    product: str
    given: str
    by: str
    figures: str  # "meat 28 days, milk 72 hours"
    days: int | None
    clear: Day | None
    vet: bool | None  # None: whose figure it is was not said
    note: str
    key: str
    medicine: str = ""  # the id of the bottle in the cupboard
    clears: tuple[Day | None, ...] = ()


class Went(NamedTuple):
    """A line of the movement record. ``way`` is on or off; ``paper`` the licence or notice."""

    on: Day
    way: str
    what: str
    species: str
    number: int
    group: str
    entry: str
    other: str
    tags: str
    paper: str
    note: str
    fact: str = ""  # the id of what was told, where more can be said of it


def medicine_book(book: Book, session: Session, today: Day) -> list[Dosed]:
    """Every dose that was ticked on any sheet which asks a withdrawal period, the latest first."""
    live = book.live(session, today)
    remarks = {told.tick.id: told.remark for told in store.remarked(session, _names(live))}
    found = []
    for laid in list(live.laid.values()):
        sheet = book.library.sheets.get(laid.entry.sheet)
        if sheet is None or sheet.trade != "livestock":
            continue
        asks = {step.id: [ask.name for ask in step.asks if ask.name.startswith("withdrawal")] for step in sheet.steps}
        asking = {step: names for step, names in asks.items() if names}
        ticks = in_force(live.facts.ticks.get(laid.entry.id, ()))
        first = next((one for one in ticks if split_key(one.key).step == "dose"), None)
        given = [one for one in ticks if one.kind == "done" and split_key(one.key).step in asking]
        found += [
            _dosed(live, laid.entry, one, first, remarks.get(one.id, ""), asking[split_key(one.key).step])
            for one in given
        ]  # fmt: skip
    return sorted(found, key=lambda one: (-one.on, one.group, one.key))


def bought(session: Session) -> list[MedicineRow]:
    """What came into the cupboard, the latest first: purchases and their end are written down too."""
    return sorted(store.medicines(session), key=lambda one: (one.bought_on or date.min, one.name), reverse=True)


def movements(book: Book, session: Session, today: Day) -> list[Went]:
    """Every coming and going that was told: groups that came, what left, what went to be killed; the latest first."""
    live, facts = book.live(session, today), store.head_facts(session)
    ours = {once_id(sheet, one.id) for one in facts for sheet in LEAVE.values()}
    found = [row for one in facts if (row := _told(book, live, one)) is not None]
    came = {one.entry for one in facts if one.kind == "came"}
    for laid in list(live.laid.values()):
        entry, sheet = laid.entry, book.library.sheets.get(laid.entry.sheet)
        if sheet is None or entry.struck or not entry.sure or sheet.trade != "livestock":
            continue
        if entry.id not in came and _comes(sheet) and date_of(entry) <= today:
            began = next((one.number for one in facts if one.entry == entry.id and one.kind == "began"), head_of(entry))
            found.append(
                Went(date_of(entry), "on", "came", sheet.species, began, entry.name, entry.id, "", "", "", "", "new")
            )
        if entry.id not in ours:
            found += _elsewhere(live, entry, sheet)
    return sorted(found, key=lambda one: (-one.on, one.group, one.what))


def csv_of(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> bytes:
    """A register as CSV (RFC 4180, UTF-8 with a byte-order mark); no cell is ever taken for a formula."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heads)
    for row in rows:
        writer.writerow([guarded(cell) for cell in row])
    return (BOM + out.getvalue()).encode("utf-8")


def figures_in(measures: Mapping[str, object]) -> str:
    """The figures that were written down with a dose, each with what it is of."""
    names = (("meat_days", "meat", "days"), ("milk_hours", "milk", "hours"), ("eggs_days", "eggs", "days"))
    said = [f"{of} {value:g} {unit}" for name, of, unit in names
            if isinstance(value := measures.get(name), int | float)]  # fmt: skip
    return ", ".join(said)


def _dosed(live: Live, entry: Entry, tick: Tick, first: Tick | None, remark: str, asked: Sequence[str]) -> Dosed:
    said = {**(first.measures if first is not None else {}), **tick.measures}
    whom = live.laid.get(str(entry.facts.get("for", ""))) if "for" in entry.facts else live.laid.get(entry.id)
    whose = whom.entry if whom is not None else entry
    clears = tuple(_clear(tick, name) for name in asked)
    days = _longest(tick, asked)
    animals = str(said.get("animals") or entry.facts.get("animals", ""))
    product = str(said.get("product") or entry.facts.get("product") or "")
    return Dosed(
        tick.on, whose.name, whose.id, animals, product, str(said.get("given", "")),
        str(said.get("by", "")), figures_in(said), days, first_ok(tick.on, days), _whose(said.get("off_label")),
        remark, tick.key, str(said.get("medicine", "")), clears,
    )  # fmt: skip


def _clear(tick: Tick, name: str) -> Day | None:
    return first_ok(tick.on, _longest(tick, [name]))


def _longest(tick: Tick, asked: Sequence[str]) -> int | None:
    """The longest of the figures that a dose was asked for, in whole days; None where one of them was not said."""
    said = [tick.measures.get(name) for name in asked]
    figures = [float(one) for one in said if isinstance(one, int | float) and not isinstance(one, bool)]
    return whole_days(max(figures)) if figures and len(figures) == len(said) else None


def _whose(said: object) -> bool | None:
    return said if isinstance(said, bool) else None


def _told(book: Book, live: Live, one: HeadFactRow) -> Went | None:
    """Something told of a count, where it was a movement."""
    laid = live.laid.get(one.entry)
    sheet = book.library.sheets.get(laid.entry.sheet) if laid is not None else None
    if laid is None or sheet is None or laid.entry.struck:
        return None
    way = "on" if one.kind == "came" or (one.kind == "joined" and one.other) else "off" if one.kind in _OFF else ""
    if not way:
        return None
    return Went(
        one.on_day.toordinal(), way, one.kind, sheet.species, one.number, laid.entry.name, one.entry, one.other,
        one.tags, one.paper, one.note, one.id,
    )  # fmt: skip


def _elsewhere(live: Live, entry: Entry, sheet: Sheet) -> Iterator[Went]:
    """What left by a job that was ticked: loaded, or taken to be killed."""
    whom = live.laid.get(str(entry.facts.get("for", "")))
    group = whom.entry if whom is not None else entry
    acts = {step.id: step.act for step in sheet.steps if step.act in ("move off", "slaughter")}
    for tick in in_force(live.facts.ticks.get(entry.id, ())):
        act = acts.get(split_key(tick.key).step) if tick.kind == "done" else None
        if act is None or (act == "slaughter" and sheet.species not in LEAVE):
            continue
        head = tick.measures.get("head", head_of(entry))
        number = int(head) if isinstance(head, int | float) else 1
        what = "left" if act == "move off" else "killed"
        other = str(tick.measures.get("to", tick.measures.get("where", "")))
        yield Went(tick.on, "off", what, sheet.species, number, group.name, group.id, other, "", "", "", "")


def _comes(sheet: Sheet) -> bool:
    """Whether an entry of a sheet is animals that came to the holding: it lays a standstill, or has a step for it."""
    return (is_group(sheet) or sheet.kind == "appointment") and any(step.id == "come" for step in sheet.steps)


def _names(live: Live) -> list[str]:
    return [one.entry.id for one in list(live.laid.values())]
