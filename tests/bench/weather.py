"""Thirty years of weather: made into a season, asked for two hundred dates by warmth, and one more day typed."""

import gc
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np

from app.records import store
from app.records.store import WeatherDay, WeatherRow
from app.services import entries
from app.services.book import Book
from app.services.preview import Draft
from app.services.weather import files as weather_files
from app.services.weather.files import How
from app.sheets.places import places
from app.trade.climate.record import DailyRecord
from app.trade.climate.record_season import RecordSeason
from tests.bench import planning

FIRST, YEARS = 1997, 30
MAY = datetime(2027, 5, 20, 9, 0, tzinfo=UTC)
"""When most of a garden waits for warmth."""
BASES = (0.0, 4.4, 5.0, 7.0, 10.0)
ENTRIES = 150
GARDEN = (
    "salad", "pea", "parsnip-seed", "tomato", "garlic", "beetroot", "broad-bean", "onion", "kale", "squash",
)  # fmt: skip
"""The ten kinds of entry in the garden, as many of each; half of them have days by warmth."""


def invented(last: date) -> list[WeatherDay]:
    """Made-up weather from 1997 on: a wave through the year, and a roll of the dice that is always the same."""
    first = date(FIRST, 1, 1).toordinal()
    count = last.toordinal() - first + 1
    dice = np.random.default_rng(7)
    wave = 9.5 - 7.0 * np.cos(2 * np.pi * (np.arange(count) - 20) / 365.25)
    years = np.repeat(dice.normal(0, 0.8, count // 365 + 1), 365)[:count]
    mean = wave + years + np.convolve(dice.normal(0, 2.2, count + 4), np.ones(5) / np.sqrt(5), "valid")
    half = dice.uniform(2, 6, count)
    rain = np.maximum(0, dice.normal(-1, 4, count))
    low, high = np.round(mean - half, 1), np.round(mean + half, 1)
    return [
        WeatherDay(date.fromordinal(first + n), float(low[n]), float(high[n]), round(float(rain[n]), 1))
        for n in range(count)
    ]


def record(days: list[WeatherDay]) -> DailyRecord:
    """The days as a record."""
    return DailyRecord.of((one.day.toordinal(), one.min_c, one.max_c, one.rain_mm) for one in days)


def questions() -> list[tuple[float, float, int]]:
    """Two hundred sums of warmth: total, base, and the day of the year to come they begin on."""
    start = date(2027, 3, 1).toordinal()
    return [(150.0 + n * 37 % 900, BASES[n % len(BASES)], start + n * 13 % 90) for n in range(200)]


def season(known: DailyRecord, before: RecordSeason | None = None) -> RecordSeason:
    """The season of a record."""
    found = places()
    return RecordSeason(54.2, known, next(iter(found.normals.values())), found.scatter, before=before)


def bare(low: np.ndarray, high: np.ndarray) -> list[np.ndarray]:
    """The same sums by NumPy and nothing else: the sine once for a base, then for each question every year's sum."""
    warmth = {}
    for base in BASES:
        mean, half = (high + low) / 2, (high - low) / 2
        with np.errstate(divide="ignore", invalid="ignore"):
            angle = np.arcsin(np.clip((base - mean) / half, -1, 1))
        across = ((mean - base) * (np.pi / 2 - angle) + half * np.cos(angle)) / np.pi
        warmth[base] = np.where(base >= high, 0, np.where(base <= low, mean - base, across))
    found = []
    for total, base, since in questions():
        at = date.fromordinal(since).timetuple().tm_yday - 1
        days = (np.cumsum(warmth[base][:, at:], axis=1) < total).sum(axis=1)
        found.append(np.quantile(days, (0.1, 0.5, 0.9), method="weibull"))
    return found


def _ensemble(known: DailyRecord) -> float:
    fresh = season(known)
    asked = questions()
    return planning.best(lambda: [fresh.warmth(*one) for one in asked], 1)


def ratios(floor_s: float) -> Iterator[tuple[str, float, float]]:
    """Name, ratio, limit; ``floor_s`` is the month page's floor."""
    days = invented(date(FIRST + YEARS - 1, 12, 31))
    known = record(days)
    low, high = known.by_year(range(FIRST, FIRST + YEARS))
    bare_s = planning.best(lambda: bare(low, high), 5)
    spent = min(_ensemble(known) for _ in range(5))
    print(f"  200 dates by warmth over {YEARS} years: {spent * 1e3:.1f} ms, in bare NumPy {bare_s * 1e3:.1f} ms")
    yield "ensemble-200x30", spent / bare_s, 5.0
    made = planning.best(lambda: _asked_once(season(record(days))), 5)
    read_s = planning.best(lambda: _arrays(days), 5)
    print(f"  {len(days)} days made into a season and asked: {made * 1e3:.1f} ms, into arrays {read_s * 1e3:.1f} ms")
    yield "season-30-years", made / read_s, 8.0
    with tempfile.TemporaryDirectory() as name:
        taken_in, typed, laid = _in_a_garden(Path(name))
    print(f"  a file of {YEARS} years read, taken in, and {ENTRIES} entries planned by it: {taken_in:.2f} s")
    yield "import-30-years-s", taken_in, 2.0
    print(f"  one day's lowest and highest typed, {ENTRIES} entries, {laid} laid again: {typed * 1e3:.1f} ms")
    yield "typed-150-entries", typed / floor_s, 3.0


def _arrays(days: list[WeatherDay]) -> tuple[np.ndarray, np.ndarray]:
    """The least that a record takes: its days as numbers, and an array of what they say."""
    numbers = np.array([one.day.toordinal() for one in days])
    return numbers, np.array([one[1:] for one in days], dtype=np.float64)


def _asked_once(place: RecordSeason) -> None:
    for mark, value in (("last frost", 90.0), ("first frost", 10.0), ("soil above", 8.0)):
        place.mark(mark, value, 2027)
    place.warmth(700.0, 4.4, date(2027, 4, 1).toordinal())
    place.frost_percent(date(2027, 4, 1).toordinal())


def _in_a_garden(folder: Path) -> tuple[float, float, int]:
    """The seconds that thirty years take to come in, and the least that a day typed takes, with all that it moves
    planned and on record; and how many entries it moved."""
    from tests.bench.pages import holding

    book: Book = holding(folder, 0, now=MAY).state.book
    last = MAY.date().toordinal()
    with book.writing() as session:
        for one in planning.entries(book.library.sheets, ENTRIES, GARDEN):
            entries.add(book, session, Draft(one.sheet, one.name, one.place, one.facts), last)
    days = invented(date.fromordinal(last - 20))
    text = "date,min,max,rain\n" + "".join(f"{one.day},{one.min_c},{one.max_c},{one.rain_mm}\n" for one in days)
    gc.collect()
    gc.freeze()
    taken_in = planning.best(lambda: _take_in(book, text), 1)
    times = [_one_day(book, day) for day in range(last - 19, last + 1)]
    book.close()
    return taken_in, min(times)[0], max(laid for _, laid in times)


def _take_in(book: Book, text: str) -> None:
    looked = weather_files.look("made-up.csv", weather_files.read_bytes(text.encode()), How(), 54.2, MAY.date())
    taken = weather_files.take_in(book, looked)
    assert taken.new > 365 * YEARS


def _one_day(book: Book, day: int) -> tuple[float, int]:
    start = time.perf_counter()
    with book.writing() as session:
        row = WeatherRow(day=date.fromordinal(day), min_c=6.0, max_c=14.0 + day % 7, at=book.now())
        store.put_weather(session, [row])
        laid = book.replan_weather(session, {day})
    return time.perf_counter() - start, len(laid)
