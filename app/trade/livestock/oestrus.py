"""Heats, returns to heat, and the plan of a tupping counted back from the first lamb wanted."""

from math import ceil
from typing import NamedTuple

from app.errors import OutOfRange

RAM_CHECK_DAYS = 70
"""Seed takes seven to eight weeks to ripen: a ram is looked at before that. Source: common practice."""
FLUSH_DAYS = 21
EWES_A_RAM = 40
EWES_A_RAM_LAMB = 20
"""Source: common practice, 40 to 50 and 20 to 25; the lower."""


class Tupping(NamedTuple):
    """Day numbers: ram looked over, better grass, ram in, raddle colours changed, ram out, first and last due."""

    ram_check: int
    flush: int
    ram_in: int
    colours: tuple[int, ...]
    ram_out: int
    first_due: int
    last_due: int


def next_heat(last_heat: int, low_days: int, best_days: int, high_days: int) -> tuple[int, int, int]:
    """The days between which the next heat comes: a heat then, after a service, says she did not hold.

    Valid: low <= best <= high. Source: Merck Veterinary Manual, Features of the reproductive cycle.
    Raises: OutOfRange beyond that.
    """
    if not 0 < low_days <= best_days <= high_days:
        raise OutOfRange("A cycle in days", best_days, f"{low_days:g} to {high_days:g}")
    return last_heat + low_days, last_heat + best_days, last_heat + high_days


def tupping(first_lamb: int, cycles: int, gestation_days: int = 147, cycle_days: int = 17) -> Tupping:
    """The plan for a first lamb on a day: ``in = first - gestation``, ``out = in + cycles * cycle``.

    Marked in the second colour, a ewe is due one cycle later.
    Valid: one to four cycles. Source: common practice; 147 and 17 days as in `species.toml`.
    Raises: OutOfRange beyond that.
    """
    if not 1 <= cycles <= 4:
        raise OutOfRange("Cycles with the ram", cycles, "1 to 4")
    ram_in = first_lamb - gestation_days
    out = ram_in + cycles * cycle_days
    colours = tuple(ram_in + number * cycle_days for number in range(1, cycles))
    return Tupping(ram_in - RAM_CHECK_DAYS, ram_in - FLUSH_DAYS, ram_in, colours, out, first_lamb, out + gestation_days)


def rams_wanted(ewes: int, lambs: bool = False) -> int:
    """Rams for so many ewes: one to 40, or ram lambs one to 20.

    Valid: 0 ewes and more. Source: common practice. Raises: OutOfRange below that.
    """
    if ewes < 0:
        raise OutOfRange("Ewes", ewes, "0 and more")
    return ceil(ewes / (EWES_A_RAM_LAMB if lambs else EWES_A_RAM))
