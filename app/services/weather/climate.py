"""Our weather: the place's year as it usually is, this year against it, and the dates that this year has moved."""

from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.spans import Day
from app.services.book import Book
from app.services.weather.moved_dates import MovedDate, moved_dates
from app.trade.climate.days import index_of
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.record_season import RecordSeason
from app.trade.climate.season import Basis
from app.trade.climate.this_year import SoFar, minima_so_far, rain_so_far, season_first, warmth_so_far
from app.trade.climate.year import MonthOfYear, bands_of, months_of

__all__ = [
    "CHANCES", "MonthOfYear", "MovedDate", "OurWeather", "Ribbon", "SoFar", "ThisYear", "UsualYear", "our_weather",
    "usual_year",
]  # fmt: skip

CHANCES = (10, 50, 90)
WARMTH_BASE_C = 5.0
"""Above what this year's warmth is told: grass and the cool crops grow from about 5 °C (common practice)."""
MOST_MOVED = 14

Days = tuple[Day | None, ...]
Curve = tuple[float, ...]


class Ribbon(NamedTuple):
    """Between what eight years in ten lie, a value for each day of the year shown."""

    low: Curve
    high: Curve


class UsualYear(NamedTuple):
    """A place's year from ``first`` to ``last``, as it usually is; curves have a value for each of its days.

    ``last_frost`` and ``first_frost`` are the 10, 50 and 90 % dates, None where it does not come in so many years;
    ``nights`` and ``daytimes`` the ribbons of lowest and highest, None without a record long enough.
    """

    north: bool
    first: Day
    last: Day
    basis: Basis
    months: tuple[MonthOfYear, ...]
    min_c: Curve
    max_c: Curve
    soil_c: Curve
    daylight_hours: Curve
    frost_percent: Curve
    nights: Ribbon | None
    daytimes: Ribbon | None
    last_frost: Days
    first_frost: Days


class ThisYear(NamedTuple):
    """This year so far: degree-days above 5 °C, lowest temperatures, rain; None where nothing of it is known."""

    warmth: SoFar | None
    minima: SoFar | None
    rain: SoFar | None


class OurWeather(NamedTuple):
    """All that the page shows. ``typed`` is the last day of which the household took the weather down."""

    place: str
    latitude_deg: float
    altitude_m: float
    today: Day
    usual: UsualYear
    this_year: ThisYear
    typed: Day | None
    moved: tuple[MovedDate, ...]
    moved_more: int


def our_weather(book: Book, session: Session, today: Day) -> OurWeather:
    """The place's year, and this one.

    Raises: MissingFact while the first run is not done.
    """
    row, season = book.holding(session), book.season(session)
    moved = moved_dates(book, session, season, row.altitude_m, today)
    typed = season.record.last_known if isinstance(season, RecordSeason) else None
    return OurWeather(
        row.name,
        row.latitude,
        row.altitude_m,
        today,
        usual_year(season, today),
        _this_year(season, today),
        typed,
        tuple(moved[:MOST_MOVED]),
        max(0, len(moved) - MOST_MOVED),
    )


@lru_cache(maxsize=8)
def usual_year(season: NormalsSeason, today: Day) -> UsualYear:
    """The year that holds ``today``, as it usually is.

    Source: `months_of`, `bands_of`, and the season's own curves and marks.
    """
    north = season.latitude_deg >= 0
    first = season_first(today, north=north)
    last = season_first(first + 370, north=north) - 1
    days = range(first, last + 1)
    at = [index_of(day) for day in days]
    months = months_of(season)
    bands = bands_of(season)
    ribbons = [Ribbon(_along(band.low, at), _along(band.high, at)) for band in bands] if bands else [None, None]
    year = date.fromordinal(first).year
    return UsualYear(
        north,
        first,
        last,
        season.basis,
        months if north else months[6:] + months[:6],
        _along(season.min_c, at),
        _along(season.max_c, at),
        _along(season.soil_c, at),
        tuple(season.daylight_hours(day) for day in days),
        tuple(season.frost_percent(day) for day in days),
        ribbons[0],
        ribbons[1],
        tuple(season.mark("last frost", chance, year) for chance in CHANCES),
        tuple(season.mark("first frost", chance, year) for chance in CHANCES),
    )


def _along(curve: Sequence[float], at: Sequence[int]) -> Curve:
    return tuple(curve[index] for index in at)


@lru_cache(maxsize=8)
def _this_year(season: NormalsSeason, today: Day) -> ThisYear:
    if not isinstance(season, RecordSeason):
        return ThisYear(None, None, None)
    record = season.record
    return ThisYear(
        warmth_so_far(season, record, today, WARMTH_BASE_C),
        minima_so_far(season, record, today),
        rain_so_far(season, record, today),
    )
