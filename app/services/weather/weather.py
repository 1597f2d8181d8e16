"""The weather that the household takes down: a day's reading, twelve monthly means, and what is on record."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, Conflict
from app.records import store
from app.records.store import NormalsMonthRow, WeatherRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.weather.season import OWN
from app.trade.climate.days import index_of
from app.trade.climate.readings_cells import HOTTEST_C, impossible
from app.trade.climate.readings_units import temperature_guess

__all__ = [
    "DayRead", "FileView", "Months", "OnRecord", "Reading", "impossible", "last_days", "months", "on_record",
    "reading_of", "type_months", "type_reading", "use_months",
]  # fmt: skip

FAR_C = 22.0
"""So far from what is usual on a day a reading is asked about: it may have been read in °F."""


class Reading(NamedTuple):
    """A day's readings in °C and mm; None where there is none."""

    min_c: float | None = None
    max_c: float | None = None
    rain_mm: float | None = None


class DayRead(NamedTuple):
    """A day and what is on record of it; ``by_hand`` where somebody typed it."""

    day: Day
    reading: Reading
    by_hand: bool


class FileView(NamedTuple):
    """A file that was taken in."""

    id: int
    name: str
    taken: date
    days: int
    left_out: int


class OnRecord(NamedTuple):
    """What is on record: days with a temperature, the first and the last, gaps, the files they came in.

    ``missing_months`` are those between first and last of which no day is there; ``by_hand`` days were typed.
    """

    days: int
    first: date | None
    last: date | None
    years: float
    missing_months: tuple[tuple[int, int], ...]
    by_hand: int
    files: tuple[FileView, ...]


class Months(NamedTuple):
    """The household's own monthly means, January first (empty until typed), and whether the season rests on them."""

    rows: tuple[Reading, ...]
    used: bool


# ── A day ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def last_days(session: Session, today: Day, count: int = 7) -> tuple[DayRead, ...]:
    """The last days, today first, those without a reading among them."""
    rows = {row.day.toordinal(): row for row in store.weather_days(session, today - count + 1, today)}
    found = []
    for day in range(today, today - count, -1):
        row = rows.get(day)
        reading = Reading(row.min_c, row.max_c, row.rain_mm) if row else Reading()
        found.append(DayRead(day, reading, row is not None and row.file is None))
    return tuple(found)


def reading_of(session: Session, day: Day) -> Reading:
    """What is on record of a day."""
    rows = store.weather_days(session, day, day)
    return Reading(rows[0].min_c, rows[0].max_c, rows[0].rain_mm) if rows else Reading()


def type_reading(
    book: Book, day: Day, reading: Reading, today: Day, *, sure: bool = False, at: datetime | None = None
) -> Reading:
    """Take a day's reading down in place of what was on record of it, and give what that was.

    An empty reading takes the day off the record. ``sure`` says that what looks odd is right; ``at`` when it was read
    off, where a phone kept it for a while.

    Raises: BadInput with a sentence per field; "sure" is among them where a yes would do; Conflict when the day was
    typed anew since ``at``.
    """
    if day > today:
        raise BadInput({"day": "That day has not come yet."})
    _check(reading, hint=not book.imperial)
    with book.writing() as session:
        if not sure:
            _ask_whether(book, session, day, reading)
        before = reading_of(session, day)
        if reading == before:
            return before
        if at is not None and any(row.at > at and row.file is None for row in store.weather_days(session, day, day)):
            raise Conflict("That day was typed anew since; what was typed last is kept.")
        if reading == Reading():
            store.remove_weather(session, day, day)
        else:
            row = WeatherRow(day=date.fromordinal(day), at=book.now())
            row.min_c, row.max_c, row.rain_mm = reading
            store.put_weather(session, [row])
        book.replan_weather(session, [day])
    return before


def _check(reading: Reading, *, hint: bool) -> None:
    """Refuse what can't be; with ``hint``, a temperature that hot is asked to be named if it was read in °F.

    Raises: BadInput.
    """
    errors: dict[str, str] = {}
    for name in Reading._fields:
        wrong = impossible(*(value if field == name else None for field, value in reading._asdict().items()))
        if wrong:
            errors[name] = f"{wrong[0]} is {wrong[1]}." if name != "rain_mm" else f"{_upper(wrong[1])}."
            value = getattr(reading, name)
            if hint and name != "rain_mm" and value > 0:
                errors[name] += f" If it was read in Fahrenheit, write {value:g} °F."
    if not errors:
        wrong = impossible(*reading)
        if wrong:
            errors["min_c"] = "The lowest is above the highest. Are they the wrong way round?"
    if errors:
        raise BadInput(errors)


