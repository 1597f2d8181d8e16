"""Live weight by age from a printed table, and the day on which a bird was hatched to be ready for a feast."""

from collections.abc import Sequence
from itertools import pairwise

from app.errors import OutOfRange


def weight_at_kg(weeks: float, table: Sequence[tuple[float, float]]) -> float:
    """Live weight at an age, on a straight line between the rows of a table of (weeks, kg).

    Valid: within the table. Source: the table's own. Raises: OutOfRange outside it, with its ends.
    """
    rows = sorted(table)
    if len(rows) < 2 or not rows[0][0] <= weeks <= rows[-1][0]:
        ends = f"{rows[0][0]:g} to {rows[-1][0]:g}" if rows else "no rows"
        raise OutOfRange("An age in weeks", weeks, ends)
    for (young, light), (old, heavy) in pairwise(rows):
        if weeks <= old:
            return light + (heavy - light) * (weeks - young) / (old - young)
    raise AssertionError("the last row holds it")


def hatched_by(feast: int, age_days: int, hanging_days: int, margin_days: int = 1) -> int:
    """The day by which birds must be hatched: ``feast - hanging - margin - age``.

    Valid: days of 0 and more. Source: arithmetic. Raises: OutOfRange below that.
    """
    for name, days in (("An age", age_days), ("Hanging", hanging_days), ("A margin", margin_days)):
        if days < 0:
            raise OutOfRange(f"{name} in days", days, "0 and more")
    return feast - hanging_days - margin_days - age_days
