"""Where water boils at a height, how hot steam is under a gauge, and where jam sets."""

from itertools import pairwise
from math import sqrt

from app.errors import OutOfRange

SEA_PA = 101325.0
_PSI_PA = 6894.757
_SET_ABOVE_C = 8 / 1.8
"""8 °F above boiling water."""

_SATURATION = (
    1167.0521452767,
    -724213.16703206,
    -17.073846940092,
    12020.82470247,
    -3232555.0322333,
    14.91510861353,
    -4823.2657361591,
    405113.40542057,
    -0.23855557567849,
    650.17534844798,
)
"""n1 to n10 of IAPWS-IF97's region 4."""

_SYRUP = ((60.0, 103.0), (65.0, 103.9), (70.0, 106.5))
"""Per cent sugar and where it boils at the sea, °C."""


def pressure_pa(altitude_m: float) -> float:
    """Air pressure: ``101325 * (1 - 2.25577e-5 * h) ** 5.25588``.

    Valid: -430 to 3500 m; the weather moves it by some 3 % either way.
    Source: ISO 2533 (ICAO standard atmosphere).
    Raises: OutOfRange beyond that.
    """
    if not -430 <= altitude_m <= 3500:
        raise OutOfRange("An altitude", altitude_m, "-430 to 3500 m")
    return float(SEA_PA * (1 - 2.25577e-5 * altitude_m) ** 5.25588)


def saturation_c(pressure: float) -> float:
    """Where water boils under a pressure in Pa.

    Valid: 20 kPa to 10 MPa.
    Source: IAPWS-IF97, region 4, equation 31.
    Raises: OutOfRange beyond that.
    """
    if not 20e3 <= pressure <= 10e6:
        raise OutOfRange("A pressure", pressure, "20 000 to 10 000 000 Pa")
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _SATURATION
    beta = float((pressure / 1e6) ** 0.25)
    e = beta * beta + n3 * beta + n6
    f = n1 * beta * beta + n4 * beta + n7
    g = n2 * beta * beta + n5 * beta + n8
    d = 2 * g / (-f - sqrt(f * f - 4 * e * g))
    return (n10 + d - sqrt((n10 + d) ** 2 - 4 * (n9 + n10 * d))) / 2 - 273.15


def boiling_c(altitude_m: float) -> float:
    """Where water boils at a height; near enough ``100 - h / 300``.

    Valid: as `pressure_pa`. Measured in the pan that day is better.
    Source: `pressure_pa`, `saturation_c`.
    Raises: OutOfRange as there.
    """
    return saturation_c(pressure_pa(altitude_m))


def gauge_c(psi: float, altitude_m: float) -> float:
    """The steam in a pressure canner whose dial shows so many pounds above the air outside.

    Valid: 0 to 20 psi.
    Source: `pressure_pa`, `saturation_c`.
    Raises: OutOfRange beyond that.
    """
    if not 0 <= psi <= 20:
        raise OutOfRange("A gauge", psi, "0 to 20 psi")
    return saturation_c(pressure_pa(altitude_m) + psi * _PSI_PA)


def jam_set_c(altitude_m: float) -> float:
    """Where jam and jelly set: water's boiling point and 8 °F (4.4 °C) more.

    Valid: as `boiling_c`.
    Source: Michigan State University Extension 01600890, 1997.
    Raises: OutOfRange as there.
    """
    return sets_at_c(boiling_c(altitude_m))


def sets_at_c(boils_c: float) -> float:
    """The same, from where water boils in the pan that day: 8 °F (4.4 °C) more.

    Valid: 85 to 102 °C, which is water on any hill in any weather.
    Source: Michigan State University Extension 01600890, 1997.
    Raises: OutOfRange beyond that.
    """
    if not 85 <= boils_c <= 102:
        raise OutOfRange("Boiling water", boils_c, "85 to 102 °C", "Try the thermometer in boiling water again.")
    return boils_c + _SET_ABOVE_C


def sugar_percent(boils_c: float) -> float:
    """How much of a syrup is sugar by where it boils at the sea, between the printed points.

    Valid: 103.0 to 106.5 °C.
    Source: Lowe, Experimental Cookery, temperatures for boiling syrup for jelly.
    Raises: OutOfRange beyond that.
    """
    for (low, low_c), (high, high_c) in pairwise(_SYRUP):
        if low_c <= boils_c <= high_c:
            return low + (high - low) * (boils_c - low_c) / (high_c - low_c)
    raise OutOfRange("A boiling point", boils_c, "103.0 to 106.5 °C")
