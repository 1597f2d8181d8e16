"""When young are due: from one service, or from a male that ran with the females between two days."""

from collections.abc import Sequence
from statistics import fmean

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work

_FEWEST_BIRTHS = 3
"""Fewer births of one's own say less than a table does."""


@work
def birth_days(on: int, low_days: float, best_days: float, high_days: float, male_out: int | None = None) -> Reckoned:
    """Days from service, or from the male's coming in, to birth.

    One service: the range of the species. A running male: from the shortest to ``out - in + best_days``, the ``best``
    being the first that is due. ``male_out`` is the day he left, as a day number; ``on`` the day he came.
    Valid: low <= best <= high; a male that left on or after the day he came.
    Source: the days stand on the sheet; first due = in + G, last due = out + G, arithmetic.
    Raises: OutOfRange beyond that.
    """
    if not 0 < low_days <= best_days <= high_days:
        raise OutOfRange("Days in young", best_days, f"{low_days:g} to {high_days:g}")
    low, best, high = round(low_days), round(best_days), round(high_days)
    if male_out is None:
        return Reckoned(low, best, high, (f"{best} days, {low} to {high}",))
    if male_out < on:
        raise OutOfRange("A male's days with the females", male_out - on, "0 and more", "He left before he came.")
    with_them = male_out - on
    because = f"he ran with them {with_them} days: the first are due after {best} days, the last {best} after he left"
    return Reckoned(low, best, max(best, with_them + best), (because,))


def own_gestation_days(usual_days: float, seen_days: Sequence[float]) -> float:
    """What to reckon with: the mean of one's own births once there are three, else the table's.

    ``seen_days`` are days from a known service to birth.
    Valid: every one within a tenth of the table's: beyond it, the service was another.
    Source: flocks differ (145 to 151 days by breed and by breeder); the number of three is a decision.
    Raises: OutOfRange beyond that.
    """
    for days in seen_days:
        if abs(days - usual_days) > usual_days / 10:
            raise OutOfRange("Days in young", days, f"a tenth around {usual_days:g}", "Was that the service?")
    return fmean(seen_days) if len(seen_days) >= _FEWEST_BIRTHS else usual_days
