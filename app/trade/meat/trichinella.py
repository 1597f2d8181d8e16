"""Freezing pork against trichinella: the published rows, a margin for getting cold, and what never counts."""

from collections.abc import Sequence
from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_ROWS: tuple[tuple[float, int, int], ...] = ((-28.9, 6, 12), (-23.3, 10, 20), (-15.0, 20, 30))
"""Highest °C; days up to 15 cm thick, and up to 69 cm. Source: 9 CFR 318.10 (c)(2), table 1, as in JAMA 155:1394, 1954;
since taken out of the law, it stands as guidance."""
_THICK_IN_THE_UNION: tuple[tuple[float, int], ...] = ((-29.0, 12), (-25.0, 20), (-15.0, 30))
_MOST_IN_THE_UNION_CM = 50.0
"""Pieces of 15 to 50 cm; up to 15 cm its rows are those above. Source: from memory: Regulation (EU) 2015/1375, annex
II, kept in British law."""
_CENTRE_H: tuple[tuple[float, float], ...] = (
    (-37.2, 0.5), (-34.5, 8), (-31.7, 22), (-28.9, 35), (-26.1, 48), (-23.3, 63), (-20.6, 82), (-17.8, 106)
)  # fmt: skip
_THIN_CM, _THICK_CM = 15.0, 69.0
_ADVICE = "Cook it through instead: it is no treatment."


def trichinella_days(thickness_cm: float, store_c: float) -> int:
    """Days at a temperature that kill trichinella in pork, once all of the piece is that cold.

    Valid: -15 °C or colder, up to 69 cm; not for game, where other kinds live through frost.
    Source: 9 CFR 318.10, as above.
    Raises: OutOfRange beyond that: a freezer of -6 or -12 °C never counts.
    """
    if not 0 < thickness_cm <= _THICK_CM:
        raise OutOfRange("A thickness in cm", thickness_cm, f"up to {_THICK_CM:g} cm", _ADVICE)
    for limit, thin, thick in _ROWS:
        if store_c <= limit:
            return thin if thickness_cm <= _THIN_CM else thick
    raise OutOfRange("A freezer of °C", store_c, "-15 °C or colder", _ADVICE)


def centre_hours(core_c: float) -> float:
    """Hours with the middle at a temperature, by a thermometer in it, that kill trichinella in pork.

    Valid: -17.8 °C and colder; the row at or next above. Source: 9 CFR 318.10, as a review quotes it.
    Raises: OutOfRange above that.
    """
    for limit, hours in _CENTRE_H:
        if core_c <= limit:
            return hours
    raise OutOfRange("A core of °C", core_c, "-17.8 °C or colder", _ADVICE)


def union_trichinella_days(thickness_cm: float, store_c: float) -> int:
    """The same by the law of the Union and of Great Britain, where a thick piece is held colder.

    Valid: as `trichinella_days`, up to 50 cm.
    Source: from memory: Regulation (EU) 2015/1375, annex II.
    Raises: OutOfRange beyond that.
    """
    thin = trichinella_days(thickness_cm, store_c)
    if thickness_cm <= _THIN_CM:
        return thin
    if thickness_cm > _MOST_IN_THE_UNION_CM:
        raise OutOfRange("A thickness in cm", thickness_cm, f"up to {_MOST_IN_THE_UNION_CM:g} cm", _ADVICE)
    return next(days for limit, days in _THICK_IN_THE_UNION if store_c <= limit)


@work
def trichinella_freezing_days(
    thickness_cm: float, store_c: float, freezing_h: float, seen: Sequence[tuple[int, float]] = ()
) -> Reckoned:
    """Days from going into the freezer: those of getting cold, ``ceil(freezing_h / 24)``, then its days held.

    ``seen`` are pairs of days since and the warmest °C read: where one is warmer than the row that is counted by, the
    days of holding begin anew on it. The longer of the two countries' tables holds; beyond 50 cm there is but one.
    Valid: as `trichinella_days`, and 0 to 240 hours. Source: as there, and `union_trichinella_days`.
    Raises: OutOfRange as there.
    """
    if not 0 <= freezing_h <= 240:
        raise OutOfRange("Hours", freezing_h, "0 to 240")
    cold, held = ceil(freezing_h / 24), longer_trichinella_days(thickness_cm, store_c)
    said = f"{cold} days to get cold, {held} days at {store_c:g} °C for {thickness_cm:g} cm"
    limit = next(c for c, _, _ in _ROWS if store_c <= c)
    warm = max((day for day, c in seen if c > limit and day >= cold), default=None)
    if warm is None:
        return days(cold + held, said)
    return days(warm + held, said, f"read warmer than {limit:g} °C on day {warm}: begun anew")


def longer_trichinella_days(thickness_cm: float, store_c: float) -> int:
    """The longer of the American and the Union's days, where both tell of the thickness.

    Valid, source and raises: as `trichinella_days`.
    """
    one = trichinella_days(thickness_cm, store_c)
    return one if thickness_cm > _MOST_IN_THE_UNION_CM else max(one, union_trichinella_days(thickness_cm, store_c))
