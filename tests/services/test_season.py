"""The holding's season: which record answers for it, what it says of itself, and what a day's weather moves."""

import contextlib
import math
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from app.records import store
from app.records.store import HoldingRow, NormalsMonthRow
from app.records.tables_weather import WeatherRow
from app.records.weather import WeatherDay
from app.services import entries
from app.services.book import Book
from app.services.job import job_view
from app.services.weather.moved_dates import moved_dates
from app.services.weather.season import OWN, season_of
from app.trade.climate.record import DailyRecord
from app.trade.climate.record_season import RecordSeason
from tests.services.croft import ON, TODAY, croft, draft, settings

AT = datetime(2027, 3, 10, 8, 0, tzinfo=UTC)


def holding(**more: object) -> HoldingRow:
    """An invented holding that said nothing of its climate."""
    facts = {"name": "H", "latitude": 54.2, "longitude": -2.3, "altitude_m": 100.0, "timezone": "Europe/London"}
    return HoldingRow(**{**facts, "mouths": 4.0, "created_at": AT, **more})


def weather(first: str, last: str) -> list[WeatherDay]:
    """Made-up weather: a wave through the year, each year a little warmer or colder than the last."""
    days = []
    for day in range(date.fromisoformat(first).toordinal(), date.fromisoformat(last).toordinal() + 1):
        on = date.fromordinal(day)
        mean = 9 - 7 * math.cos(2 * math.pi * (on.timetuple().tm_yday - 20) / 365) + on.year * 7 % 5 - 2
        mean += 3 * math.sin(day * 2.3)
        days.append(WeatherDay(on, round(mean - 4, 1), round(mean + 4, 1), 2.0))
    return days


def record(days: Iterable[WeatherDay]) -> DailyRecord:
    return DailyRecord.of((one.day.toordinal(), one.min_c, one.max_c, one.rain_mm) for one in days)


def months() -> list[NormalsMonthRow]:
    means = (1.0, 1, 2, 4, 7, 10, 12, 12, 10, 7, 4, 2)
    return [NormalsMonthRow(month=n + 1, min_c=one, max_c=one + 8, rain_mm=60) for n, one in enumerate(means)]


# ── Which record answers ──────────────────────────────────────────────────────────────────────────────────────────


def test_a_daily_record_comes_before_everything() -> None:
    season = season_of(holding(normals="braemar", last_frost_50="--05-20"), record(weather("2010-01-01", "2026-12-31")))
    assert (season.basis.kind, season.basis.years) == ("record", 17)
    assert season.basis.said == "Counted from your daily record: 17 years, 2010 to 2026."


def test_a_short_record_stands_on_the_holdings_monthly_means_and_says_both() -> None:
    season = season_of(holding(normals="braemar"), record(weather("2026-01-01", "2027-02-10")))
    assert (season.basis.kind, season.basis.years) == ("months", 1)
    assert "1 whole year, too few to tell chances" in season.basis.said
    assert "Braemar" in season.basis.said
    assert season.mark("last frost", 50, 2028) == season_of(holding(normals="braemar")).mark("last frost", 50, 2028)


def test_months_typed_come_next_and_are_carried_to_no_other_height() -> None:
    season = season_of(holding(normals=OWN, altitude_m=900.0, first_frost_50="--10-01"), None, months())
    assert season.basis.said == "Reckoned from the monthly means you typed. The first frost is your own."
    assert abs(sum(season.min_c[:31]) / 31 - 1.0) < 1e-9
    assert abs(sum(season.rain_mm) - 720) < 1
    assert season.mark("first frost", 50, 2027) == date(2027, 10, 1).toordinal()
    # said to be typed, and not: nothing can be read from less than a year of months
    assert "No climate has been said" in season_of(holding(normals=OWN), None, months()[:11]).basis.said


def test_two_frost_dates_alone_choose_the_place_whose_frosts_lie_nearest() -> None:
    """Braemar has frosts in most Junes and Septembers (Met Office, historic station data), Plymouth few in all."""
    for last, first, place in (("--05-31", "--09-18", "Braemar"), ("--03-25", "--12-08", "Plymouth")):
        season = season_of(holding(last_frost_50=last, first_frost_50=first))
        assert season.basis.kind == "frost dates"
        assert "Reckoned from the frost dates you gave" in season.basis.said
        assert place in season.basis.said
        assert date(2027, int(last[2:4]), int(last[5:])).toordinal() == season.mark("last frost", 50, 2027)


def test_south_of_the_equator_the_months_are_turned_and_said_to_be() -> None:
    season = season_of(holding(normals="braemar", latitude=-43.0))
    assert "Braemar: upland, Scotland, turned by half a year." in season.basis.said
    assert min(range(365), key=lambda day: season.mean_c[day]) in range(181, 240)
    last = season.mark("last frost", 50, 2027)
    assert last is not None
    assert date(2027, 10, 1).toordinal() < last < date(2027, 12, 20).toordinal()


def test_the_lie_of_the_land_is_said() -> None:
    season = season_of(holding(normals="braemar", aspect="south", frost_hollow=True))
    assert "For a south slope its days are taken as 0.5 °C warmer than measured." in season.basis.said
    assert "a night counts as frost below 3 °C" in season.basis.said


