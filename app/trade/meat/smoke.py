"""Cold smoking: which nights are cold enough, how many hours are still owed."""

from typing import NamedTuple

from app.errors import OutOfRange

MOST_C, LEAST_C, BLOCKED_C = 15.0, -2.0, 18.0
"""A night's highest and lowest air, and the low above which nothing is smoked. Source: common practice; the chamber
runs 3 to 10 °C above it and is kept below 25 °C (12 to 20 °C by a forum of British curers)."""
USUAL_HOURS = 24.0


class Night(NamedTuple):
    """Whether a night may be smoked in, and why it is so."""

    offered: bool
    why: str


def smoking_night(highest_c: float, lowest_c: float) -> Night:
    """Whether a night is for cold smoke: highest 15 °C or less while it smokes, lowest -2 °C or more.

    Valid: -40 to 45 °C, the highest not below the lowest.
    Source: common practice.
    Raises: OutOfRange beyond that.
    """
    for one in (highest_c, lowest_c):
        if not -40 <= one <= 45:
            raise OutOfRange("A temperature", one, "-40 to 45 °C")
    if highest_c < lowest_c:
        raise OutOfRange("A highest in °C", highest_c, f"no less than the lowest, {lowest_c:g} °C")
    if lowest_c > BLOCKED_C:
        return Night(False, f"Barred: it does not fall below {BLOCKED_C:g} °C; meat would lie warm all night.")
    if highest_c > MOST_C:
        return Night(False, f"Too warm: {highest_c:g} °C; the night is to stay at {MOST_C:g} °C or less.")
    if lowest_c < LEAST_C:
        return Night(False, f"Too cold: {lowest_c:g} °C; frozen meat takes no smoke.")
    return Night(True, f"{lowest_c:g} to {highest_c:g} °C: cold enough, and not freezing.")


def hours_owed(smoked: list[float], wanted_hours: float = USUAL_HOURS) -> float:
    """Hours of smoke still owed: ``max(0, wanted - sum(smoked))``; 24 in all, often three nights of eight.

    Valid: hours of 0 and more. Source: common practice; three times eight, a forum of British curers.
    Raises: OutOfRange beyond that.
    """
    for one in (*smoked, wanted_hours):
        if one < 0:
            raise OutOfRange("Hours", one, "0 and more")
    return max(0.0, wanted_hours - sum(smoked))
