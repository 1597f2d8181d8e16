"""Chances of dry days, and dry windows, from how many days of a month are wet."""

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
    p01 = _wet_after_dry(wet_share, wet_after_dry)
    if not 1 <= days <= 7:
        raise OutOfRange("A dry spell in days", days, "1 to 7")
    return float((1.0 - wet_share) * (1.0 - p01) ** (days - 1))


def dry_windows(wet_share: float, month_days: int, days: int, wet_after_dry: float | None = None) -> float:
    """How many dry windows of so many days, none overlapping, a month has: n (1-f) p01 (1-p01)^(k-1) / (1-(1-p01)^k).

    A spell of L dry days holds the whole part of L/k windows; the formula is its mean over spells of a first-order
    chain. ``wet_share`` and ``wet_after_dry`` as in `dry_spell_chance`. Where rain never follows a dry day, the whole
    windows of the dry days.
    Valid: 1 to 7 days; within 0.3 of those counted in English series.
    Source: first-order chain, as Geng, Penning de Vries and Supit 1986 (from memory).
    Raises: OutOfRange for shares outside 0 to 1, or for no day or more than seven.
    """
    p01 = _wet_after_dry(wet_share, wet_after_dry)
    if not 1 <= days <= 7:
        raise OutOfRange("A dry spell in days", days, "1 to 7")
    if p01 <= 0.0:
        return float(month_days * (1.0 - wet_share) // days)
    # (1 - (1-p01)^k) / p01, as the sum it is: nothing is divided by a number near 0.
    dry_on = [(1.0 - p01) ** day for day in range(days)]
    return float(month_days * (1.0 - wet_share) * dry_on[-1] / sum(dry_on))


def _wet_after_dry(wet_share: float, wet_after_dry: float | None) -> float:
    p01 = WET_AFTER_DRY * wet_share if wet_after_dry is None else wet_after_dry
    for name, value in (("A share of wet days", wet_share), ("A chance of rain after a dry day", p01)):
        if not 0 <= value <= 1:
            raise OutOfRange(name, value, "0 to 1")
    return p01
