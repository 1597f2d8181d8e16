"""A text of readings as a table: its separator, its heads, and its rows with the numbers of their lines.

Source: none; RFC 4180 for quoted cells, and the forms in which weather services give their days away.
"""

import csv
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from app.trade.climate.readings_heads import Columns, columns_of, is_units

SEPARATORS = ("\t", ";", "|", ",")
SPACES = " "
LOOKED_AT = 60
MOST_PREAMBLE = 60
MOST_COLUMNS = 200
MOST_ROWS = 150_000


class Line(NamedTuple):
    """A row of a table and the number of the line it stands on, counted from 1."""

    number: int
    cells: Sequence[str]


class Table(NamedTuple):
    """A table: what its columns are called, the units a row under the heads gave them, and its rows."""

    heads: tuple[str, ...]
    units: tuple[str, ...]
    rows: tuple[Line, ...]


def table_of(text: str) -> Table:
    """The table a text holds, whatever stands before its heads.

    Source: none; the separator is the one that parts most lines into equally many cells.
    Raises: ValueError with a sentence when there is no table in it.
    """
    lines = text.removeprefix("\ufeff").replace("\x00", "").splitlines()
    full = [line for line in lines if line.strip()]
    if not full:
        raise ValueError("There is nothing in it.")
    if len(full) > MOST_ROWS:
        raise ValueError(f"It has {len(full)} rows; four hundred years of days are fewer.")
    rows = _parted(lines, _separator(full))
    if not rows:
        raise ValueError("No columns can be told apart in it.")
    at = _heads_at(rows)
    if at is None:
        wide = max(len(row.cells) for row in rows[:LOOKED_AT])
        return Table(tuple(f"Column {n}" for n in range(1, wide + 1)), ("",) * wide, tuple(rows))
    heads = tuple(cell.strip() or f"Column {n}" for n, cell in enumerate(rows[at].cells, 1))
    after = rows[at + 1 :]
    units = ("",) * len(heads)
    if after and is_units(after[0].cells):
        units = _units_under(after[0].cells, len(heads), spaced=_separator(full) == SPACES)
        after = after[1:]
    return Table(heads, units, tuple(after))


def _separator(full: Sequence[str]) -> str:
    """The separator that parts most of the first lines into equally many cells; spaces when none does."""
    middle = full[max(0, min(len(full) // 2, len(full) - LOOKED_AT)) :][:LOOKED_AT]
    best, share = SPACES, 0.6
    for sign in SEPARATORS:
        counts = Counter(line.count(sign) for line in middle)
        counts.pop(0, None)
        if counts and max(counts.values()) / len(middle) > share:
            best, share = sign, max(counts.values()) / len(middle)
    return best


def _parted(lines: Sequence[str], separator: str) -> list[Line]:
    if separator == SPACES:
        parted = ((number, line.split()) for number, line in enumerate(lines, 1))
        return [Line(number, cells) for number, cells in parted if cells]
    return [Line(number, cells) for number, cells in _cells(lines, separator) if any(cell.strip() for cell in cells)]


def _cells(lines: Sequence[str], separator: str) -> Iterator[tuple[int, Sequence[str]]]:
    """The cells line by line: no reading holds a line's end, so an open quote swallows no more than its own line."""
    for number, line in enumerate(lines, 1):
        if '"' not in line:
            yield number, line.split(separator)[:MOST_COLUMNS]
            continue
        try:
            yield number, next(csv.reader([line], delimiter=separator, skipinitialspace=True), [])[:MOST_COLUMNS]
        except csv.Error:
            yield number, line.replace('"', "").split(separator)[:MOST_COLUMNS]


def _heads_at(rows: Sequence[Line]) -> int | None:
    """Where the heads stand: the first row with two known names, else the first when it holds no figure."""
    for at, row in enumerate(rows[:MOST_PREAMBLE]):
        known = columns_of(row.cells)
        if sum(column is not None for column in known) >= 2 and _has_day(known):
            return at
    bare = [cell for cell in rows[0].cells if cell.strip()]
    return 0 if len(bare) > 1 and not any(re.search(r"\d", cell) for cell in bare) else None


def _has_day(known: Columns) -> bool:
    return known.date is not None or known.year is not None or known.max is not None


def _units_under(cells: Sequence[str], wide: int, *, spaced: bool) -> tuple[str, ...]:
    """Units column by column; where only spaces part them, the heads without one (year, month) come first."""
    listed = [cell.strip() for cell in cells]
    if spaced and len(listed) < wide:
        listed = [""] * (wide - len(listed)) + listed
    return tuple((listed + [""] * wide)[:wide])
