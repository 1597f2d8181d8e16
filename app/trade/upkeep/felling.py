"""Felling by the calendar quarter: what a tree holds, and how much of the allowance is left."""

from collections.abc import Iterable
from datetime import date
from math import pi
from typing import NamedTuple

from app.errors import OutOfRange

FORM = 0.42


class Quarter(NamedTuple):
    """A calendar quarter, both days inclusive."""

    first: date
    last: date


class Account(NamedTuple):
    """A quarter's felling (m³): felled, sold of it, left of each allowance (None where there is no limit on sales)."""

    quarter: Quarter
    felled_m3: float
    sold_m3: float
    left_m3: float
    left_to_sell_m3: float | None
    licence: bool


def tree_m3(stem_cm: float, height_m: float, form: float = FORM) -> float:
    """Volume of a standing tree (m³): pi / 4 x d² x h x F, d over bark at 1.3 m.

    Source: common practice, F 0.4 to 0.5.
    Raises: OutOfRange for a stem outside 1 to 300 cm, or a height outside 1 to 60 m.
    """
    if not 1 <= stem_cm <= 300 or not 1 <= height_m <= 60 or not 0.2 <= form <= 0.7:
        raise OutOfRange("A stem", stem_cm, "1 to 300 cm, on a tree of 1 to 60 m")
    return pi / 4 * (stem_cm / 100) ** 2 * height_m * form


def quarter_of(day: date) -> Quarter:
    """The calendar quarter a day lies in; it never shifts by hemisphere.

    Source: Forestry Act 1967, section 9: each quarter begins on 1 January, April, July and October.
    """
    first = date(day.year, (day.month - 1) // 3 * 3 + 1, 1)
    after = date(day.year + (first.month == 10), first.month % 12 + 3 if first.month < 10 else 1, 1)
    return Quarter(first, date.fromordinal(after.toordinal() - 1))


def quarter_account(
    felled: Iterable[tuple[date, float, float]], on: date, allowed_m3: float, allowed_sold_m3: float | None = None
) -> Account:
    """What was felled and sold in the quarter of ``on``, and whether a licence is wanted.

    ``felled`` are (day, m³, m³ of it sold); trees that are exempt otherwise are left out by whoever asks. The limits
    are the nation's (`figures` of its rule): 5 m³, of which 2 sold in England and Wales, no limit on sales elsewhere.
    Source: Forestry Act 1967, section 9; SSI 2019/126, regulation 4.
    Raises: OutOfRange for less than nothing, or more sold than felled.
    """
    quarter = quarter_of(on)
    here = [(m3, sold) for day, m3, sold in felled if quarter.first <= day <= quarter.last]
    if any(not 0 <= sold <= m3 for m3, sold in here):
        raise OutOfRange("Timber sold", max(sold for _, sold in here), "no less than 0, and no more than was felled")
    total, sold = sum(m3 for m3, _ in here), sum(sold for _, sold in here)
    to_sell = None if allowed_sold_m3 is None else max(allowed_sold_m3 - sold, 0.0)
    over = total > allowed_m3 + 1e-9 or (allowed_sold_m3 is not None and sold > allowed_sold_m3 + 1e-9)
    return Account(quarter, total, sold, max(allowed_m3 - total, 0.0), to_sell, over)


def trees_within(each_m3: float, allowed_m3: float) -> int:
    """How many trees of one size the allowance covers.

    Source: arithmetic.
    Raises: OutOfRange for a tree of no volume.
    """
    if each_m3 <= 0:
        raise OutOfRange("A tree's volume", each_m3, "above 0 m³")
    return int(allowed_m3 / each_m3 + 1e-9)
