"""Daily readings out of a file: what its columns and units are taken for, what must be asked, and the days.

table = table_of(text)
found = recognise(table, How(), latitude_deg)      # found.doubts: what must be asked first
read = read_days(table, found.how)                 # read.days, and every row that could not be read
"""

from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from app.trade.climate.readings_cells import figure_of, impossible, in_metric, rain_figure_of
from app.trade.climate.readings_dates import month_of, order_of, reader
from app.trade.climate.readings_heads import Columns, columns_of, unit_of
from app.trade.climate.readings_rows import DayCell, day_cell
from app.trade.climate.readings_table import Line, Table
from app.trade.climate.readings_units import rain_guess, temperature_guess

TOLD_EVERY = 500


class How(NamedTuple):
    """How a table is read: its columns, the units, the order of day, month and year; "" is not said."""

    columns: Columns = Columns()
    temperature: str = ""
    rain: str = ""
    order: str = ""


class Recognised(NamedTuple):
    """How a table would be read, and what must be asked before: a sentence for each part in doubt.

    ``shape`` is "daily", "monthly" (a row for each month), or "several" (many rows for one day).
    """

    how: How
    doubts: Mapping[str, str]
    shape: str


class Reading(NamedTuple):
    """A day's readings in °C and mm, None where there is none."""

    day: date
    min_c: float | None
    max_c: float | None
    rain_mm: float | None


class Unread(NamedTuple):
    """A row that was left out: the number of its line, what stands there, and why it can't be so."""

    line: int
    what: str
    why: str


class Readings(NamedTuple):
    """The days of a file in order, and what was not taken: rows that can't be, days said twice alike, empty rows.

    ``missing_months`` are the months between the first and the last of which no day is there; ``missing_days`` how many
    days are missing in the others.
    """

    days: tuple[Reading, ...]
    unread: tuple[Unread, ...]
    repeated: int
    empty: int
    missing_months: tuple[tuple[int, int], ...]
    missing_days: int


NOTHING_SAID = How()


def recognise(table: Table, said: How = NOTHING_SAID, latitude_deg: float = 50.0) -> Recognised:
    """How a table would be read; what is ``said`` stands, the rest is recognised, guessed or asked.

    Source: `columns_of`, `order_of`, `temperature_guess`, `rain_guess`.
    """
    columns = said.columns if any(one is not None for one in said.columns) else columns_of(table.heads)
    doubts: dict[str, str] = {}
    if columns.date is None and (columns.year is None or columns.month is None):
        doubts["date"] = "Which column is the date?"
    if columns.min is None and columns.max is None and columns.rain is None:
        doubts["min"] = "Which columns are the lowest and the highest temperature, or the rain?"
    cell = day_cell(columns)
    order = said.order
    if not order and columns.date is not None:
        told = order_of([cell(row.cells).text for row in table.rows])
        order = told.order
        if not told.sure:
            doubts["order"] = "From these dates it can't be told whether the day or the month comes first."
    order = order or ("" if "order" in doubts else "ymd")
    shape = "" if "date" in doubts or "order" in doubts else _shape(table, columns, order)
    temperature, rain = _units(table, columns, said, latitude_deg, shape, doubts)
    return Recognised(How(columns, temperature, rain, order), doubts, shape)


def _units(
    table: Table, columns: Columns, said: How, latitude_deg: float, shape: str, doubts: dict[str, str]
) -> tuple[str, str]:
    temperature, rain = said.temperature, said.rain
    at = columns.max if columns.max is not None else columns.min
    if not temperature and at is not None:
        stated = _stated(table, at, "max")
        guess = temperature_guess(_figures(table, columns.max), _figures(table, columns.min), stated, latitude_deg)
        temperature = guess.unit
        if guess.doubt:
            doubts["temperature"] = guess.doubt
    if not rain and columns.rain is not None:
        rows_a_year = 12 if shape == "monthly" else 365
        found = rain_guess(_figures(table, columns.rain), _stated(table, columns.rain, "rain"), rows_a_year)
        rain = found.unit
        if found.doubt:
            doubts["rain"] = found.doubt
    return temperature, rain


def _stated(table: Table, at: int, role: str) -> str:
    return unit_of(table.heads[at], table.units[at], role) if at < len(table.heads) else ""


def _figures(table: Table, at: int | None) -> list[float]:
    found: list[float] = []
    for row in table.rows if at is not None else ():
        try:
            value = rain_figure_of(row.cells[at or 0])
        except (ValueError, IndexError):
            continue
        if value is not None:
            found.append(value)
    return found


