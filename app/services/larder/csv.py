"""Batches out as one table for a spreadsheet, and in from one: looked at first, then taken in. A row counts once."""

import csv
import io
import math
import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from hashlib import blake2b
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.records.csvs import BOM, guarded, unguarded
from app.records.store import BatchRow, LotRow
from app.rules.spans import Day
from app.services.book import Book

COLUMNS = (
    "number", "what", "made", "keeps until", "basis", "left", "unit", "place", "killed", "source", "note", "state",
)  # fmt: skip
WANTED = ("what", "made", "left", "unit")
KILLED: Mapping[str, str] = {
    "home": "home", "at home": "home", "abattoir": "abattoir", "at an abattoir": "abattoir", "bought": "bought",
}  # fmt: skip
OTHER_NAMES = {
    "amount": "left",
    "how much": "left",
    "use by": "keeps until",
    "best before": "keeps until",
    "name": "what",
}
MOST_ROWS, MOST_LETTERS = 5000, 300_000
LONGEST = {"what": 80, "unit": 20, "place": 80, "note": 2000}
_BRITISH = re.compile(r"(\d{1,2})[./](\d{1,2})[./](\d{4})")


class Read(NamedTuple):
    """A row that can be taken in: the batch, how it was killed, and an id that the same row has again."""

    id: str
    what: str
    made_on: Day
    keeps_until: Day | None
    amount: float
    unit: str
    place: str
    killed: str
    note: str


class Looked(NamedTuple):
    """What was understood of a table: rows to take in, lines that can't be read and why, rows that are here already."""

    rows: tuple[Read, ...]
    faults: tuple[tuple[int, str], ...]
    twice: int
    here: tuple[str, ...]


def write(rows: Iterable[BatchRow]) -> bytes:
    """Every batch as CSV (RFC 4180, UTF-8 with a byte-order mark), the first made first."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in sorted(rows, key=lambda one: (one.made_on, one.number)):
        writer.writerow(guarded(cell) for cell in _cells(row))
    return (BOM + out.getvalue()).encode("utf-8")


def every(session: Session) -> list[BatchRow]:
    """Every batch there has been, the seed tin's not among them."""
    return [row for row in store.batch_rows(session) if row.store != "seed tin"]


def look(session: Session, text: str, today: Day) -> Looked:
    """Read a table; nothing is changed.

    Raises: BadInput under "text" when it is no table, or its first line lacks what is wanted.
    """
    names, lines = names_of(lines_of(text), OTHER_NAMES, tuple((name,) for name in WANTED))
    known = store.batch_rows(session)
    numbers, ids = {row.number for row in known}, {row.id for row in known}
    rows: dict[str, Read] = {}
    faults: list[tuple[int, str]] = []
    here: list[str] = []
    twice = 0
    for number, cells in lines:
        said = {name: unguarded(cell.strip()) for name, cell in zip(names, cells, strict=False)}
        try:
            one = _read(said, today)
        except ValueError as error:
            faults.append((number, str(error)))
            continue
        if said.get("number", "") in numbers or one.id in ids:
            here.append(said.get("number") or one.what)
        elif one.id in rows:
            twice += 1
        else:
            rows[one.id] = one
    return Looked(tuple(rows.values()), tuple(faults), twice, tuple(here))


def take_in(book: Book, text: str, today: Day) -> int:
    """Take in the rows of a table that can be read; gives how many batches are new.

    Raises: BadInput as `look`.
    """
    with book.writing() as session:
        rows = look(session, text, today).rows
        for one in rows:
            until = None if one.keeps_until is None else date.fromordinal(one.keeps_until)
            lot = LotRow(
                id=one.id, what=one.what, made_on=date.fromordinal(one.made_on), amount=one.amount, unit=one.unit,
                keeps_until=until, place=one.place, note=one.note, told=date.fromordinal(today),
            )  # fmt: skip
            store.add_lot(session, lot)
        book.replan_lots(session, [one.id for one in rows], today)
        killed = [one for one in rows if one.killed]
        for one in killed:
            store.mark_batch(session, one.id, {"killed": one.killed})
        if killed:
            book.replan_lots(session, [one.id for one in killed], today)
    return len(rows)


def _cells(row: BatchRow) -> tuple[str, ...]:
    there = row.left is None or row.left > 0
    state = ("taken as eaten" if there else "used up") if row.gone else "here"
    until = "" if row.keeps_until is None else date.fromordinal(row.keeps_until).isoformat()
    return (
        row.number, f"{row.what} ‘{row.variety}’" if row.variety else row.what,
        date.fromordinal(row.made_on).isoformat(), until, row.basis, "" if row.left is None else f"{row.left:.10g}",
        row.unit, row.place or row.store, row.killed, row.source, row.note, state,
    )  # fmt: skip


