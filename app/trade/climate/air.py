"""The air's pressure by height, the psychrometric constant, and wind carried to two metres."""

import math

from app.errors import OutOfRange


def pressure_kpa(altitude_m: float) -> float:
    """The air's usual pressure (kPa): 101.3 ((293 - 0.0065 z) / 293)^5.26.

    Valid: -400 to 5000 m.
    Source: FAO-56 (Allen et al. 1998), eq. 7.
    Raises: OutOfRange outside those heights.
    """
    if not -400 <= altitude_m <= 5000:
        raise OutOfRange("A height in metres", altitude_m, "-400 to 5000 m")
    return float(101.3 * ((293.0 - 0.0065 * altitude_m) / 293.0) ** 5.26)


def psychrometric_kpa_c(air_kpa: float) -> float:
    """The psychrometric constant (kPa/°C): 0.665e-3 P.

    Source: FAO-56 (Allen et al. 1998), eq. 8.
    """
    return 0.665e-3 * air_kpa


def wind_at_2m_m_s(wind_m_s: float, height_m: float) -> float:
    """Wind (m/s) as it would blow 2 m above short grass: u 4.87 / ln(67.8 z - 5.42).

    Valid: measured 0.5 to 200 m above the ground.
    Source: FAO-56 (Allen et al. 1998), eq. 47.
    Raises: OutOfRange for a wind below 0 or such a height.
    """
    if wind_m_s < 0:
        raise OutOfRange("A wind in m/s", wind_m_s, "0 or more")
    if not 0.5 <= height_m <= 200:
        raise OutOfRange("A height in metres", height_m, "0.5 to 200 m")
    return wind_m_s * 4.87 / math.log(67.8 * height_m - 5.42)
