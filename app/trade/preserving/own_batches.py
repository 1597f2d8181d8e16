"""What the household's own past batches say: how wet the produce really was, and how fast the dryer dries."""

from collections.abc import Sequence
from math import log
from typing import NamedTuple

from app.errors import OutOfRange


class PastBatch(NamedTuple):
    """A batch that was weighed: ``prepared_kg`` put on the trays, ``dried_kg`` taken off."""

    prepared_kg: float
    dried_kg: float


def own_water_percent(book_percent: float, target_percent: float, past: Sequence[PastBatch]) -> float:
    """The water to reckon with next time: each batch's ``1 - dried * (1 - w1) / prepared``, the book counted as one.

    ``solids = (book + sum(own)) / (1 + n)``, so one odd batch moves it half way at most and many outweigh the book.
    Valid: batches dried to ``target_percent``; with none it is the book's figure.
    Source: mass balance on the solids; the weight of one for the book is common practice.
    Raises: OutOfRange for a target no drier than the produce, or a dried weight that can't be.
    """
    if not 0 < target_percent < book_percent < 100:
        limits = f"above 0 and below the {book_percent:g} % it starts with"
        raise OutOfRange("A water content in %", target_percent, limits)
    own = [_solids_percent(batch, target_percent) for batch in past]
    return 100 - (100 - book_percent + sum(own)) / (1 + len(own))


def _solids_percent(batch: PastBatch, target_percent: float) -> float:
    prepared, dried = batch
    if not 0 < dried < prepared:
        raise OutOfRange("A dried weight", dried, f"above 0 and below the {prepared:g} kg put on")
    return dried * (100 - target_percent) / prepared


def log_drying(water_percent: float, target_percent: float) -> float:
    """How far there is to dry: ``ln(X0 / X1)`` with ``X = w / (1 - w)`` on the dry basis.

    Valid: a target above 0 % and drier than the produce.
    Source: thin-layer drying, Lewis' model, with nothing left at equilibrium in hot dry air.
    Raises: OutOfRange beyond that.
    """
    if not 0 < target_percent < water_percent < 100:
        limits = f"above 0 and below the {water_percent:g} % it starts with"
        raise OutOfRange("A water content in %", target_percent, limits)
    return log(water_percent / (100 - water_percent)) - log(target_percent / (100 - target_percent))


def rate_an_hour(water_percent: float, reached_percent: float, hours: float) -> float:
    """The constant k of a batch, in 1/h: ``ln(X0 / X1) / t``.

    Valid: 0.5 to 72 hours.
    Source: Lewis' model, solved for k.
    Raises: OutOfRange beyond that.
    """
    if not 0.5 <= hours <= 72:
        raise OutOfRange("Hours of drying", hours, "0.5 to 72")
    return log_drying(water_percent, reached_percent) / hours


def hours_left(water_percent: float, target_percent: float, rate: float) -> float:
    """Hours from one water content to a drier one: ``ln(X0 / X1) / k``.

    Valid: k of 0.02 to 5 an hour.
    Source: Lewis' model, solved for t.
    Raises: OutOfRange beyond that.
    """
    if not 0.02 <= rate <= 5:
        raise OutOfRange("A drying rate an hour", rate, "0.02 to 5", "Weigh the tray again.")
    return log_drying(water_percent, target_percent) / rate
