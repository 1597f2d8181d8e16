"""Is it fit to paint now? Three readings on a phone, and each reason for or against."""

import math
from typing import NamedTuple

from app.errors import OutOfRange

DEW_MARGIN_C = 3.0
HOT_SURFACE_C = 30.0
HOT_AIR_C = 35.0
MOST_WIND_M_S = 8.0
COOLER_SURFACE_C = 2.0
FROST_AHEAD_C = 1.0
SUN_MARGIN_H = 2.0


class Limits(NamedTuple):
    """What a kind of coating asks: warmth of air and surface, the dampest air, dry hours after it."""

    least_c: float
    most_humidity_percent: float
    dry_hours_after: float = 6.0


class Check(NamedTuple):
    """One thing looked at: whether it holds, and the sentence to read."""

    holds: bool
    says: str


class Fitness(NamedTuple):
    """The answer: fit or not, the dew point and the margin over it (°C), and every check."""

    fit: bool
    dew_point_c: float
    margin_c: float
    checks: tuple[Check, ...]


def dew_point_magnus_c(air_c: float, humidity_percent: float) -> float:
    """Dew point (°C) over water: b g / (a - g), g = ln(RH/100) + a T / (b + T), a 17.625, b 243.04.

    Nearer to the standard libraries than `app.trade.climate.humidity.dew_point_c` (FAO-56), by a hundredth of a
    degree. Below 0 °C it stays over water, where a frost point would be up to 1.3 °C higher.
    Valid: -40 to 60 °C, humidity above 0 and up to 100 %.
    Source: Alduchov and Eskridge 1996, Journal of Applied Meteorology 35, 601-609.
    Raises: OutOfRange outside that.
    """
    if not -40 <= air_c <= 60:
        raise OutOfRange("A temperature of the air", air_c, "-40 to 60 °C")
    if not 0 < humidity_percent <= 100:
        raise OutOfRange("A relative humidity", humidity_percent, "above 0 and up to 100 %")
    g = math.log(humidity_percent / 100.0) + 17.625 * air_c / (243.04 + air_c)
    return 243.04 * g / (17.625 - g)


def humidity_at_percent(air_c: float, dew_c: float) -> float:
    """The relative humidity (%) of air with that dew point: the inverse of `dew_point_magnus_c`.

    Source: as there.
    Raises: OutOfRange for temperatures outside -40 to 60 °C, or a dew point above the air.
    """
    if not -40 <= dew_c <= air_c <= 60:
        raise OutOfRange("A dew point", dew_c, "-40 °C up to the temperature of the air, and that up to 60 °C")
    return 100.0 * math.exp(17.625 * dew_c / (243.04 + dew_c) - 17.625 * air_c / (243.04 + air_c))


def fit_to_paint(
    air_c: float,
    humidity_percent: float,
    surface_c: float | None,
    limits: Limits,
    wind_m_s: float | None = None,
    dry_hours_ahead: float | None = None,
    lowest_tonight_c: float | None = None,
    wall_dry: bool = True,
    since_sunrise_h: float | None = None,
    to_sunset_h: float | None = None,
) -> Fitness:
    """Whether a coating takes now. All must hold while it is put on and in its first hours of drying.

    Without a reading of the surface it is taken 2 °C below the air. ``dry_hours_ahead`` and ``lowest_tonight_c`` come
    from a forecast, hours of sun from the clock; neither they nor the wind are asked after when they are None. The
    tin's own figures rule.
    Source: surface 3 °C above the dew point and 85 % humidity: ISO 8502-4 and ISO 12944-7 as told by trade pages; 80 %,
    10 °C and 7 °C for water-borne paint: a paint maker's FAQ (icipaints.co.uk); heat, wind, rain, frost, and a surface
    2 °C below the air without a reading: common practice.
    Raises: OutOfRange for readings that cannot be.
    """
    dew_c = dew_point_magnus_c(air_c, humidity_percent)
    if surface_c is not None and not -40 <= surface_c <= 90:
        raise OutOfRange("A temperature of the surface", surface_c, "-40 to 90 °C")
    wall_c = air_c - COOLER_SURFACE_C if surface_c is None else surface_c
    margin_c = wall_c - dew_c
    colder = min(air_c, wall_c)
    checks = [
        Check(
            margin_c >= DEW_MARGIN_C, f"surface {margin_c:.1f} °C above the dew point of {dew_c:.1f} °C; 3 is wanted"
        ),
        Check(
            humidity_percent <= limits.most_humidity_percent,
            f"humidity {humidity_percent:g} %; {limits.most_humidity_percent:g} at most",
        ),
        Check(colder >= limits.least_c, f"the colder of air and surface {colder:g} °C; {limits.least_c:g} at least"),
        Check(wall_c <= HOT_SURFACE_C, f"surface {wall_c:g} °C; {HOT_SURFACE_C:g} at most, and out of the hot sun"),
        Check(air_c <= HOT_AIR_C, f"air {air_c:g} °C; {HOT_AIR_C:g} at most"),
        Check(wall_dry, "it has been dry for a day" if wall_dry else "it is wet: a dry day is wanted after rain"),
    ]
    if wind_m_s is not None:
        says = f"wind {wind_m_s:g} m/s; {MOST_WIND_M_S:g} at most, and less on a ladder"
        checks.append(Check(wind_m_s <= MOST_WIND_M_S, says))
    checks += _sun(since_sunrise_h, to_sunset_h)
    if dry_hours_ahead is not None:
        wanted = limits.dry_hours_after
        checks.append(Check(dry_hours_ahead >= wanted, f"{dry_hours_ahead:g} hours dry ahead; {wanted:g} are wanted"))
    if lowest_tonight_c is not None:
        says = f"tonight's lowest {lowest_tonight_c:g} °C; no frost may come"
        checks.append(Check(lowest_tonight_c > FROST_AHEAD_C, says))
    return Fitness(all(one.holds for one in checks), dew_c, margin_c, tuple(checks))


def _sun(since_sunrise_h: float | None, to_sunset_h: float | None) -> list[Check]:
    """Two hours off either end of the day: a surface is colder than the air in the morning, and dews in the evening."""
    found = []
    if since_sunrise_h is not None:
        says = f"{since_sunrise_h:g} hours after sunrise; {SUN_MARGIN_H:g} at least"
        found.append(Check(since_sunrise_h >= SUN_MARGIN_H, says))
    if to_sunset_h is not None:
        found.append(Check(to_sunset_h >= SUN_MARGIN_H, f"{to_sunset_h:g} hours to sunset; {SUN_MARGIN_H:g} at least"))
    return found
