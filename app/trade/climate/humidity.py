"""Moisture of the air: saturation pressure and dew point."""

import math

from app.errors import OutOfRange


def saturation_kpa(temperature_c: float) -> float:
    """Saturation vapour pressure over water (kPa): 0.6108 exp(17.27 T / (T + 237.3)).

    Valid: -40 to 60 °C; below 0 °C it is over supercooled water.
    Source: FAO-56 (Allen et al. 1998), eq. 11.
    Raises: OutOfRange outside that.
    """
    if not -40 <= temperature_c <= 60:
        raise OutOfRange("A temperature", temperature_c, "-40 to 60 °C")
    return 0.6108 * math.exp(17.27 * temperature_c / (temperature_c + 237.3))


def dew_point_c(temperature_c: float, humidity_percent: float) -> float:
    """The temperature (°C) to which air must cool for dew: the inverse of `saturation_kpa` at RH/100 of its pressure.

    Valid: -40 to 60 °C, humidity above 0 and up to 100 %.
    Source: FAO-56 (Allen et al. 1998), eq. 11 solved for T (annex 3 prints the same, rounded).
    Raises: OutOfRange outside that.
    """
    if not 0 < humidity_percent <= 100:
        raise OutOfRange("A relative humidity", humidity_percent, "above 0 and up to 100 %")
    ratio = math.log(saturation_kpa(temperature_c) * humidity_percent / 100.0 / 0.6108)
    return 237.3 * ratio / (17.27 - ratio)
