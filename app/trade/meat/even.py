"""When salt has come to the middle: the slow, the usual and the quick estimate beside the trade's rule."""

from typing import Literal, NamedTuple

from app.errors import OutOfRange
from app.trade.meat.cure import Skin
from app.trade.meat.round_piece import round_fourier_for
from app.trade.meat.salt import days_at, fourier_for

Shape = Literal["flat", "round"]

SLOW_1E10, USUAL_1E10, QUICK_1E10 = 3.0, 5.0, 7.0
"""Salt in pork, 1e-10 m²/s. Source: Hansen and others, Meat Science 80:851, 2008, abstract: 3 to 7, rising."""
_SHARE = 0.9


class Even(NamedTuple):
    """Days from going into the cure until the middle has nine tenths of its salt; an estimate, never a permit."""

    slow_days: float
    usual_days: float
    quick_days: float


def even_estimate(thickness_mm: float, skin: Skin, shape: Shape = "flat", share: float = _SHARE) -> Even:
    """Days until the middle has ``share`` of its final salt, in a cure weighed to the meat; skin shuts one face.

    A round piece takes salt from all round; under its skin it is reckoned as a flat one, the slower.
    Valid: 5 to 250 mm; it never shortens the days of the trade's rule (`cure_days`).
    Source: `fourier_for`, `round_fourier_for`.
    Raises: OutOfRange beyond that.
    """
    if not 5 <= thickness_mm <= 250:
        raise OutOfRange("A thickness", thickness_mm, "5 to 250 mm", "Measure the thickest part, in millimetres.")
    path = path_mm(thickness_mm, skin)
    fourier = round_fourier_for(share) if is_round(skin, shape) else fourier_for(share)
    return Even(*(days_at(fourier, path, speed) for speed in (SLOW_1E10, USUAL_1E10, QUICK_1E10)))


def path_mm(thickness_mm: float, skin: Skin) -> float:
    """How far the salt has to go: half the thickness, or all of it where a skin shuts one face."""
    return thickness_mm if skin == "skin on" else thickness_mm / 2


def is_round(skin: Skin, shape: Shape) -> bool:
    """Whether salt comes from all round."""
    return shape == "round" and skin == "skinned"
