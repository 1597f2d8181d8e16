"""Days that a household says itself, or counts in cycles: a bottle once opened, a ram's weeks, a vet's term."""

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

EWE_CYCLE_DAYS = 17
"""Source: Merck Veterinary Manual, Features of the reproductive cycle."""


@work
def days_said(wait_d: float) -> Reckoned:
    """As many days as were said.

    Valid: 0 to 3650. Source: whoever said it. Raises: OutOfRange beyond that.
    """
    if not 0 <= wait_d <= 3650:
        raise OutOfRange("A wait in days", wait_d, "0 to 3650")
    return days(round(wait_d), f"{wait_d:g} days, as was said")


@work
def ram_days(cycles: float) -> Reckoned:
    """Days that a ram runs with the ewes: 17 for each cycle.

    Valid: 1 to 4 cycles. Source: `EWE_CYCLE_DAYS`. Raises: OutOfRange beyond that.
    """
    if not 1 <= cycles <= 4:
        raise OutOfRange("Cycles with the ram", cycles, "1 to 4")
    return days(round(cycles) * EWE_CYCLE_DAYS, f"{cycles:g} cycles of {EWE_CYCLE_DAYS} days")
