"""Where a ladder's foot stands."""

import math

from app.errors import OutOfRange


def ladder_foot_m(height_m: float) -> float:
    """How far from the wall the foot stands (m): one out for every four up.

    Source: active-safety.co.uk on ladders, 75°; the angle of 4 to 1 is atan 4.
    Raises: OutOfRange outside 1 to 12 m.
    """
    if not 1 <= height_m <= 12:
        raise OutOfRange("A height", height_m, "1 to 12 m", "Higher work is for a tower or a scaffold.")
    return height_m / 4


def ladder_angle_degrees(height_m: float, foot_m: float) -> float:
    """The angle of a ladder (degrees) from the ground.

    Source: geometry.
    Raises: OutOfRange for a height or foot that is not above 0.
    """
    if height_m <= 0 or foot_m <= 0:
        raise OutOfRange("A height or a foot", min(height_m, foot_m), "above 0")
    return math.degrees(math.atan2(height_m, foot_m))
