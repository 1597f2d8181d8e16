"""A place's monthly normals, and how its weather scatters about them."""

from typing import NamedTuple

Twelve = tuple[float, ...]


class Normals(NamedTuple):
    """Monthly means, January first: ``max_c`` and ``min_c`` of the daily highest and lowest (°C).

    ``altitude_m`` is where they were measured, None where that is not known (then they are carried to no other
    height); ``rain_mm`` and ``wet_days`` (1 mm or more) may be empty. ``min_sd_c`` is the standard deviation of single
    nights about the month's curve, empty where it is not known; ``grid`` says that it was counted on a grid of squares
    and not in one garden. ``basis`` and ``source`` say where all that is from.
    """

    id: str
    name: str
    max_c: Twelve
    min_c: Twelve
    altitude_m: float | None = None
    rain_mm: Twelve = ()
    wet_days: Twelve = ()
    min_sd_c: Twelve = ()
    grid: bool = False
    basis: str = ""
    source: str = ""


class Scatter(NamedTuple):
    """How weather scatters about its normals; every value has its source in the file of normals.

    ``night_sd_c``: single nights' lowest about the curve; ``season_share``: see `FrostYear`; ``station_factor``: how
    much wider the nights of one station scatter than those of a grid; ``day_sd_c``: single days' means;
    ``year_sd_c``: a growing season's mean between years; ``last_frost_sd_days`` and ``first_frost_sd_days``: frost
    dates between years.
    """

    night_sd_c: float
    season_share: float
    station_factor: float
    day_sd_c: float
    year_sd_c: float
    last_frost_sd_days: float
    first_frost_sd_days: float


def turned(normals: Normals) -> Normals:
    """The same months for the other side of the equator: each half a year later.

    Source: the seasons are opposite; that the weather is like is an assumption.
    """

    def half_on(months: Twelve) -> Twelve:
        return (*months[6:], *months[:6])

    return normals._replace(
        max_c=half_on(normals.max_c),
        min_c=half_on(normals.min_c),
        rain_mm=half_on(normals.rain_mm),
        wet_days=half_on(normals.wet_days),
        min_sd_c=half_on(normals.min_sd_c),
    )
