"""Days as files write them: which order their figures stand in, and the day each names.

Source: ISO 8601 for year, month, day; the other orders are told from the days themselves, or not at all.
"""

import re
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from itertools import pairwise
from typing import NamedTuple

MOST_LOOKED_AT = 4000
_FIGURES = re.compile(r"(\d{1,4})\s?[-/. ]\s?(\d{1,2})\s?[-/. ]\s?(\d{1,4})(?:[T ,].*|\.)?")
_PACKED = re.compile(r"(\d{4})(\d\d)(\d\d)(?:[T ]?\d{2,6})?Z?")
_DAY_FIRST = re.compile(
    r"(?:[A-Za-z]+,?\s)?(\d{1,2})(?:st|nd|rd|th)?[-/. ]*([A-Za-z]{3,9})\.?,?[-/. ]*(\d{2,4})(?:[T ,].*)?"
)
_MONTH_FIRST = re.compile(r"([A-Za-z]{3,9})\.?[-/. ]*(\d{1,2})(?:st|nd|rd|th)?,?[-/. ]+(\d{4})(?:[T ,].*)?")
_ONE_MONTH = re.compile(r"(\d{4})[-/. ](\d{1,2})|(\d{1,2})[-/. ](\d{4})|([A-Za-z]{3,9})\.?[-/. ]*(\d{4})")
_NAMES = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


class Order(NamedTuple):
    """In which order the figures of the dates stand; "" when the days themselves don't tell."""

    order: str
    sure: bool


def order_of(texts: Sequence[str]) -> Order:
    """The order of day, month and year in these dates.

    Source: a figure above 12 is no month; among days that could be read both ways, the reading in which one day
    follows the other more often.
    """
    triples = _triples(texts)
    if not triples or sum(first > 31 for first, _, _ in triples) * 2 > len(triples):
        return Order("ymd", sure=True)
    first_big = sum(first > 12 for first, _, _ in triples)
    second_big = sum(second > 12 for _, second, _ in triples)
    if first_big or second_big:
        return Order("dmy" if first_big >= second_big else "mdy", sure=True)
    steps = {order: _follow(triples, order) for order in ("dmy", "mdy")}
    best = max(steps, key=lambda order: steps[order])
    other = min(steps.values())
    if steps[best] >= max(2, len(triples) // 2) and other * 2 <= steps[best]:
        return Order(best, sure=True)
    return Order("", sure=False)


def _triples(texts: Iterable[str]) -> list[tuple[int, int, int]]:
    found = []
    for text in texts:
        match = _FIGURES.fullmatch(text.strip())
        if match:
            first, second, third = match.groups()
            found.append((int(first) if len(first) < 3 else 99, int(second), int(third)))
        if len(found) >= MOST_LOOKED_AT:
            break
    return found


def _follow(triples: Sequence[tuple[int, int, int]], order: str) -> int:
    days = []
    for first, second, year in triples:
        month, day = (second, first) if order == "dmy" else (first, second)
        try:
            days.append(date(_full(year), month, day).toordinal())
        except ValueError:
            return 0
    return sum(after - before == 1 for before, after in pairwise(days))


def reader(order: str) -> Callable[[str], date]:
    """A reader of dates in this order; names of months are read in English whatever the order.

    Source: ISO 8601; a year of two figures is of the century nearest to 2000, 69 and later of the one before.
    """

    def read(text: str) -> date:
        text = text.strip()
        if match := _FIGURES.fullmatch(text):
            return _of_figures(match.groups(), order)
        if match := _PACKED.fullmatch(text):
            return _day(int(match[1]), int(match[2]), int(match[3]))
        if match := _DAY_FIRST.fullmatch(text):
            return _day(_full(int(match[3])), month_named(match[2], text), int(match[1]))
        if match := _MONTH_FIRST.fullmatch(text):
            return _day(int(match[3]), month_named(match[1], text), int(match[2]))
        raise ValueError("is no date" if text else "the day is missing")

    return read


def month_of(text: str) -> tuple[int, int] | None:
    """The year and month of a text that names no day: "2020-01", "1/2020", "Jan 2020"; None when it is no such text.

    Source: ISO 8601, and English names.
    """
    match = _ONE_MONTH.fullmatch(text.strip())
    if not match:
        return None
    year, month, month_too, year_too, name, year_after = match.groups()
    if name:
        number = next((n for n, known in enumerate(_NAMES, 1) if name.lower().startswith(known)), 0)
        return (int(year_after), number) if number else None
    found = (int(year or year_too), int(month or month_too))
    return found if 1 <= found[1] <= 12 else None


def month_named(name: str, text: str = "") -> int:
    """The number of a month by its English name or its first three letters.

    Source: none.
    Raises: ValueError when it is none.
    """
    for number, known in enumerate(_NAMES, 1):
        if name.lower().startswith(known):
            return number
    raise ValueError("is no date" if text else "is no month")


def _of_figures(parts: Sequence[str], order: str) -> date:
    first, second, third = (int(part) for part in parts)
    if len(parts[0]) > 2 or order == "ymd":
        return _day(_full(first) if len(parts[0]) < 3 else first, second, third)
    month, day = (second, first) if order == "dmy" else (first, second)
    return _day(_full(third) if len(parts[2]) < 3 else third, month, day)


def _day(year: int, month: int, day: int) -> date:
    try:
        return date(year, month, day)
    except ValueError as error:
        raise ValueError("there is no such day") from error


def _full(year: int) -> int:
    if year > 99:
        return year
    return year + (1900 if year > 68 else 2000)
