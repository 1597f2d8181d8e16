"""A file with a row for each month: the mean of each month over its years."""

from collections.abc import Iterator
from typing import NamedTuple

from app.trade.climate.readings import How, Unread, measures_of
from app.trade.climate.readings_cells import impossible
from app.trade.climate.readings_dates import month_of, reader
from app.trade.climate.readings_rows import day_cell
from app.trade.climate.readings_table import Table


class MonthMean(NamedTuple):
    """The mean lowest and highest temperature of a month and its rain, over so many years."""

    month: int
    min_c: float
    max_c: float
    rain_mm: float | None
    years: int


class Means(NamedTuple):
    """The months that could be told, January first, and the rows that can't be read."""

    months: tuple[MonthMean, ...]
    unread: tuple[Unread, ...]


MOST_MONTH_MM = 9300.0
Row = tuple[float | None, float | None, float | None]


def monthly_means(table: Table, how: How, years: int = 30) -> Means:
    """The means over the last ``years`` years of the file of those months that have both temperatures.

    Source: World Meteorological Organization, Guidelines on the Calculation of Climate Normals (WMO-No. 1203): the
    mean of the monthly values over thirty years; fewer where there are no more.
    """
    unread: list[Unread] = []
    rows = list(_rows(table, how, unread))
    last = max((year for year, _, _ in rows), default=0)
    by_month: dict[int, list[Row]] = {}
    for year, month, row in rows:
        if year > last - years:
            by_month.setdefault(month, []).append(row)
    means = [_mean(month, by_month[month]) for month in sorted(by_month)]
    return Means(tuple(mean for mean in means if mean is not None), tuple(unread))


def _rows(table: Table, how: How, unread: list[Unread]) -> Iterator[tuple[int, int, Row]]:
    cell, read, measure = day_cell(how.columns), reader(how.order or "ymd"), measures_of(how)
    for row in table.rows:
        said = cell(row.cells)
        try:
            named = month_of(said.text) if said.parts is None else None
            if named is None:
                day = said.day(read)
                named = (day.year, day.month)
            min_c, max_c, rain_mm = measure(row.cells)
        except ValueError as error:
            unread.append(Unread(row.number, said.text[:40], str(error)))
            continue
        wrong = impossible(min_c, max_c, None if rain_mm is None or rain_mm <= MOST_MONTH_MM else rain_mm)
        if wrong:
            unread.append(Unread(row.number, f"{said.text[:40]}: {wrong[0]}", wrong[1]))
            continue
        yield *named, (min_c, max_c, rain_mm)


def _mean(month: int, rows: list[Row]) -> MonthMean | None:
    both = [(low, high) for low, high, _ in rows if low is not None and high is not None]
    if not both:
        return None
    rain = [fall for _, _, fall in rows if fall is not None]
    return MonthMean(
        month,
        sum(low for low, _ in both) / len(both),
        sum(high for _, high in both) / len(both),
        sum(rain) / len(rain) if rain else None,
        len(both),
    )
