"""One table as CSV (RFC 4180, UTF-8 with a byte-order mark for spreadsheets), and back without loss.

A text that a spreadsheet would take for a formula gets an apostrophe in front, and so does one that begins with an
apostrophe; reading takes one away. Numbers keep their minus. Source: OWASP ASVS 5.0, 1.2.10; RFC 4180.
"""

import csv
import io
import json
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import JSON, Boolean, Column, Date, Float, Integer, Table

from app.errors import BadInput
from app.records.columns import UtcDateTime

FORMULA_STARTS = "=+-@\t\r\x00＝＋－＠"
BOM = "\ufeff"
LARGEST_CELL = 16 * 1024 * 1024
csv.field_size_limit(LARGEST_CELL)  # the module's own 128 KB would refuse a long note that we wrote ourselves


def write_csv(table: Table, rows: Iterable[Sequence[Any]]) -> bytes:
    """Rows of a table, in its columns' order, under a line of their names."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    columns = list(table.columns)
    writer.writerow([column.name for column in columns])
    for row in rows:
        writer.writerow([_write(column, value) for column, value in zip(columns, row, strict=True)])
    return (BOM + out.getvalue()).encode("utf-8")


def read_csv(table: Table, content: bytes, file: str, newer: Collection[str] = ()) -> list[dict[str, Any]]:
    """The rows again, each by its columns' names; columns that are ``newer`` than the file get what they begin with.

    Raises: BadInput that names the file, the line and the column.
    """
    try:
        lines = csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""), strict=True)
        head = next(lines, [])
        columns = _columns(table, head, file, newer)
        rows = []
        for cells in lines:
            if len(cells) != len(columns):
                raise _bad(f"{file}, line {lines.line_num}: {len(cells)} cells where {len(columns)} are wanted.")
            rows.append(_read_row(columns, cells, f"{file}, line {lines.line_num}"))
        return rows
    except (UnicodeDecodeError, csv.Error) as error:
        raise _bad(f"{file} is no CSV file in UTF-8 ({error}).") from error


def guarded(text: str) -> str:
    """A text as a cell that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] and text[0] in FORMULA_STARTS + "'" else text


def unguarded(cell: str) -> str:
    """The text again."""
    return cell[1:] if cell[:1] == "'" else cell


def _columns(table: Table, head: Sequence[str], file: str, newer: Collection[str]) -> list[Column[Any]]:
    known: Mapping[str, Column[Any]] = {column.name: column for column in table.columns}
    strange = [name for name in head if name not in known]
    wanted = [name for name, column in known.items() if name not in newer and not column.nullable]
    missing = [name for name in wanted if name not in head]
    if strange or missing or len(set(head)) != len(head):
        named = ", ".join(strange or missing) or "one twice"
        raise _bad(f"{file}: its first line {'has' if strange else 'lacks'} {named}.")
    return [known[name] for name in head]


def _read_row(columns: Sequence[Column[Any]], cells: Sequence[str], place: str) -> dict[str, Any]:
    row = {}
    for column, cell in zip(columns, cells, strict=True):
        try:
            row[column.name] = _read(column, cell)
        except ValueError as error:
            raise _bad(f"{place}: {column.name} can't be {cell[:40]!r}.") from error
    return row


def _write(column: Column[Any], value: Any) -> str:
    if value is None:
        return ""
    kind = column.type
    if isinstance(kind, Boolean):
        return "yes" if value else "no"
    if isinstance(kind, JSON):
        return json.dumps(value, ensure_ascii=False, sort_keys=True)
    if isinstance(kind, UtcDateTime):
        return str(value.isoformat())
    if isinstance(kind, Date):
        return str(value.isoformat())
    return guarded(value) if isinstance(value, str) else repr(value)


def _read(column: Column[Any], cell: str) -> Any:
    if cell == "" and column.nullable:
        return None
    kind = column.type
    if isinstance(kind, Boolean):
        return {"yes": True, "no": False}[cell] if cell in ("yes", "no") else _refuse()
    if isinstance(kind, JSON):
        value = json.loads(cell)
        return value if isinstance(value, dict) else _refuse()
    if isinstance(kind, UtcDateTime):
        at = datetime.fromisoformat(cell)
        return at.astimezone(UTC) if at.utcoffset() is not None else _refuse()
    if isinstance(kind, Date):
        return date.fromisoformat(cell)
    if isinstance(kind, Integer):
        return int(cell)
    if isinstance(kind, Float):
        return float(cell)
    return unguarded(cell)


def _refuse() -> Any:
    raise ValueError


def _bad(sentence: str) -> BadInput:
    return BadInput({"file": sentence})
