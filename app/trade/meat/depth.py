"""Salt by depth: how a piece that holds all of its cure is salted from face to face after some days."""

from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.meat.cure import Skin
from app.trade.meat.even import Shape, is_round, path_mm
from app.trade.meat.round_piece import round_share_of_even
from app.trade.meat.salt import fourier_at, share_of_even


class Salted(NamedTuple):
    """Salt in per cent of the meat, ``mm`` below the face."""

    mm: float
    percent: float


def salt_by_depth(
    thickness_mm: float,
    skin: Skin,
    shape: Shape,
    salt_percent: float,
    days: float,
    salt_1e10_m2_s: float,
    points: int = 25,
) -> tuple[Salted, ...]:
    """Salt at ``points`` depths, evenly apart, from one face to the other (under a skin, to the skin).

    ``salt_percent`` is what all of it comes to once it is even.
    Valid: 5 to 250 mm, and days enough for the series (Fo of 0.02, round 0.05, and more).
    Source: `share_of_even`, `round_share_of_even`.
    Raises: OutOfRange beyond that.
    """
    if not 5 <= thickness_mm <= 250:
        raise OutOfRange("A thickness", thickness_mm, "5 to 250 mm", "Measure the thickest part, in millimetres.")
    path = path_mm(thickness_mm, skin)
    fourier = fourier_at(days, path, salt_1e10_m2_s)
    share = round_share_of_even if is_round(skin, shape) else share_of_even
    depths = [thickness_mm * k / (points - 1) for k in range(points)]
    return tuple(Salted(mm, salt_percent * share(fourier, min(1.0, abs(1 - mm / path)))) for mm in depths)


def middle_percent(curve: tuple[Salted, ...], skin: Skin) -> float:
    """Salt where it comes last: in the middle, or under the skin."""
    return curve[-1].percent if skin == "skin on" else curve[len(curve) // 2].percent
