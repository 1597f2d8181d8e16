"""Chances of dry days, from how many days of a month are wet."""

from app.errors import OutOfRange

WET_AFTER_DRY = 0.68
"""P(wet | dry before) over the share of wet days, where only that is known: 0.645 to 0.697 in three English series."""


def dry_spell_chance(wet_share: float, days: int, wet_after_dry: float | None = None) -> float:
    """The chance (0 to 1) that so many days on end are all dry: (1 - f)(1 - p01)^(days - 1).

    ``wet_share`` is f, wet days over days of the month; ``wet_after_dry`` is p01, else 0.68 f. f and p01 must be
    counted with the same threshold (1 mm, or 0.2 mm).
    Valid: 1 to 7 days; longer spells come more often than this says (by 0.04 at 5 to 7 days).
    Source: first-order chain, as Geng, Penning de Vries and Supit 1986 (from memory), who give 0.75 f; 0.68 f counted
    in English daily series 1991-2020.
    Raises: OutOfRange for shares outside 0 to 1, or for no day or more than seven.
    """
    p01 = WET_AFTER_DRY * wet_share if wet_after_dry is None else wet_after_dry
    for name, value in (("A share of wet days", wet_share), ("A chance of rain after a dry day", p01)):
        if not 0 <= value <= 1:
            raise OutOfRange(name, value, "0 to 1")
    if not 1 <= days <= 7:
        raise OutOfRange("A dry spell in days", days, "1 to 7")
    return float((1.0 - wet_share) * (1.0 - p01) ** (days - 1))
