"""How long a freezer and a fridge hold with the power off and the doors shut."""

from typing import Literal, NamedTuple

from app.errors import OutOfRange

FULL_HOURS, HALF_HOURS, FRIDGE_HOURS = 48.0, 24.0, 4.0
"""Source: FoodSafety.gov, food safety during a power outage."""
_REFREEZE_C = 4.0

State = Literal["hard or icy", "soft but cold", "warm"]


class Verdict(NamedTuple):
    """What is done with what was in there."""

    keep: bool
    refreeze: bool
    says: str


def holds_hours(full_percent: float) -> float:
    """Hours a freezer holds, doors shut: 48 full, 24 half full; between the two the lower.

    Valid: half full and more. Source: FoodSafety.gov.
    Raises: OutOfRange beyond that: nothing is published for less than half full.
    """
    if not 0 <= full_percent <= 100:
        raise OutOfRange("A freezer full in per cent", full_percent, "0 to 100 %")
    if full_percent < 50:
        advice = "Nothing is published for less than half full: open it after twelve hours, and judge by the ice."
        raise OutOfRange("A freezer full in per cent", full_percent, "50 to 100 %", advice)
    return FULL_HOURS if full_percent >= 95 else HALF_HOURS


def after_the_cut(state: State, core_c: float | None = None) -> Verdict:
    """What becomes of a pack: ice crystals, or 4 °C and less, and it may be frozen again; warm, it is thrown away.

    Valid: -30 to 40 °C where it is measured. Source: FoodSafety.gov; raw thawed meat is cooked first in the United
    Kingdom and Ireland (safefood), which is the stricter, so it is asked of all that is soft.
    Raises: OutOfRange beyond that.
    """
    if core_c is not None and not -30 <= core_c <= 40:
        raise OutOfRange("A temperature", core_c, "-30 to 40 °C")
    if state == "warm" or (core_c is not None and core_c > 8):
        return Verdict(False, False, "Thrown away untasted, and none of it to animals.")
    if state == "hard or icy" and (core_c is None or core_c <= _REFREEZE_C):
        return Verdict(True, True, "Frozen again at once; it loses some goodness, and is eaten first.")
    if core_c is None or core_c <= 5:
        return Verdict(True, False, "Cooked at once, through; cooked, it may be frozen.")
    return Verdict(False, False, "Above 5 °C, and nobody knows for how long: thrown away.")
