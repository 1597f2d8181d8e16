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


def saturation_slope_kpa_c(temperature_c: float) -> float:
    """How fast saturation pressure rises with warmth (kPa/°C): 4098 e0(T) / (T + 237.3)^2.

    Valid: -40 to 60 °C.
    Source: FAO-56 (Allen et al. 1998), eq. 13.
    Raises: OutOfRange outside that.
    """
    return 4098.0 * saturation_kpa(temperature_c) / (temperature_c + 237.3) ** 2


def mean_saturation_kpa(min_c: float, max_c: float) -> float:
    """A day's mean saturation pressure (kPa): half the sum of those at its lowest and its highest.

    Source: FAO-56 (Allen et al. 1998), eq. 12; at the mean temperature alone it would be too low.
    Raises: OutOfRange as `saturation_kpa`.
    """
    return (saturation_kpa(min_c) + saturation_kpa(max_c)) / 2.0


def vapour_kpa(min_c: float, max_c: float, least_percent: float, most_percent: float) -> float:
    """A day's mean vapour pressure (kPa) from its humidities: [e0(Tn) RHmax + e0(Tx) RHmin] / 200.

    Source: FAO-56 (Allen et al. 1998), eq. 17.
    Raises: OutOfRange for humidities outside 0 to 100 %, or the least above the most.
    """
    if not 0 <= least_percent <= most_percent <= 100:
        raise OutOfRange("A least relative humidity", least_percent, f"0 to {most_percent:g} %, and that up to 100 %")
    return (saturation_kpa(min_c) * most_percent + saturation_kpa(max_c) * least_percent) / 200.0


def vapour_by_mean_kpa(min_c: float, max_c: float, mean_percent: float) -> float:
    """A day's mean vapour pressure (kPa) from its mean humidity: RHmean/100 times `mean_saturation_kpa`.

    Source: FAO-56 (Allen et al. 1998), eq. 19; less sure than `vapour_kpa`.
    Raises: OutOfRange for a humidity outside 0 to 100 %.
    """
    if not 0 <= mean_percent <= 100:
        raise OutOfRange("A mean relative humidity", mean_percent, "0 to 100 %")
    return mean_percent / 100.0 * mean_saturation_kpa(min_c, max_c)


def vapour_by_wet_bulb_kpa(dry_c: float, wet_c: float, air_kpa: float) -> float:
    """Vapour pressure (kPa) from a ventilated pair of thermometers: e0(wet) - 0.000662 P (dry - wet).

    Source: FAO-56 (Allen et al. 1998), eqs 15 and 16, a fan drawing air at about 5 m/s.
    Raises: OutOfRange when the wet one is warmer than the dry.
    """
    if wet_c > dry_c:
        raise OutOfRange("A wet bulb's temperature", wet_c, f"not above the dry one, {dry_c:g} °C")
    return saturation_kpa(wet_c) - 0.000662 * air_kpa * (dry_c - wet_c)