def _ask_whether(book: Book, session: Session, day: Day, reading: Reading) -> None:
    """Ask about a temperature far from what is usual on the day.

    Raises: BadInput.
    """
    season = book.season(session)
    errors = {}
    for name, value, usual in (
        ("min_c", reading.min_c, season.min_c[index_of(day)]),
        ("max_c", reading.max_c, season.max_c[index_of(day)]),
    ):
        if value is not None and abs(value - usual) > FAR_C:
            way = "above" if value > usual else "below"
            apart = f"{abs(value - usual) * 1.8:.0f} °F" if book.imperial else f"{abs(value - usual):.0f} °C"
            errors[name] = f"That is {apart} {way} what is usual on that day."
            if value > usual and not book.imperial:
                errors[name] += f" If it was read in Fahrenheit, write {value:g} °F."
    if errors:
        raise BadInput({**errors, "sure": "It may be so: then say that it is right."})


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


# ── On record ─────────────────────────────────────────────────────────────────────────────────────────────────────


def on_record(session: Session) -> OnRecord:
    """How much is on record, where the gaps are, and which files it came in."""
    rows = store.weather_record(session)
    warm = [row.day for row in rows if row.min_c is not None or row.max_c is not None]
    counts = store.weather_counts(session)
    files = [
        FileView(row.id or 0, row.name, row.taken_at.date(), counts.get(row.id, 0), row.left_out)
        for row in store.weather_files(session)
    ]
    by_hand = counts.get(None, 0)
    if not warm:
        return OnRecord(0, None, None, 0.0, (), by_hand, tuple(files))
    years = len(warm) / 365.25
    return OnRecord(len(warm), warm[0], warm[-1], years, _missing(warm), by_hand, tuple(files))


def _missing(days: Sequence[date]) -> tuple[tuple[int, int], ...]:
    here = {(day.year, day.month) for day in days}
    found, on = [], days[0].replace(day=1)
    while on < days[-1]:
        if (on.year, on.month) not in here:
            found.append((on.year, on.month))
        on = (on + timedelta(32)).replace(day=1)
    return tuple(found)


# ── Monthly means ─────────────────────────────────────────────────────────────────────────────────────────────────


def months(book: Book, session: Session) -> Months:
    """The household's own monthly means.

    Raises: MissingFact while the first run is not done.
    """
    rows = tuple(Reading(row.min_c, row.max_c, row.rain_mm) for row in store.normals_months(session))
    return Months(rows, book.holding(session).normals == OWN)


def type_months(book: Book, rows: Sequence[Reading], today: Day, *, sure: bool = False) -> None:
    """Keep twelve monthly means, January first, and let the season rest on them.

    Raises: BadInput with a sentence per field ("min_3" for March's lowest); "sure" among them where a yes would do.
    """
    made = []
    errors: dict[str, str] = {}
    for month, row in enumerate(rows, 1):
        wrong = impossible(row.min_c, row.max_c, None)
        if row.min_c is None or row.max_c is None:
            errors[f"min_{month}" if row.min_c is None else f"max_{month}"] = "Every month wants both."
        elif wrong:
            hot = row.max_c > HOTTEST_C and not book.imperial
            hint = f" If it is Fahrenheit, write {row.max_c:g} °F." if hot else ""
            errors[f"max_{month}" if hot else f"min_{month}"] = f"{wrong[0]}: {wrong[1]}.{hint}"
        else:
            made.append(NormalsMonthRow(month=month, min_c=row.min_c, max_c=row.max_c, rain_mm=row.rain_mm))
    if len({row.rain_mm is None for row in rows}) == 2:
        empty = next(month for month, row in enumerate(rows, 1) if row.rain_mm is None)
        errors.setdefault(f"rain_{empty}", "Rain is wanted for every month, or for none.")
    if errors:
        raise BadInput(errors)
    with book.writing() as session:
        holding = book.holding(session)
        highs, lows = [row.max_c for row in made], [row.min_c for row in made]
        doubt = "" if sure else temperature_guess(highs, lows, "c", holding.latitude).doubt
        if doubt:
            raise BadInput({"sure": doubt})
        store.put_normals_months(session, made)
        _rest_on(book, session, OWN, today)


def use_months(book: Book, normals: str, today: Day) -> None:
    """Let the season rest on another set of monthly means, by its id; those typed are kept.

    Raises: MissingFact while the first run is not done.
    """
    with book.writing() as session:
        _rest_on(book, session, normals, today)


def _rest_on(book: Book, session: Session, normals: str, today: Day) -> None:
    row = store.holding(session)
    if row is not None:
        row.normals = normals
        store.put_holding(session, row)
    book.replan(session, None, today)
