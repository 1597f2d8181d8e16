"""Chill: the hours of cold that fruit buds want before they open, counted hour by hour or from a day's two readings.

From a day's lowest Tn and highest Tx the hours follow one cosine wave, T(h) = M + W cos(2 pi (h - 15) / 24) with
M = (Tx + Tn)/2 and W = (Tx - Tn)/2: the wave of `single_sine`, warmest at 15 h. The share of a day at or below c is
then 1/2 + asin((c - M)/W) / pi.
"""

import math
from collections.abc import Iterable

import numpy as np

from app.errors import OutOfRange
from app.trade.climate.record import Floats

COLD_C = 7.2
_UTAH = ((1.4, 0.0), (2.4, 0.5), (9.1, 1.0), (12.4, 0.5), (15.9, 0.0), (18.0, -0.5), (math.inf, -1.0))
"""Up to and with which °C an hour counts how much. Source: Richardson, Seeley and Walker 1974, as coded in the R
package ChillModels, ``utah_model`` (rdrr.io)."""


def chill_hours(hourly_c: Iterable[float]) -> int:
    """How many of the hours lie above 0 and up to and with 7.2 °C.

    Source: Weinberger 1950, as described in the R package fruclimadapt, ``chill_hours`` (search.r-project.org); that
    0 °C itself does not count and 7.2 does is how the table it is checked by was counted.
    """
    return sum(0.0 < value <= COLD_C for value in hourly_c)


def utah_units(hourly_c: Iterable[float]) -> float:
    """The chill units of the hours by the Utah model: mild hours count half, warm ones are taken off again.

    To 1.4 °C 0, to 2.4 a half, to 9.1 one, to 12.4 a half, to 15.9 0, to 18 minus a half, above minus one.
    Source: Richardson, Seeley and Walker 1974, HortScience 9:331-332, as in ChillModels ``utah_model`` (rdrr.io).
    """
    return sum(next(units for most_c, units in _UTAH if value <= most_c) for value in hourly_c)


def _share_to(limit_c: float, min_c: float, max_c: float) -> float:
    """The share of a day at or below a temperature, under one cosine wave."""
    if limit_c >= max_c:
        return 1.0
    if limit_c < min_c or max_c == min_c:
        return 0.0
    return 0.5 + math.asin(max(-1.0, (2.0 * limit_c - max_c - min_c) / (max_c - min_c))) / math.pi


def _check(min_c: float, max_c: float) -> None:
    if max_c < min_c:
        raise OutOfRange("A daily highest temperature", max_c, f"not below the lowest, {min_c:g} °C")


def chill_hours_of_day(min_c: float, max_c: float) -> float:
    """The chill hours (0 to 24) of a day from its lowest and highest, its hours following one cosine wave.

    Source: `chill_hours`; the wave is that of Baskerville and Emin 1969 (from memory).
    Raises: OutOfRange when the highest is below the lowest.
    """
    _check(min_c, max_c)
    return 24.0 * (_share_to(COLD_C, min_c, max_c) - _share_to(0.0, min_c, max_c))


def utah_units_of_day(min_c: float, max_c: float) -> float:
    """The Utah units (-24 to 24) of a day from its lowest and highest, its hours following one cosine wave.

    Source: `utah_units`; the wave is that of Baskerville and Emin 1969 (from memory).
    Raises: OutOfRange when the highest is below the lowest.
    """
    _check(min_c, max_c)
    total, before = 0.0, 0.0
    for most_c, units in _UTAH:
        share = _share_to(most_c, min_c, max_c)
        total += units * (share - before)
        before = share
    return 24.0 * total


def chill_hours_of_days(min_c: Floats, max_c: Floats) -> Floats:
    """The chill hours of many days at once, each as `chill_hours_of_day`; NaN stays NaN.

    Valid: no highest below its lowest.
    Source: `chill_hours_of_day`.
    """
    middle, half = (max_c + min_c) / 2.0, np.maximum((max_c - min_c) / 2.0, 1e-9)
    shares = [0.5 + np.arcsin(np.clip((limit - middle) / half, -1.0, 1.0)) / np.pi for limit in (0.0, COLD_C)]
    found: Floats = 24.0 * (shares[1] - shares[0])
    return found
