"""Batches out as one table for a spreadsheet; and how any table that is sent is read: its lines, names and days."""

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.records.csvs import BOM, guarded
from app.records.store import BatchRow
from app.rules.spans import Day
from app.services.larder.lot_parts import SLACK

COLUMNS = (
    "number", "what", "variety", "made", "keeps until", "basis", "there were", "left", "unit", "pack kg", "place",
    "killed", "source", "note", "state",
)  # fmt: skip
USED_UP, EATEN, HERE = "used up", "taken as eaten", "here"
"""What the column ``state`` says."""
MOST_ROWS, MOST_LETTERS = 5000, 600_000
_BRITISH = re.compile(r"(\d{1,2})[./](\d{1,2})[./](\d{4})")


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


def _cells(row: BatchRow) -> tuple[str, ...]:
    there = row.left is None or row.left > SLACK
    return (
        row.number, row.what, row.variety, date.fromordinal(row.made_on).isoformat(),
        "" if row.keeps_until is None else date.fromordinal(row.keeps_until).isoformat(), row.basis,
        _plain(row.amount), _plain(row.left), row.unit, _plain(row.pack_kg), row.place or row.store, row.killed,
        row.source, row.note, (EATEN if there else USED_UP) if row.gone else HERE,
    )  # fmt: skip


def _plain(value: float | None) -> str:
    return "" if value is None else f"{value:.10g}"


# ── Any table that is sent ────────────────────────────────────────────────────────────────────────────────────────


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