def lines_of(text: str) -> list[tuple[int, Sequence[str]]]:
    """The table's lines that are not empty, each with its number; comma, semicolon or tab, as its first line has.

    Raises: BadInput under "text" when it is no table.
    """
    if len(text) > MOST_LETTERS:
        raise BadInput({"text": f"That is longer than {MOST_LETTERS // 1000} 000 letters: take it in in parts."})
    plain = text.removeprefix(BOM).replace("\x00", "").replace("\r\n", "\n")
    first = plain.lstrip().partition("\n")[0]
    mark = max(",;\t", key=first.count)
    try:
        reader = csv.reader(io.StringIO(plain, newline=""), delimiter=mark, strict=True)
        found: list[tuple[int, Sequence[str]]] = [
            (reader.line_num, cells) for cells in reader if any(cell.strip() for cell in cells)
        ]
    except csv.Error as error:
        raise BadInput({"text": f"That is no table in CSV ({error})."}) from error
    if len(found) < 2:
        raise BadInput({"text": "A line of column names and a line for each thing are wanted."})
    if len(found) > MOST_ROWS + 1:
        raise BadInput({"text": f"That is more than {MOST_ROWS} rows: take it in in parts."})
    return found


def names_of(
    lines: Sequence[tuple[int, Sequence[str]]], others: Mapping[str, str], wanted: Sequence[Sequence[str]]
) -> tuple[list[str], Sequence[tuple[int, Sequence[str]]]]:
    """The names of a table's columns, and its other lines; ``others`` are names that mean the same.

    Of each of ``wanted`` one must be among them. Raises: BadInput under "text" when it is not.
    """
    said = [" ".join(cell.strip().casefold().replace("_", " ").split()) for cell in lines[0][1]]
    names = [others.get(name, name) for name in said]
    missing = [some for some in wanted if not any(name in names for name in some)]
    if missing:
        raise BadInput({"text": f"The first line should name the columns; {missing[0][0]!r} is not among them."})
    return names, lines[1:]


def _read(said: Mapping[str, str], today: Day) -> Read:
    """One row.

    Raises: ValueError with a sentence.
    """
    for name, most in LONGEST.items():
        if len(said.get(name, "")) > most:
            raise ValueError(f"{name}: {most} letters fit.")
    what, unit = said.get("what", ""), said.get("unit", "")
    if not what or not unit:
        raise ValueError("It has no name." if not what else f"In what {what!r} is counted is not said.")
    made, until = day_in(said.get("made", ""), "made"), day_in(said.get("keeps until", ""), "keeps until")
    if made is None or made > today:
        raise ValueError("When it was made is not said." if made is None else "It was made on a day to come.")
    if until is not None and until < made:
        raise ValueError("It keeps until a day before it was made.")
    amount = _figure(said.get("left", ""))
    killed = said.get("killed", "").casefold()
    if killed and killed not in KILLED:
        raise ValueError(f"killed: {killed[:40]!r} is none of home, abattoir, bought.")
    parts = (what, made, until, amount, unit, said.get("place", ""), KILLED.get(killed, ""), said.get("note", ""))
    name = blake2b("\x1f".join(str(part).casefold() for part in parts).encode(), digest_size=15).hexdigest()
    return Read(f"in{name}", *parts)


def day_in(text: str, what: str) -> Day | None:
    """A day of a table, "2027-03-12" or "12/3/2027"; None for none.

    Raises: ValueError with a sentence that names the column.
    """
    if not text:
        return None
    try:
        if found := _BRITISH.fullmatch(text):
            day, month, year = (int(part) for part in found.groups())
            return date(year, month, day).toordinal()
        on = date.fromisoformat(text)
    except ValueError as error:
        raise ValueError(f"{what}: {text[:40]!r} is no day; 12 March 2027 is written 2027-03-12.") from error
    if not 1900 <= on.year <= 2199:
        raise ValueError(f"{what}: the year {on.year} is out of reach.")
    return on.toordinal()


def _figure(text: str) -> float:
    if not text:
        raise ValueError("How much is left is not said.")
    try:
        value = float(text.replace(",", "."))
    except ValueError as error:
        raise ValueError(f"left: {text[:40]!r} is no number.") from error
    if not math.isfinite(value) or not 0 <= value <= 1_000_000:
        raise ValueError(f"left: {text[:40]!r} can’t be; nothing to a million.")
    if value == 0:
        raise ValueError("Nothing is left of it.")
    return value
