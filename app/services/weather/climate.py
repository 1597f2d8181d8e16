"""Our weather: the place's year as it usually is, this year against it, and the dates that this year has moved."""

from collections.abc import Collection, Mapping, Sequence
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.live import Live
from app.rules.spans import Day
from app.rules.tasks import Task
from app.rules.touch import root
from app.services.book import Book
from app.trade.climate.days import YEAR, index_of
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.ordinary import ordinary_year
from app.trade.climate.record_season import RecordSeason
from app.trade.climate.season import Basis, Season
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
Sum = tuple[float, float, Day]
"""A sum of warmth as a season is asked for it: degree-days, above which base, since which day."""
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


class MovedDate(NamedTuple):
    """A job ahead whose best day this year's warmth has moved, and why."""

    key: str
    title: str
    entry: str
    was: Day
    best: Day
    why: str


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
    moved = _moved(book, session, season, row.altitude_m, today)
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


# ── Dates that have moved ─────────────────────────────────────────────────────────────────────────────────────────


def _moved(book: Book, session: Session, season: NormalsSeason, altitude_m: float, today: Day) -> list[MovedDate]:
    """The open jobs whose best day is another than it would be in an ordinary year, soonest first.

    Those entries whose sums of warmth come on other days are laid twice by themselves, with this year and without.
    """
    ordinary = ordinary_year(season, today, altitude_m)
    if ordinary is None:
        return []
    live = book.live(session, today)
    asked = {name: _otherwise(laid.asked, season, ordinary) for name, laid in live.laid.items()}
    roots = {root(name) for name, questions in asked.items() if questions}
    if not roots:
        return []
    facts = (
        [entry for entry in live.facts.entries.values() if entry.id in roots],
        [one for name, one in live.facts.amendments.items() if root(name) in roots],
        [tick for name, ticks in live.facts.ticks.items() if root(name) in roots for tick in ticks],
    )
    last = today + YEAR
    now, then = (Live(live.planner.in_season(one), *facts, today, last) for one in (season, ordinary))
    return _differing(book, season, now, then, asked, today)


def _differing(
    book: Book, season: NormalsSeason, now: Live, then: Live, asked: Mapping[str, Sequence[Sum]], today: Day
) -> list[MovedDate]:
    """What differs between two plans of the same entries: of a job that comes round, the next doing alone."""
    found: dict[tuple[str, str], MovedDate] = {}
    for name, laid in now.laid.items():
        before = {task.key: task for task in then.laid[name].tasks} if name in then.laid else {}
        questions = asked.get(name) or [one for each in asked.values() for one in each]
        for task in laid.tasks:
            moved = _moved_date(book, laid.entry.sheet, laid.entry.name, task, before.get(task.key), today)
            before_it = found.get((name, task.step))
            if moved and (before_it is None or moved.best < before_it.best):
                found[name, task.step] = moved._replace(why=_why(season, questions, moved.best))
    return sorted(found.values(), key=lambda one: (one.best, one.key))


def _otherwise(asked: Collection[tuple[object, ...]], season: Season, ordinary: Season) -> list[Sum]:
    """The sums of warmth among what was asked that come on another day than they would in an ordinary year."""
    sums = [one for one in asked if one and not isinstance(one[0], str)]
    typed = [(float(one[0]), float(one[1]), int(one[2])) for one in sums]  # type: ignore[arg-type,call-overload]
    return [one for one in typed if season.warmth(*one) != ordinary.warmth(*one)]


def _moved_date(book: Book, sheet: str, entry: str, task: Task, before: Task | None, today: Day) -> MovedDate | None:
    if before is None or task.best is None or before.best is None or task.best == before.best:
        return None
    if task.done is not None or max(task.best, before.best) < today:
        return None
    step = book.steps.get((sheet, task.step))
    return MovedDate(task.key, step.title if step else task.step, entry, before.best, task.best, "")


def _why(season: NormalsSeason, questions: Sequence[Sum], best: Day) -> str:
    """What the sum of warmth nearest to a job's best day rests on."""
    answers = [(season.warmth(*one), one) for one in questions]
    known = [(abs(spread.best - best), one) for spread, one in answers if spread is not None]
    return season.why_warmth(*min(known)[1]) if known else ""
