"""Days that thawed meat keeps, and whether it may be frozen again: the two countries differ, and are never mixed."""

from typing import Literal, NamedTuple

from app.errors import OutOfRange, Refused

Rule = Literal["uk", "us"]
"""United Kingdom and Ireland; United States."""
Sort = Literal["quick", "joint"]
"""Mince, stewing meat, sausages, offal, poultry; or chops, steaks and joints of red meat."""
Way = Literal["fridge", "cold water", "microwave", "worktop"]


class Thawed(NamedTuple):
    """``days`` raw in the fridge once thawed (0: cook at once); whether it may go back ``raw``; and why, in a line."""

    days: int
    refreeze_raw: bool
    says: str


_US_DAYS: dict[Sort, int] = {"quick": 1, "joint": 3}


def thawed(rule: Rule, sort: Sort, way: Way = "fridge", fridge_days_left: int | None = None) -> Thawed:
    """What holds of raw meat once it has thawed.

    ``fridge_days_left`` is what is left of its life in the fridge from before it was frozen: freezing stops that clock
    and does not set it back, so the shorter holds.
    Valid: fridge, cold water or microwave; the lower of each published range.
    Source: United States: University of Illinois Extension after the USDA (1 to 2, 3 to 5 days; may be refrozen).
    United Kingdom and Ireland: safefood (cooked within 24 hours, never refrozen raw).
    Raises: Refused for meat thawed on a worktop; OutOfRange for days below 0.
    """
    if way == "worktop":
        raise Refused(
            "Thawed on a worktop, its outside lay warm for hours: throw it away, and next time use the fridge."
        )
    if fridge_days_left is not None and fridge_days_left < 0:
        raise OutOfRange("Days left", fridge_days_left, "0 and more")
    if way != "fridge":
        return Thawed(0, False, "Thawed quickly, it is cooked at once; cooked, it may be frozen.")
    most = 1 if rule == "uk" else _US_DAYS[sort]
    days = most if fridge_days_left is None else min(most, fridge_days_left)
    if rule == "uk":
        return Thawed(days, False, "Cooked within 24 hours of thawing, never frozen again raw; cooked, it may be once.")
    return Thawed(days, True, "Thawed in the fridge it may be frozen again raw, and is the worse for it.")
