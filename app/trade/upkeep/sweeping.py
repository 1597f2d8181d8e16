"""How long a chimney goes between two sweepings while it is in use."""

from collections.abc import Sequence
from typing import Literal

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work
from app.trade.upkeep.intervals import LastDone

Fuel = Literal["wood", "coal", "smokeless", "oil or gas"]
FUELS: tuple[Fuel, ...] = ("wood", "coal", "smokeless", "oil or gas")
MONTH_DAYS = 30.4375


@work
def sweep_interval_days(
    fuel: Fuel, interval_months: Sequence[float], known: LastDone = "to the day", told: int | None = None, on: int = 0
) -> Reckoned:
    """Days of burning between two sweepings; ``interval_months`` stand in the order of `FUELS`.

    Rounded down: a sweep is sooner rather than later. ``told``, ``known`` and ``on`` are those of `months_between`: a
    chimney of which nobody knows when it was last swept is due at once.
    Source: the months stand on the sheet.
    Raises: OutOfRange when a fuel has no figure.
    """
    if len(interval_months) != len(FUELS) or min(interval_months) <= 0:
        raise OutOfRange("The number of intervals", len(interval_months), f"{len(FUELS)}: {', '.join(FUELS)}")
    if fuel not in FUELS:
        raise OutOfRange("A fuel", 0, f"one of {', '.join(FUELS)}, not {fuel}")
    if told is not None and told == on and known == "not known":
        return days(1, "nobody knows when it was last swept, so it is due now")
    months = interval_months[FUELS.index(fuel)]
    return days(int(months * MONTH_DAYS), f"{fuel}: every {months:g} months of burning")
