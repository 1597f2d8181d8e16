"""The day of a row, whether it stands in one column or in three."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import NamedTuple

from app.trade.climate.readings_dates import month_named
from app.trade.climate.readings_heads import Columns


class DayCell(NamedTuple):
    """The day of a row as it stands there; ``parts`` are year, month and day where those stand apart."""

    text: str
    parts: tuple[str, str, str] | None = None

    def day(self, read: Callable[[str], date]) -> date:
        """The day itself.

        Source: none.
        Raises: ValueError that says why it is none.
        """
        if self.parts is None:
            return read(self.text)
        year, month, day = self.parts
        try:
            number = int(month) if month.strip().isdigit() else month_named(month.strip())
            return date(int(year), number, int(day or "1"))
        except ValueError as error:
            digits = year.strip().isdigit() and (day.strip().isdigit() or not day)
            raise ValueError("there is no such day" if digits else "is no date") from error


def day_cell(columns: Columns) -> Callable[[Sequence[str]], DayCell]:
    """What finds the day in a row's cells; a table without a column for days gives the first of the month.

    Source: none.
    """

    def at(cells: Sequence[str], column: int | None) -> str:
        return cells[column].strip() if column is not None and column < len(cells) else ""

    if columns.date is not None:
        return lambda cells: DayCell(at(cells, columns.date))

    def apart(cells: Sequence[str]) -> DayCell:
        parts = (at(cells, columns.year), at(cells, columns.month), at(cells, columns.day))
        return DayCell("-".join(part for part in parts if part), parts)

    return apart
