"""How much water short grass would draw: reference evapotranspiration, mm a day, which is litres on a square metre."""

import math

from app.errors import OutOfRange

_MM_A_MJ = 0.408
"""Water (mm) that 1 MJ/m2 turns to vapour. Source: FAO-56 (Allen et al. 1998), 1 / 2.45, eq. 20."""


def penman_monteith_mm(
    net_mj: float,
    soil_mj: float,
    mean_c: float,
    wind_2m_m_s: float,
    saturation_kpa: float,
    vapour_kpa: float,
    slope_kpa_c: float,
    psychrometric_kpa_c: float,
) -> float:
    """Reference evapotranspiration ET0 (mm a day) from sun, warmth, wind and moisture.

    [0.408 s (Rn - G) + g 900/(T + 273) u2 (es - ea)] / [s + g (1 + 0.34 u2)]; what comes out below 0 (dew) is 0.
    Valid: means of a day to a month, wind at 2 m.
    Source: FAO-56 (Allen et al. 1998), eq. 6.
    Raises: OutOfRange for a wind below 0.
    """
    if wind_2m_m_s < 0:
        raise OutOfRange("A wind in m/s", wind_2m_m_s, "0 or more")
    sun = _MM_A_MJ * slope_kpa_c * (net_mj - soil_mj)
    air = psychrometric_kpa_c * 900.0 / (mean_c + 273.0) * wind_2m_m_s * (saturation_kpa - vapour_kpa)
    return max(0.0, (sun + air) / (slope_kpa_c + psychrometric_kpa_c * (1.0 + 0.34 * wind_2m_m_s)))


def hargreaves_mm(min_c: float, max_c: float, above_mj: float) -> float:
    """Reference evapotranspiration ET0 (mm a day) from warmth alone: 0.0023 (Tmean + 17.8) sqrt(Tx - Tn) 0.408 Ra.

    ``above_mj`` is Ra, `above_the_air_mj`. Below -17.8 °C it is 0.
    Valid: five days or longer; about 0.3 mm a day too high inland (Mississippi), too low near coasts, where the range
    of the day is small.
    Source: FAO-56 (Allen et al. 1998), eq. 52; Fisher and Pringle 2013, Agricultural Sciences 4(8A), for its error.
    Raises: OutOfRange when the highest is below the lowest.
    """
    if max_c < min_c:
        raise OutOfRange("A daily highest temperature", max_c, f"not below the lowest, {min_c:g} °C")
    warmth = max(0.0, (max_c + min_c) / 2.0 + 17.8)
    return 0.0023 * warmth * math.sqrt(max_c - min_c) * _MM_A_MJ * above_mj