# ── What a day's weather moves ────────────────────────────────────────────────────────────────────────────────────


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A croft with sixteen years of made-up weather up to the day before, and four entries."""
    book = croft(tmp_path)
    with book.writing() as session:
        store.put_weather_days(session, weather("2011-01-01", "2027-03-09"), at=AT)
        book.replan_weather(session)
    for sheet, on in (("pea", "2027-02-20"), ("pea", "2027-04-20"), ("garlic", "2027-02-01"), ("bacon", "2027-03-01")):
        entries.put_down(book, draft(sheet, on, f"{sheet} {on}"), TODAY)
    yield book
    book.close()


def typed(book: Book, day: date, low: float, high: float) -> frozenset[str]:
    with book.writing() as session:
        store.put_weather(session, [WeatherRow(day=day, min_c=low, max_c=high, at=AT)])
        return book.replan_weather(session, {day.toordinal()})


def projected(book: Book) -> dict[str, tuple[object, ...]]:
    """Every job's window as the records hold it."""
    with book.reading() as session:
        keys = [task.key for task in book.planned(session, TODAY).tasks]
        return {row.key: (row.opens, row.best, row.closes) for row in store.task_rows(session, keys)}


def planned_anew(folder: Path) -> dict[str, tuple[object, ...]]:
    """The same as another process works it out from the facts."""
    other = Book(settings(folder), now=lambda: AT, today=ON)
    with other.reading() as session:
        tasks = other.planned(session, TODAY).tasks
    other.close()
    return {task.key: (task.opens, task.best, task.closes) for task in tasks}


def test_a_day_typed_lays_again_only_whom_it_moves_and_the_records_hold_the_same_as_planned_anew(
    book: Book, tmp_path: Path
) -> None:
    before = projected(book)
    ids = sorted({key.partition(".")[0] for key in before})
    early = next(name for name in ids if name.startswith("pea"))
    touched: frozenset[str] = frozenset()
    for n in range(5):
        touched |= typed(book, date(2027, 3, 10 + n), 12.0, 22.0)
    assert early in touched
    assert not {name for name in touched if not name.startswith("pea")}
    after = projected(book)
    moved = {key for key in before if after[key] != before[key]}
    assert any(key.startswith(early) for key in moved)
    assert all(key.partition(".")[0] in touched for key in moved)
    assert planned_anew(tmp_path) == after


def test_soil_that_warms_early_stands_among_the_dates_that_have_moved(book: Book) -> None:
    """Three weeks far warmer than any year's: the soil is warm sooner, which an ordinary year's parsnips wait for."""
    entries.put_down(book, draft("parsnip", "2027-02-01", "Parsnips"), TODAY)
    for n in range(21):
        typed(book, date(2027, 3, 10 + n), 12.0, 22.0)
    with book.reading() as session:
        today = date(2027, 3, 31).toordinal()
        moved = moved_dates(book, session, book.season(session), book.holding(session).altitude_m, today)
    (felt,) = (one for one in moved if one.title.startswith("Feel whether the soil"))
    assert felt.best < felt.was
    assert felt.why.startswith("soil at 10 cm is at 7 °C or more for good from")
    assert "in an ordinary year" in felt.why


def test_a_day_typed_as_the_years_before_had_it_moves_nothing(book: Book) -> None:
    before = projected(book)
    usual = [one for one in weather("2011-03-10", "2026-03-10") if (one.day.month, one.day.day) == (3, 10)]
    low = sum(float(one.min_c or 0) for one in usual) / len(usual)
    typed(book, date(2027, 3, 10), low, low + 8)
    assert projected(book) == before


def test_a_day_taken_off_again_leaves_all_as_it_was(book: Book, tmp_path: Path) -> None:
    before = projected(book)
    days = [date(2027, 3, 10 + n) for n in range(5)]
    for day in days:
        typed(book, day, 12.0, 22.0)
    with book.writing() as session:
        store.remove_weather(session, days[0].toordinal(), days[-1].toordinal())
        book.replan_weather(session, {day.toordinal() for day in days})
    assert projected(book) == before == planned_anew(tmp_path)


def test_the_season_is_worked_out_again_only_when_what_it_rests_on_changes(book: Book) -> None:
    with book.reading() as session:
        first = book.season(session)
        assert isinstance(first, RecordSeason)
        assert book.season(session) is first
    entries.put_down(book, draft("pea", "2027-05-01"), TODAY)
    with book.reading() as session:
        assert book.season(session) is first
    with book.writing() as session:
        row = store.holding(session)
        assert row is not None
        row.frost_hollow = True
        store.put_holding(session, row)
        book.replan(session, None, TODAY)
    with book.reading() as session:
        assert "frost hollow" in book.season(session).basis.said


def test_weather_put_in_by_another_process_is_seen(book: Book, tmp_path: Path) -> None:
    with book.reading() as session:
        first = book.season(session)
    other = Book(settings(tmp_path), now=lambda: AT, today=ON)
    typed(other, date(2027, 3, 10), 3.0, 11.0)
    other.close()
    with book.reading() as session:
        season = book.season(session)
        assert season is not first
        assert isinstance(season, RecordSeason)
        assert season.record.last_known == date(2027, 3, 10).toordinal()


def test_what_went_wrong_leaves_the_season_as_it_was(book: Book) -> None:
    with contextlib.suppress(RuntimeError), book.writing() as session:
        store.put_weather(session, [WeatherRow(day=date(2027, 3, 10), min_c=3.0, max_c=11.0, at=AT)])
        book.replan_weather(session, {TODAY})
        raise RuntimeError
    with book.reading() as session:
        season = book.season(session)
        assert isinstance(season, RecordSeason)
        assert season.record.last_known == TODAY - 1


def test_why_says_the_years_and_what_this_one_did(book: Book) -> None:
    for n in range(20):
        typed(book, date(2027, 3, 10 + n), 9.0, 17.0)
    with book.reading() as session:
        tasks = book.planned(session, TODAY).tasks
        key = next(task.key for task in tasks if task.entry.startswith("pea") and task.step == "up" and task.best)
        (said,) = [one.inputs for one in job_view(book, session, key, TODAY).reasons if one.rule == "warmth"]
    assert "degree-days above" in said
    assert "16 years on your record" in said or "by the days you have taken down" in said
