"""Sunlight as energy: what reaches the top of the air, what comes through it, what the ground keeps (MJ/m2 a day)."""

import math

from app.errors import OutOfRange

_SOLAR_CONSTANT_MJ = 0.0820
"""MJ/m2 a minute. Source: FAO-56 (Allen et al. 1998), eq. 21."""
_STEFAN_BOLTZMANN_MJ = 4.903e-9
"""MJ/K4 m2 a day. Source: FAO-56, eq. 39."""
_KELVIN = 273.16
"""As printed with FAO-56, eq. 39."""


def _sun(latitude_deg: float, day_of_year: int) -> tuple[float, float, float]:
    """Latitude and declination, and the angle of the sunset hour: 0 where it stays dark, pi where it stays light."""
    if not -90 <= latitude_deg <= 90:
        raise OutOfRange("A latitude", latitude_deg, "-90 to 90 degrees")
    if not 1 <= day_of_year <= 366:
        raise OutOfRange("A day of the year", day_of_year, "1 to 366")
    latitude = math.radians(latitude_deg)
    declination = 0.409 * math.sin(2.0 * math.pi * day_of_year / 365.0 - 1.39)
    cosine = -math.tan(latitude) * math.tan(declination)
    return latitude, declination, math.acos(max(-1.0, min(1.0, cosine)))


def above_the_air_mj(latitude_deg: float, day_of_year: int) -> float:
    """Radiation at the top of the air, Ra (MJ/m2 a day); 0 in the polar night.

    Ra = (1440/pi) 0.0820 dr [ws sin L sin d + cos L cos d sin ws], dr = 1 + 0.033 cos(2 pi J/365),
    d = 0.409 sin(2 pi J/365 - 1.39), ws = acos(-tan L tan d), L south negative, J from 1.
    Valid: -90 to 90 degrees.
    Source: FAO-56 (Allen et al. 1998), eqs 21 to 25.
    Raises: OutOfRange for a latitude beyond the poles or a day outside 1 to 366.
    """
    latitude, declination, sunset = _sun(latitude_deg, day_of_year)
    nearness = 1.0 + 0.033 * math.cos(2.0 * math.pi * day_of_year / 365.0)
    across = math.cos(latitude) * math.cos(declination) * math.sin(sunset)
    height = sunset * math.sin(latitude) * math.sin(declination) + across
    return max(0.0, 1440.0 / math.pi * _SOLAR_CONSTANT_MJ * nearness * height)


def bright_hours(latitude_deg: float, day_of_year: int) -> float:
    """The most hours of sunshine a day can have, N = 24 ws / pi: the sun's centre above the horizon, no refraction.

    It is for the water arithmetic; 12 to 28 minutes short of sunrise to sunset at 50 to 60 degrees, see `day_hours`.
    Source: FAO-56 (Allen et al. 1998), eq. 34.
    Raises: OutOfRange for a latitude beyond the poles or a day outside 1 to 366.
    """
    return 24.0 * _sun(latitude_deg, day_of_year)[2] / math.pi


def at_the_ground_mj(above_mj: float, sunshine_hours: float, most_hours: float) -> float:
    """Radiation at the ground, Rs (MJ/m2 a day): (0.25 + 0.50 n/N) Ra.

    Valid: 0 <= n <= N; where N is 0 there is no sun.
    Source: FAO-56 (Allen et al. 1998), eq. 35 with its constants for a place that has no own.
    Raises: OutOfRange for more hours of sun than the day has.
    """
    if not 0 <= sunshine_hours <= most_hours:
        raise OutOfRange("Hours of sunshine", sunshine_hours, f"0 to {most_hours:.1f} that day")
    share = sunshine_hours / most_hours if most_hours else 0.0
    return (0.25 + 0.50 * share) * above_mj


def clear_sky_mj(above_mj: float, altitude_m: float) -> float:
    """Radiation at the ground under a clear sky, Rso (MJ/m2 a day): (0.75 + 2e-5 z) Ra.

    Valid: -400 to 5000 m.
    Source: FAO-56 (Allen et al. 1998), eq. 37.
    Raises: OutOfRange outside those heights.
    """
    if not -400 <= altitude_m <= 5000:
        raise OutOfRange("A height in metres", altitude_m, "-400 to 5000 m")
    return (0.75 + 2e-5 * altitude_m) * above_mj


def kept_mj(ground_mj: float) -> float:
    """What short grass keeps of the sun's radiation, Rns (MJ/m2 a day): 0.77 Rs.

    Source: FAO-56 (Allen et al. 1998), eq. 38, albedo 0.23.
    """
    return 0.77 * ground_mj


def sent_back_mj(min_c: float, max_c: float, vapour_kpa: float, ground_mj: float, clear_mj: float) -> float:
    """What the ground sends back to the sky as warmth, Rnl (MJ/m2 a day).

    4.903e-9 (TxK^4 + TnK^4)/2 (0.34 - 0.14 sqrt ea) (1.35 Rs/Rso - 0.35), Rs/Rso at most 1.
    Valid: where the sky can be judged (Rso above 0).
    Source: FAO-56 (Allen et al. 1998), eq. 39.
    Raises: OutOfRange for a negative vapour pressure, or without sun.
    """
    if vapour_kpa < 0:
        raise OutOfRange("A vapour pressure in kPa", vapour_kpa, "0 or more")
    if not clear_mj > 0:
        raise OutOfRange("Radiation under a clear sky", clear_mj, "above 0")
    warmth = ((max_c + _KELVIN) ** 4 + (min_c + _KELVIN) ** 4) / 2.0
    cloud = 1.35 * min(1.0, ground_mj / clear_mj) - 0.35
    return _STEFAN_BOLTZMANN_MJ * warmth * (0.34 - 0.14 * math.sqrt(vapour_kpa)) * cloud


def into_the_soil_mj(before_c: float, after_c: float) -> float:
    """Warmth that goes into the soil in a month, G (MJ/m2 a day): 0.07 (T of the next month - T of the one before).

    Negative in autumn, when it comes out again. Over one day it is near 0.
    Source: FAO-56 (Allen et al. 1998), eq. 43; eq. 42 for the day.
    """
    return 0.07 * (after_c - before_c)
