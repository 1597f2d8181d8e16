"""The months in which meat may hang in the open air: no flies, no warm nights."""

from collections.abc import Sequence

from app.errors import OutOfRange

_FLY_MONTHS = (4, 5, 6, 7, 8, 9, 10)
"""Source: fly strike in Britain, late April to October (farming press and the survey of 495 farms of 1991)."""
_FLY_C, _NIGHT_C = 10.0, 10.0
"""Blowflies stir above a mean of about 10 °C; the fridge stands in above a mean night of 10 °C. Common practice."""


def fly_months(south: bool = False, mean_c: Sequence[float] = ()) -> tuple[int, ...]:
    """The months with blowflies about: by the place's own monthly means where there are twelve, else by hemisphere.

    A month counts with a mean above 10 °C. Without means: April to October, in the south October to April.
    Valid: no means, or twelve of -60 to 50 °C.
    Source: strike is seen late April to October in Britain; 10 °C is common practice.
    Raises: OutOfRange beyond that.
    """
    if len(mean_c) == 0:
        return tuple(sorted((month + 5) % 12 + 1 for month in _FLY_MONTHS)) if south else _FLY_MONTHS
    return _above(mean_c, _FLY_C)


def warm_night_months(lowest_c: Sequence[float]) -> tuple[int, ...]:
    """The months whose mean lowest is above 10 °C: too warm to hang or cold-smoke in the open on most nights.

    Valid: twelve of -60 to 50 °C. Source: common practice (nights of 15 °C at most, with a margin for the warm ones).
    Raises: OutOfRange beyond that.
    """
    return _above(lowest_c, _NIGHT_C)


def hanging_barred(month: int, flies: Sequence[int], warm: Sequence[int] = (), *, indoors_cold: bool) -> str:
    """Why meat may not hang in the open this month, in a sentence; "" when it may. A curing fridge knows no season.

    Valid: months of 1 to 12. Source: common practice. Raises: OutOfRange beyond that.
    """
    if not 1 <= month <= 12:
        raise OutOfRange("A month", month, "1 to 12")
    if indoors_cold:
        return ""
    if month in flies:
        return "Flies are about this month: it hangs in a curing fridge, or is frozen until the cold comes."
    if month in warm:
        return "Nights are warm this month: it hangs in a curing fridge, or is frozen until the cold comes."
    return ""


def _above(means: Sequence[float], limit: float) -> tuple[int, ...]:
    if len(means) != 12:
        raise OutOfRange("A year of months", len(means), "twelve figures")
    for one in means:
        if not -60 <= one <= 50:
            raise OutOfRange("A temperature", one, "-60 to 50 °C")
    return tuple(month for month, one in enumerate(means, 1) if one > limit)
