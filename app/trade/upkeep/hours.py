"""How long upkeep takes: what there is, a rate, how one gets at it, who does it, and setting up."""

from math import ceil
from typing import Literal

from app.errors import OutOfRange

Access = Literal["ground", "ladder", "tower"]
ACCESS_FACTORS: dict[Access, float] = {"ground": 1.0, "ladder": 1.2, "tower": 1.1}
SETTING_UP_MIN = 40.0
SESSION_H = 4.0


def work_minutes(quantity: float, minutes_each: float, access: Access = "ground", skill: float = 1.0) -> float:
    """Minutes of work: quantity x rate x access x skill (a trade's hand 1, a household 1.5 to 2).

    Source: a fifth more for climbing a ladder: a painters' merchant's page on estimating (blog.
    abingtondecoratingsupplies.co.uk); the tower and the skill are our own; rates stand in upkeep-tables.toml.
    Raises: OutOfRange for less than nothing, or a way up that is not known.
    """
    if quantity < 0 or minutes_each < 0 or not 0.5 <= skill <= 5:
        raise OutOfRange("A quantity or a rate", min(quantity, minutes_each), "0 or more")
    if access not in ACCESS_FACTORS:
        raise OutOfRange("A way up", 0, f"one of {', '.join(ACCESS_FACTORS)}, not {access}")
    return quantity * minutes_each * ACCESS_FACTORS[access] * skill


def with_setting_up(
    minutes: float, setting_up_minutes: float = SETTING_UP_MIN, session_hours: float = SESSION_H
) -> float:
    """Minutes with setting up and clearing away for every session it takes.

    Source: 30 to 45 minutes a session, common practice.
    Raises: OutOfRange for a session of no length.
    """
    if session_hours <= 0:
        raise OutOfRange("A session", session_hours, "above 0 hours")
    return minutes + ceil(minutes / (60 * session_hours)) * setting_up_minutes if minutes else 0.0
