"""Water a day: of birds by age or lay, of the others by head; more in the heat."""

from collections.abc import Sequence
from itertools import pairwise

from app.errors import OutOfRange

HOT_C, HOT_SHARE = 32.0, 1.5
"""Above 32 °C they drink 30 to 50 % more; the higher is planned for. Source: common practice."""


def water_l_a_day(head: float, litres_each: float, air_c: float = 20.0) -> float:
    """Water for a group a day.

    Valid: 0 and more. Source: `feed.toml`. Raises: OutOfRange below that.
    """
    if head < 0 or litres_each < 0:
        raise OutOfRange("A head count or litres each", min(head, litres_each), "0 and more")
    return head * litres_each * (HOT_SHARE if air_c > HOT_C else 1.0)


def litres_each(at: float, table: Sequence[tuple[float, float]]) -> float:
    """Litres a bird a day between the rows of a table of (age in weeks or lay in %, litres for 1000 birds).

    Valid: within the table. Source: the table's own. Raises: OutOfRange outside it.
    """
    rows = sorted(table)
    if not rows or not rows[0][0] <= at <= rows[-1][0]:
        raise OutOfRange("An age or a lay", at, f"{rows[0][0]:g} to {rows[-1][0]:g}" if rows else "no rows")
    for (low, few), (high, many) in pairwise(rows):
        if at <= high:
            return (few + (many - few) * (at - low) / (high - low)) / 1000
    return rows[-1][1] / 1000