def _shape(table: Table, columns: Columns, order: str) -> str:
    """Whether there is a row for each day, for each month, or there are many for one day."""
    if columns.date is None and columns.day is None:
        return "monthly"
    cell, read = day_cell(columns), reader(order)
    texts = [cell(row.cells).text for row in table.rows]
    if texts and sum(month_of(text) is not None for text in texts) * 2 > len(texts):
        return "monthly"
    days = []
    for row in table.rows[:2000]:
        try:
            days.append(cell(row.cells).day(read))
        except ValueError:
            continue
    if len(days) >= 6 and len({(day.year, day.month) for day in days}) == len(days):
        return "monthly"
    return "several" if len(days) > 20 and len(set(days)) * 3 < len(days) else "daily"


# ── Reading the days ──────────────────────────────────────────────────────────────────────────────────────────────


def read_days(
    table: Table, how: How, *, until: date | None = None, heard: Callable[[int, int], None] | None = None
) -> Readings:
    """Every day that can be read, and every row that can't; ``until`` is the last day that has come.

    ``heard`` is told now and then how many rows of how many are read. Of two rows with different figures for one day
    the first counts.
    Source: the rules of `app.trade.climate.readings_cells`.
    """
    cell, read, measure = day_cell(how.columns), reader(how.order or "ymd"), measures_of(how)
    found: dict[date, Reading] = {}
    unread: list[Unread] = []
    repeated = empty = 0
    for number, row in enumerate(table.rows):
        if heard and number % TOLD_EVERY == 0:
            heard(number, len(table.rows))
        one = _read_row(row, cell, read, measure, until)
        if isinstance(one, Unread):
            unread.append(one)
        elif one.min_c is None and one.max_c is None and one.rain_mm is None:
            empty += 1
        elif one.day not in found:
            found[one.day] = one
        elif found[one.day] == one:
            repeated += 1
        else:
            unread.append(
                Unread(row.number, str(one.day), "that day stands here twice with other figures; the first counts")
            )
    days = tuple(found[day] for day in sorted(found))
    return Readings(days, tuple(unread), repeated, empty, *_missing(days))


Measured = tuple[float | None, float | None, float | None]


def measures_of(how: How) -> Callable[[Sequence[str]], Measured]:
    """What reads the lowest, the highest and the rain out of a row's cells, in °C and mm.

    Source: `figure_of`, `in_metric`.
    """
    columns = how.columns
    warm, wet = in_metric(how.temperature or "c"), in_metric(how.rain or "mm")
    wanted = ((columns.min, figure_of, warm), (columns.max, figure_of, warm), (columns.rain, rain_figure_of, wet))

    def measure(cells: Sequence[str]) -> Measured:
        found: list[float | None] = []
        for at, read, step in wanted:
            if at is None or at >= len(cells):
                found.append(None)
                continue
            try:
                value = read(cells[at])
            except ValueError as error:
                raise ValueError(f"{cells[at].strip()[:40]!r} {error}") from error
            found.append(None if value is None else step(value))
        return found[0], found[1], found[2]

    return measure


def _read_row(
    row: Line,
    cell: Callable[[Sequence[str]], DayCell],
    read: Callable[[str], date],
    measure: Callable[[Sequence[str]], Measured],
    until: date | None,
) -> Reading | Unread:
    said = cell(row.cells)
    try:
        day = said.day(read)
    except ValueError as error:
        return Unread(row.number, said.text[:40] or ", ".join(row.cells)[:40], str(error))
    if until is not None and day > until:
        return Unread(row.number, said.text[:40], "that day has not come yet")
    if day.year < 1600:
        return Unread(row.number, said.text[:40], "nobody read a thermometer then")
    try:
        min_c, max_c, rain_mm = measure(row.cells)
    except ValueError as error:
        return Unread(row.number, said.text[:40], str(error))
    wrong = impossible(min_c, max_c, rain_mm)
    if wrong:
        return Unread(row.number, f"{said.text[:40]}: {wrong[0]}", wrong[1])
    return Reading(day, min_c, max_c, rain_mm)


def _missing(days: Sequence[Reading]) -> tuple[tuple[tuple[int, int], ...], int]:
    """The months of which no day is there, and how many days are missing in the others."""
    if not days:
        return (), 0
    here = {(one.day.year, one.day.month) for one in days}
    month, last = (days[0].day.year, days[0].day.month), (days[-1].day.year, days[-1].day.month)
    gone, gone_days = [], 0
    while month < last:
        after = (month[0] + month[1] // 12, month[1] % 12 + 1)
        if month not in here:
            gone.append(month)
            gone_days += (date(*after, 1) - date(*month, 1)).days
        month = after
    span = (days[-1].day - days[0].day) // timedelta(1) + 1
    return tuple(gone), span - len(days) - gone_days
