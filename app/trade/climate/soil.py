"""Temperature of the soil at 10 cm, from the air."""

import math
from collections.abc import Sequence

from app.errors import OutOfRange
from app.trade.climate.days import YEAR

DEPTH_M = 0.10


def damping_depth_m(diffusivity_mm2_s: float) -> float:
    """The depth at which the yearly wave of temperature has fallen to 1/e: D = sqrt(2 kappa / w), w = 2 pi / 365 d.

    Valid: diffusivity 0.1 to 1.5 mm2/s (dry peat 0.1-0.2, mineral soils 0.3-0.8).
    Source: heat conduction in a half-space (de Vries; Campbell and Norman, from memory for the ranges).
    Raises: OutOfRange outside that.
    """
    if not 0.1 <= diffusivity_mm2_s <= 1.5:
        raise OutOfRange("A soil's diffusivity", diffusivity_mm2_s, "0.1 to 1.5 mm²/s")
    per_second = 2.0 * math.pi / (365.0 * 86400.0)
    return math.sqrt(2.0 * diffusivity_mm2_s * 1e-6 / per_second)


def soil_curve_c(air_c: Sequence[float], diffusivity_mm2_s: float = 0.6, depth_m: float = DEPTH_M) -> tuple[float, ...]:
    """The yearly curve of soil temperature (°C) from the 365 daily means of the air: damped and late.

    T(z, t) = mean + exp(-z/D) (air(t - lag) - mean), lag = z/D / w; at 10 cm in moist loam 0.960 and 2.4 days.
    Valid: a smooth yearly curve, not single days. Bare soil in spring sun runs up to 2 °C above it (common practice).
    Source: heat conduction in a half-space, the annual wave; diffusivity 0.6 mm2/s for moist loam (from memory).
    Raises: OutOfRange for a diffusivity that no soil has.
    """
    ratio = depth_m / damping_depth_m(diffusivity_mm2_s)
    whole, part = divmod(ratio * YEAR / (2.0 * math.pi), 1.0)
    mean = sum(air_c) / YEAR
    damp = math.exp(-ratio)
    late = [
        (1.0 - part) * air_c[(day - int(whole)) % YEAR] + part * air_c[(day - int(whole) - 1) % YEAR]
        for day in range(YEAR)
    ]
    return tuple(mean + damp * (value - mean) for value in late)


def soil_follows_c(air_today_c: float, air_yesterday_c: float) -> float:
    """What the soil at 10 cm follows from day to day: the mean of today's and yesterday's air (°C).

    A morning reading in a mild, cloudy winter lies 1.3 °C below it, give or take 0.6; not so in spring.
    Valid: -30 to 45 °C; a correlation of 0.79 on the winter days compared.
    Source: Met Éireann monthly summary (met.ie/climate/dataproducts/MthlySumRep.txt), days 8 to 31 of a
    winter month; own statistics.
    """
    return (air_today_c + air_yesterday_c) / 2.0
