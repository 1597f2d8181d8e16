"""When salt has come to the middle: the slow, the usual and the quick estimate beside the trade's rule."""

from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.meat.cure import Skin
from app.trade.meat.salt import even_days

SLOW_1E10, USUAL_1E10, QUICK_1E10 = 3.0, 5.0, 7.0
"""Salt in pork, 1e-10 m²/s. Source: Hansen and others, Meat Science 80:851, 2008, abstract: 3 to 7, rising."""
_SHARE = 0.9


class Even(NamedTuple):
    """Days from going into the cure until the middle has nine tenths of its salt; an estimate, never a permit."""

    slow_days: float
    usual_days: float
    quick_days: float


def even_estimate(thickness_mm: float, skin: Skin, share: float = _SHARE) -> Even:
    """Days until the middle has ``share`` of its final salt, in a cure weighed to the meat; skin shuts one face.

    Valid: 5 to 250 mm; it never shortens the days of the trade's rule (`cure_days`).
    Source: `even_days`.
    Raises: OutOfRange beyond that.
    """
    if not 5 <= thickness_mm <= 250:
        raise OutOfRange("A thickness", thickness_mm, "5 to 250 mm", "Measure the thickest part, in millimetres.")
    path = thickness_mm if skin == "skin on" else thickness_mm / 2
    return Even(*(even_days(path, speed, share) for speed in (SLOW_1E10, USUAL_1E10, QUICK_1E10)))
