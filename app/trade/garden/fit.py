"""What fits: rows in a bed, plants in a row, trays under cover."""

from collections.abc import Sequence
from math import ceil, floor
from typing import NamedTuple

from app.errors import OutOfRange

CELLS_A_TRAY = 40
"""Plants in a tray of cells; common practice."""
POTS_A_TRAY = 15
"""Nine-centimetre pots in a tray of standard size; common practice."""
_EDGE = 1e-9


class Fit(NamedTuple):
    """Rows along a bed, plants in each, plants in all, and metres of row."""

    rows: int
    per_row: int
    plants: int
    row_m: float


class Batch(NamedTuple):
    """So many trays begun on a day."""

    day: int
    trays: int


class Room(NamedTuple):
    """Trays under cover: what fits on the wished day, batches that fit by the last useful day, and what never does."""

    now: int
    batches: tuple[Batch, ...]
    too_many: int


def fits(length_m: float, width_m: float, plant_cm: float, row_cm: float) -> Fit:
    """What fits a bed: rows lengthwise, half a space left at the sides and ends; one row and one plant at least.

    Valid: beds up to 1000 m, spacings 0.5 cm to 10 m.
    Source: common practice; 30 m at 5 cm are 600 plants.
    Raises: OutOfRange for a bed or a spacing of nothing, and beyond the range.
    """
    for name, value, low, high, unit in (
        ("A bed's length", length_m, 0.1, 1000, "m"),
        ("A bed's width", width_m, 0.05, 1000, "m"),
        ("A distance between plants", plant_cm, 0.5, 1000, "cm"),
        ("A distance between rows", row_cm, 0.5, 1000, "cm"),
    ):
        if not low <= value <= high:
            raise OutOfRange(name, value, f"{low:g} to {high:g} {unit}")
    rows = max(1, floor(100 * width_m / row_cm + _EDGE))
    per_row = max(1, floor(100 * length_m / plant_cm + _EDGE))
    return Fit(rows, per_row, rows * per_row, rows * length_m)


def ground_m2(row_cm: float, row_m: float = 0.0, plants: float = 0.0, plant_cm: float = 0.0) -> float:
    """The ground that a sowing takes: its metres of row, or its plants, each with its own space.

    Source: geometry; half a space on every side.
    Raises: OutOfRange for rows of no width.
    """
    if row_cm <= 0:
        raise OutOfRange("A distance between rows", row_cm, "more than 0 cm")
    length_m = row_m or plants * plant_cm / 100
    return length_m * row_cm / 100


def trays_for(plants: float, *, pots: bool = False) -> int:
    """Trays for so many plants, in cells or, when they are potted on, in nine-centimetre pots.

    Source: `CELLS_A_TRAY`, `POTS_A_TRAY`, common practice.
    """
    return ceil(max(0.0, plants) / (POTS_A_TRAY if pots else CELLS_A_TRAY))


def room_for(
    room: int, taken: Sequence[tuple[int, int, int]], trays: int, first: int, stands_days: int, last: int
) -> Room:
    """Whether trays find room under cover from ``first`` on, each standing ``stands_days``; else staggered, or fewer.

    ``taken`` are (first day, last day, trays) of what stands there. Batches are begun as room comes free, none after
    ``last``, the last useful day; what then finds none is too many. Each batch is as large as fits for all its days.
    Source: none; counting.
    Raises: OutOfRange for no room, or trays that stand for no time.
    """
    if room < 0 or trays < 0:
        raise OutOfRange("Trays", min(room, trays), "0 or more")
    if stands_days < 1:
        raise OutOfRange("Days under cover", stands_days, "1 or more")
    held = list(taken)
    now = min(trays, _free(room, held, first, stands_days))
    batches, left = [], trays
    starts = sorted({first, *(end + 1 for _, end, _ in held if first <= end < last)})
    while starts and left > 0:
        day = starts.pop(0)
        count = min(left, _free(room, held, day, stands_days))
        if count <= 0:
            continue
        batches.append(Batch(day, count))
        held.append((day, day + stands_days - 1, count))
        left -= count
        if day + stands_days <= last:
            starts = sorted({*starts, day + stands_days})
    return Room(now, tuple(batches), left)


def _free(room: int, held: Sequence[tuple[int, int, int]], day: int, days: int) -> int:
    """The least room that is free on all the days from ``day`` on."""
    starts = [day, *(begins for begins, _, _ in held if day < begins < day + days)]
    return max(0, min(room - sum(n for begins, ends, n in held if begins <= at <= ends) for at in starts))
