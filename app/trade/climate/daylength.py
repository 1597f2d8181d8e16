"""Length of day, sunrise and sunset, and the days on which the day passes so many hours."""

import math
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta, tzinfo
from typing import Literal, NamedTuple

from app.errors import OutOfRange

SUNRISE_DEG = 0.8333
"""How far below the horizon the sun's centre stands when its upper limb shows, with refraction (civil almanacs)."""

_SHORTEST_N, _LONGEST_N = (12, 21), (6, 21)


class Sun(NamedTuple):
    """One day's sun: ``outcome``, local ``rises`` and ``sets`` (None if it does neither), and ``hours`` of daylight."""

    outcome: Literal["rises and sets", "midnight sun", "polar night"]
    rises: datetime | None
    sets: datetime | None
    hours: float


def _latitude(latitude_deg: float) -> float:
    if not -90 <= latitude_deg <= 90:
        raise OutOfRange("A latitude", latitude_deg, "-90 to 90 degrees")
    return math.radians(latitude_deg)


def day_length_hours(latitude_deg: float, day_of_year: int, below_deg: float = SUNRISE_DEG) -> float:
    """Hours from sunrise to sunset: 24 where the sun does not set, 0 where it does not rise.

    theta = 0.2163108 + 2 atan(0.9671396 tan(0.00860 (J - 186))); phi = asin(0.39795 cos theta);
    D = 24 - (24/pi) acos((sin p + sin L sin phi) / (cos L cos phi)), J from 1, angles in radians, south negative.
    ``below_deg`` is p: 0.8333 for sunrise, 6 for civil twilight, 0 for the disc's centre without refraction.
    Valid: -90 to 90 degrees; within 6 minutes of an ephemeris up to 50 degrees, 8 at 60, 13 at 66.
    Source: Forsythe, Rykiel, Stahl, Wu and Schoolfield 1995, Ecological Modelling 80:87-95, eqs 1-3 (from memory).
    Raises: OutOfRange for a latitude beyond the poles or a day outside 1 to 366.
    """
    if not 1 <= day_of_year <= 366:
        raise OutOfRange("A day of the year", day_of_year, "1 to 366")
    latitude = _latitude(latitude_deg)
    theta = 0.2163108 + 2.0 * math.atan(0.9671396 * math.tan(0.00860 * (day_of_year - 186)))
    phi = math.asin(0.39795 * math.cos(theta))
    above = math.sin(math.radians(below_deg)) + math.sin(latitude) * math.sin(phi)
    cosine = above / max(math.cos(latitude) * math.cos(phi), 1e-12)
    return 24.0 - 24.0 / math.pi * math.acos(max(-1.0, min(1.0, cosine)))


def day_hours(latitude_deg: float, day: int) -> float:
    """`day_length_hours` of a day number (proleptic Gregorian ordinal).

    Source: `day_length_hours`.
    """
    return day_length_hours(latitude_deg, date.fromordinal(day).timetuple().tm_yday)


def solar_noon_utc(longitude_deg: float, day: int) -> datetime:
    """When the sun stands highest: 12 - longitude/15 - Sc hours UTC, longitude positive in the east.

    Sc = 0.1645 sin 2b - 0.1255 cos b - 0.025 sin b hours, b = 2 pi (J - 81) / 364. Within a minute of an ephemeris.
    Source: FAO-56 (Allen et al. 1998), eqs 32-33.
    Raises: OutOfRange for a longitude outside -180 to 180.
    """
    if not -180 <= longitude_deg <= 180:
        raise OutOfRange("A longitude", longitude_deg, "-180 to 180 degrees")
    when = date.fromordinal(day)
    b = 2.0 * math.pi * (when.timetuple().tm_yday - 81) / 364.0
    correction = 0.1645 * math.sin(2.0 * b) - 0.1255 * math.cos(b) - 0.025 * math.sin(b)
    midnight = datetime(when.year, when.month, when.day, tzinfo=UTC)
    return midnight + timedelta(hours=12.0 - longitude_deg / 15.0 - correction)


def sun(latitude_deg: float, longitude_deg: float, zone: tzinfo, day: int) -> Sun:
    """Sunrise and sunset of a local day, in the zone's own clock time, summer time where it holds.

    Sunrise and sunset lie half the day's length before and after solar noon.
    Valid: as `day_length_hours`; a flat horizon: hills shorten the day.
    Source: `day_length_hours` and `solar_noon_utc`; the zone is the caller's.
    Raises: OutOfRange for a place that is not on the globe.
    """
    hours = day_hours(latitude_deg, day)
    if hours >= 24.0:
        return Sun("midnight sun", None, None, 24.0)
    if hours <= 0.0:
        return Sun("polar night", None, None, 0.0)
    noon = solar_noon_utc(longitude_deg, day)
    # Near the date line the zone's calendar may be a day off the sun's.
    noon += timedelta(days=day - noon.astimezone(zone).toordinal())
    half = timedelta(hours=hours / 2.0)
    return Sun("rises and sets", (noon - half).astimezone(zone), (noon + half).astimezone(zone), hours)


def day_longer_than(latitude_deg: float, hours: float, year: int) -> int | None:
    """The first day of the season ``year`` on which the lengthening day has at least so many hours.

    None where no day is so long. Where even the shortest is, it is the shortest day: it has been so all along.
    Valid: hours above 0 and up to 24. North, it lies between 21 December before and 21 June; south, half a year later.
    Source: `day_length_hours`, which only grows between the solstices.
    Raises: OutOfRange for hours or a latitude that cannot be.
    """
    north = latitude_deg >= 0
    first = date(year - 1, *_SHORTEST_N) if north else date(year, *_LONGEST_N)
    last = date(year, *_LONGEST_N) if north else date(year, *_SHORTEST_N)
    _check_hours(hours)
    return _first(lambda day: day_hours(latitude_deg, day) >= hours, first.toordinal(), last.toordinal())


def day_shorter_than(latitude_deg: float, hours: float, year: int) -> int | None:
    """The first day of the season ``year`` on which the shortening day has fewer than so many hours.

    None where no day is so short. Where even the longest is, it is the longest day: it has been so all along.
    Valid: as `day_longer_than`. North, it lies between 21 June and 21 December; south, half a year later.
    Source: `day_length_hours`, which only falls between the solstices.
    Raises: OutOfRange for hours or a latitude that cannot be.
    """
    north = latitude_deg >= 0
    first = date(year, *_LONGEST_N) if north else date(year, *_SHORTEST_N)
    last = date(year, *_SHORTEST_N) if north else date(year + 1, *_LONGEST_N)
    _check_hours(hours)
    return _first(lambda day: day_hours(latitude_deg, day) < hours, first.toordinal(), last.toordinal())


def _check_hours(hours: float) -> None:
    if not 0 < hours <= 24:
        raise OutOfRange("A length of day in hours", hours, "above 0 and up to 24")


def _first(holds: Callable[[int], bool], low: int, high: int) -> int | None:
    if not holds(high):
        return None
    while low < high:
        middle = (low + high) // 2
        if holds(middle):
            high = middle
        else:
            low = middle + 1
    return high
