"""Withdrawal: when meat, eggs and milk of a treated animal are free, and the least figure the law lets a vet write.

Advice inside one is refused; the killing of a casualty never is, and its meat is not eaten.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta
from math import ceil
from typing import Literal, NamedTuple

from app.errors import OutOfRange

Commodity = Literal["meat", "milk", "eggs"]
COMMODITIES: tuple[Commodity, ...] = ("meat", "milk", "eggs")


class Floor(NamedTuple):
    """The least withdrawal off the label, for one commodity: ``factor`` times the label's longest for another animal;
    ``unauthorised_days`` where the product has none for this commodity; ``zero_days`` where the label says nought;
    ``flat_days`` under older law that knew one figure alone."""

    commodity: Commodity
    factor: float = 0.0
    unauthorised_days: int = 0
    zero_days: int = 0
    flat_days: int = 0


def first_ok(last_dose: int, days: float | None) -> int | None:
    """The first day number on which it may be eaten or sold, from dates alone: ``last dose + days + 1``.

    The whole days must have passed; nought clears the same day; a part of a day counts as one. None, never, where the
    figure is missing or the label says "not for animals whose eggs or milk are eaten": ask the vet.
    Valid: 0 days and more. Source: Finnish Medicines Agency, What is a withdrawal period? (6 days of milk: good from
    the seventh). Raises: OutOfRange below 0.
    """
    if days is None:
        return None
    if days < 0:
        raise OutOfRange("A withdrawal in days", days, "0 and more")
    whole = ceil(round(days, 6))
    return last_dose + whole + 1 if whole else last_dose


def clear_at(last_dose: datetime, hours: float | None) -> datetime | None:
    """The hour from which milk is free: ``last dose + hours``; None where the figure is missing.

    Valid: 0 hours and more. Source: labels count milk in hours from the last dose. Raises: OutOfRange below 0.
    """
    if hours is None:
        return None
    if hours < 0:
        raise OutOfRange("A withdrawal in hours", hours, "0 and more")
    return last_dose + timedelta(hours=hours)


def first_ok_of(treatments: Iterable[tuple[int, float | None]]) -> int | None:
    """Free after every one of several treatments, each of (last dose, days): the latest; None where any never clears.

    For a group treated together, or that can't be told apart, it is the whole group's.
    Valid: one treatment or more. Source: as `first_ok`. Raises: OutOfRange without one.
    """
    found = [first_ok(last, days) for last, days in treatments]
    if not found:
        raise OutOfRange("Treatments", 0, "one or more")
    days = [day for day in found if day is not None]
    return max(days) if len(days) == len(found) else None


def floor_days(floor: Floor, label_days: float | None) -> int:
    """The least days that a figure off the label may have; ``label_days`` None: not authorised for this commodity.

    The vet's own figure is what holds; this only refuses one that is lower.
    Valid: 0 days and more. Source: each floor's own. Raises: OutOfRange below 0.
    """
    if label_days is not None and label_days < 0:
        raise OutOfRange("A withdrawal on the label in days", label_days, "0 and more")
    if floor.flat_days:
        return floor.flat_days
    if label_days is None:
        return floor.unauthorised_days
    return ceil(round(floor.factor * label_days, 6)) if label_days else floor.zero_days


def not_below(days: float, floor: Floor, label_days: float | None) -> float:
    """The figure itself, when the law lets it stand.

    Valid: figures at the floor or above. Source: `floor_days`. Raises: OutOfRange below it.
    """
    least = floor_days(floor, label_days)
    if days < least:
        advice = "Off the label the law sets a least figure: ask the vet again."
        raise OutOfRange(f"A withdrawal for {floor.commodity} in days", days, f"{least} and more", advice)
    return days
