"""Nitrite sums: strength of a curing salt, ingoing parts per million, and the salts against their ions."""

from typing import Literal

from app.errors import OutOfRange

PARTS_PER_MILLION = 1e6
NITRITE_ION_SHARE = 0.6668
"""NO2 in sodium nitrite by weight: 46.006 / 68.995. Source: molar masses."""
POTASSIUM_NITRITE_FACTOR = 1.2335
"""Potassium nitrite that gives as much nitrite as one of sodium nitrite: 85.104 / 68.995. Source: molar masses."""
NITRATE_ION_SHARES = {"sodium nitrate": 0.7295, "potassium nitrate": 0.6133}
"""NO3 by weight: 62.005 / 84.995 and 62.005 / 101.10. Source: molar masses."""
_LEAST_PERCENT, _MOST_PERCENT = 0.2, 7.0
_SKIN_SHARE = 0.10


def strength(nitrite_percent: float) -> float:
    """The mass fraction of sodium nitrite in a curing salt from the per cent that its packet prints.

    Valid: 0.2 to 7 %. Kinds sold: 0.4 to 0.6 % (pickling salt, Europe), 5.67 to 6.25 % (the strong cures).
    Source: supplier's specifications; the bounds keep a slip of the decimal point out.
    Raises: OutOfRange beyond that, with the figure that was likely meant.
    """
    if _LEAST_PERCENT <= nitrite_percent <= _MOST_PERCENT:
        return nitrite_percent / 100
    advice = "Read the per cent of sodium nitrite on the packet itself; salts differ more than tenfold."
    if nitrite_percent >= 90:
        advice = (
            "Pure nitrite is never used at home: a pinch too much kills. Use a curing salt already mixed with salt."
        )
    elif _LEAST_PERCENT <= nitrite_percent / 10 <= _MOST_PERCENT:
        advice = f"Was {nitrite_percent / 10:g} % meant? {advice}"
    elif nitrite_percent > 0 and _LEAST_PERCENT <= nitrite_percent * 100 <= _MOST_PERCENT:
        advice = f"That reads as a fraction: was {nitrite_percent * 100:g} % meant? {advice}"
    raise OutOfRange("A strength", nitrite_percent, "0.2 to 7 % sodium nitrite", advice)


def ingoing_ppm(salt_g: float, fraction: float, meat_g: float) -> float:
    """Ingoing nitrite (or nitrate) on green weight: ``salt_g * fraction * 1e6 / meat_g``.

    ``meat_g`` is the green weight of boned, trimmed meat; for a brine that the meat stays in, meat and water together.
    Valid: weights above 0, a fraction of 0 to 1.
    Source: Processing Inspectors' Calculations Handbook, FSIS, 1995, p. 15, as quoted by curers.
    Raises: OutOfRange beyond that.
    """
    if meat_g <= 0:
        raise OutOfRange("A weight", meat_g, "more than 0 g")
    if salt_g < 0:
        raise OutOfRange("A weight of curing salt", salt_g, "0 g and more")
    if not 0 <= fraction <= 1:
        raise OutOfRange("A fraction", fraction, "0 to 1")
    return salt_g * fraction * PARTS_PER_MILLION / meat_g


def pumped_ppm(nitrite_g: float, pickle_g: float, pump_percent: float) -> float:
    """Ingoing nitrite of meat that a pickle is pumped into: ``nitrite_g * pump * 1e6 / pickle_g``.

    Valid: weights above 0, 0 to 30 % pumped.
    Source: the same handbook, p. 19, as quoted by curers.
    Raises: OutOfRange beyond that.
    """
    if not 0 <= pump_percent <= 30:
        raise OutOfRange("A pump in per cent", pump_percent, "0 to 30 %")
    return ingoing_ppm(nitrite_g, pump_percent / 100, pickle_g)


def curing_salt_g(ppm: float, fraction: float, meat_g: float) -> float:
    """Grams of curing salt for so many parts per million: ``ppm * meat_g / (1e6 * fraction)``.

    Valid: 0 ppm and more; weight and fraction above 0.
    Source: `ingoing_ppm`, turned round.
    Raises: OutOfRange beyond that.
    """
    if ppm < 0:
        raise OutOfRange("A nitrite target", ppm, "0 ppm and more")
    if meat_g <= 0:
        raise OutOfRange("A weight", meat_g, "more than 0 g")
    if not 0 < fraction <= 1:
        raise OutOfRange("A fraction", fraction, "more than 0, up to 1")
    return ppm * meat_g / (PARTS_PER_MILLION * fraction)


def weight_that_cures_g(meat_g: float, *, skin_on: bool) -> float:
    """The weight that takes up cure: skin takes none, and is a tenth of a skin-on belly.

    Source: the same handbook (10 % for skin-on bellies), as quoted by curers.
    """
    return meat_g * (1 - _SKIN_SHARE) if skin_on else meat_g


def as_sodium_nitrite_ppm(ion_ppm: float) -> float:
    """Limits told as the nitrite ion (European Union from 2025) in sodium nitrite: ``ion_ppm / 0.6668``.

    Source: molar masses; that the limits are ions: a notice on Regulation (EU) 2023/2108.
    """
    return ion_ppm / NITRITE_ION_SHARE


def as_potassium_nitrite_ppm(ppm: float) -> float:
    """Sodium nitrite in potassium nitrite of equal nitrite: ``ppm * 1.2335``.

    Source: molar masses.
    """
    return ppm * POTASSIUM_NITRITE_FACTOR


def as_nitrate_ion_ppm(ppm: float, salt: Literal["sodium nitrate", "potassium nitrate"]) -> float:
    """Nitrate of a salt in its ion, as the Union's limits are told since 2025: ``ppm * 0.7295`` (potassium: 0.6133).

    Source: molar masses; rounded to 0.73 and 0.61 in a notice on Regulation (EU) 2023/2108.
    """
    return ppm * NITRATE_ION_SHARES[salt]
