"""Spans of time as ISO 8601 durations, and their arithmetic on day numbers.

Source: ISO 8601-1:2019, 5.5.2 (durations; a leading minus as in XML Schema 1.1 part 2, 3.3.6). Weeks stand alone;
years, months and days may be combined. Months are added first and clamp to the month's last day, then days, as
python-dateutil's ``relativedelta`` does.
"""

import re
from calendar import monthrange
from datetime import date
from functools import lru_cache
from math import ceil
from typing import NamedTuple

Day = int
"""A day as its proleptic Gregorian ordinal: ``date.toordinal()``."""

_PATTERN = re.compile(r"(?P<sign>[-+]?)P(?:(?P<w>\d+)W|(?=\d)(?:(?P<y>\d+)Y)?(?:(?P<m>\d+)M)?(?:(?P<d>\d+)D)?)")


class Span(NamedTuple):
    """A signed length of time: calendar ``months``, then ``days``."""

    months: int
    days: int

    def __neg__(self) -> "Span":
        return Span(-self.months, -self.days)


NOTHING = Span(0, 0)


@lru_cache(maxsize=4096)
def span(text: str) -> Span:
    """Read an ISO 8601 duration in years, months, days or weeks, with an optional sign.

    >>> span("P1Y6M"), span("-P8W")
    (Span(months=18, days=0), Span(months=0, days=-56))

    Raises: ValueError when the text is no such duration.
    Source: ISO 8601-1:2019, 5.5.2.
    """
    found = _PATTERN.fullmatch(text)
    if not found:
        raise ValueError(f"{text!r} is not an ISO 8601 duration such as 'P2W', 'P1M10D' or '-P8W'")
    years, months, weeks, days = (int(found[part] or 0) for part in ("y", "m", "w", "d"))
    length = Span(12 * years + months, 7 * weeks + days)
    return -length if found["sign"] == "-" else length


def whole_days(figure: float) -> int:
    """A figure of days as whole ones: a part of a day counts as one, so that nothing is free too soon.

    Source: common practice.
    """
    return ceil(round(figure, 6))


def add(day: Day, length: Span) -> Day:
    """The day that lies ``length`` after ``day``: months first, clamped to the month's end, then days.

    Agrees with ``date + relativedelta(months=..., days=...)`` of python-dateutil.
    Source: RFC 5545, 3.3.6, for the order (nominal parts first).
    """
    if not length.months:
        return day + length.days
    start = date.fromordinal(day)
    index = start.year * 12 + start.month - 1 + length.months
    year, month = index // 12, index % 12 + 1
    return date(year, month, min(start.day, monthrange(year, month)[1])).toordinal() + length.days


def length_in_days(length: Span) -> int:
    """About how many days a span has, a month taken as 30.4375: for ordering and margins, never for dates.

    Source: the Gregorian mean year of 365.2425 days (ISO 8601-1:2019, 3.2.1), divided by twelve, rounded.
    """
    return round(length.months * 30.4375) + length.days


def words(length: Span) -> str:
    """A span as a person says it: "8 weeks", "1 year 6 months", "10 days"."""
    months, days = abs(length.months), abs(length.days)
    years, months = divmod(months, 12)
    weeks, rest = divmod(days, 7)
    parts = [(years, "year"), (months, "month")]
    parts += [(weeks, "week")] if days and not rest else [(days, "day")]
    return " ".join(f"{n} {noun}{'s' if n != 1 else ''}" for n, noun in parts if n) or "0 days"
