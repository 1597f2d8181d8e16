"""Weather taken down: files in and out again, readings corrected and undone, monthly means; every date follows."""

import time
from datetime import date, timedelta
from math import cos, pi
from pathlib import Path

import pytest

from app.errors import BadInput, NotFound
from app.records import store
from app.services.book import Book
from app.services.weather import files, weather
from app.services.weather.season import OWN
from app.services.weather.weather import Reading
from tests.services.croft import ON, TODAY, Clock, croft, day


def clean(book: Book) -> Book:
    """The croft with no weather on record: it is made once, which takes a while, and swept between tests."""
    with book.writing() as session:
        row = store.holding(session)
        assert row
        row.normals, row.units = "north-yorkshire", "metric"
        store.put_holding(session, row)
        store.remove_weather(session, 1, 3_000_000)
        for file in store.weather_files(session):
            store.remove_weather_file(session, file.id or 0)
        store.put_normals_months(session, [])
        book.replan(session, None, TODAY)
    return book


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Book:
    return croft(tmp_path_factory.mktemp("croft"), "leek", "weaners")


@pytest.fixture
def book(made: Book) -> Book:
    return clean(made)


def lines(first: str, days: int, warmer: float = 0.0, skip: tuple[str, ...] = ()) -> str:
    """A made-up record: an even year between 0 and 18 °C, the same every year."""
    rows = ["date,tmin,tmax,rain"]
    begun = date.fromisoformat(first)
    for n in range(days):
        on = begun + timedelta(n)
        if f"{on:%Y-%m}" in skip:
            continue
        mean = 9 - 6 * cos((on.timetuple().tm_yday - 20) / 365 * 2 * pi) + warmer
        rows.append(f"{on},{mean - 4:.1f},{mean + 4:.1f},{n % 4}")
    return "\n".join(rows)


def looked(book: Book, text: str, name: str = "made-up.csv") -> files.Looked:
    return files.look(name, text, files.How(), 54.2, book.today())


def taken(book: Book, text: str, *, over: bool = False) -> files.Taken:
    return files.take_in(book, looked(book, text), over=over)


def on_record(book: Book) -> weather.OnRecord:
    with book.reading() as session:
        return weather.on_record(session)


def basis(book: Book) -> str:
    with book.reading() as session:
        return book.season(session).basis.kind


def test_a_file_is_taken_in_and_the_season_rests_on_it_till_it_is_taken_out(book: Book) -> None:
    before = basis(book)
    came = taken(book, lines("2015-01-01", 365 * 10))
    assert (came.new, came.filled, came.stayed, came.left_out) == (3650, 0, 0, 0)
    found = on_record(book)
    assert (found.days, found.first, found.by_hand) == (3650, date(2015, 1, 1), 0)
    assert [(file.name, file.days) for file in found.files] == [("made-up.csv", 3650)]
    assert (before, basis(book)) == ("months", "record")
    assert files.take_out(book, came.file) == 3650
    assert on_record(book).files == ()
    assert basis(book) == "months"
    with pytest.raises(NotFound):
        files.take_out(book, came.file)


def test_what_is_on_record_stays_and_its_gaps_are_filled(book: Book) -> None:
    weather.type_reading(book, day("2027-03-02"), Reading(-1.0, None, None), TODAY)
    weather.type_reading(book, day("2027-03-03"), Reading(1.0, 8.0, 0.0), TODAY)
    text = "date,tmin,tmax,rain\n2027-03-01,2,9,1\n2027-03-02,5,9,2\n2027-03-03,4,9,9\n"
    came = taken(book, text)
    assert (came.new, came.filled, came.stayed) == (1, 1, 1)
    with book.reading() as session:
        assert weather.reading_of(session, day("2027-03-02")) == (-1.0, 9.0, 2.0)
        assert weather.reading_of(session, day("2027-03-03")) == (1.0, 8.0, 0.0)
    with pytest.raises(BadInput, match="on record already"):
        taken(book, text)
    assert taken(book, text, over=True).new == 2
    with book.reading() as session:
        assert weather.reading_of(session, day("2027-03-03")) == (4.0, 9.0, 9.0)


def test_two_months_missing_are_named_and_the_rest_is_used(book: Book) -> None:
    came = taken(book, lines("2012-01-01", 13 * 365, skip=("2021-02", "2022-07")))
    assert came.new == 13 * 365 - 28 - 31
    assert on_record(book).missing_months == ((2021, 2), (2022, 7))
    assert basis(book) == "record"


def test_a_record_of_one_year_is_used_for_what_it_can_do(book: Book) -> None:
    taken(book, lines("2026-03-01", 365))
    assert round(on_record(book).years) == 1
    with book.reading() as session:
        assert book.season(session).mark("last frost", 50, 2027)
        assert book.planned(session, TODAY).laid


def test_a_file_of_months_or_hours_is_no_file_of_days(book: Book) -> None:
    months = "year,month,tmin,tmax,rain\n" + "\n".join(f"2020,{n},{n % 5},{n % 5 + 6},50" for n in range(1, 13))
    found = looked(book, months)
    assert found.read is None
    assert [one.month for one in found.months] == list(range(1, 13))
    with pytest.raises(BadInput):
        files.take_in(book, found)


def test_a_file_put_by_is_found_again_and_let_go_after_a_day(tmp_path: Path) -> None:
    clock = Clock()
    book = croft(tmp_path, clock=clock)
    word = files.put_by(book, "C:\\My  files\\garden.csv", "date,tmin\n2027-03-01,1\n")
    assert files.fetch(book, word) == ("garden.csv", "date,tmin\n2027-03-01,1\n")
    clock.at += timedelta(hours=25)
    other = files.put_by(book, "", "date,tmin\n2027-03-01,2\n")
    with pytest.raises(NotFound, match="once more"):
        files.fetch(book, word)
    assert files.fetch(book, other)[0] == "Pasted"
    files.let_go(book, other)
    for gone in (other, "../../etc/passwd", "a" * 16, ""):
        with pytest.raises(NotFound):
            files.fetch(book, gone)
    with pytest.raises(BadInput, match="nothing in it"):
        files.put_by(book, "empty.csv", " \n")


def test_no_more_than_twenty_files_are_put_by(tmp_path: Path) -> None:
    book = croft(tmp_path)
    for n in range(25):
        files.put_by(book, f"{n}.csv", "date,tmin\n2027-03-01,1\n")
    assert len(list((tmp_path / "staged").iterdir())) == 20


@pytest.mark.parametrize(
    ("content", "text"),
    [
        (b"date,tmin\n", "date,tmin\n"),
        (b"\xef\xbb\xbfdate", "date"),
        ("date °C".encode("utf-16"), "date °C"),
        ("date °C".encode("cp1252"), "date °C"),
    ],
)
def test_the_usual_ways_of_writing_text_are_read(content: bytes, text: str) -> None:
    assert files.read_bytes(content).removeprefix("\ufeff") == text


@pytest.mark.parametrize("content", [b"PK\x03\x04rest", b"\x00\x01\x02", b"%PDF-1.4", b"a" * (16 * 1024 * 1024 + 1)])
def test_what_is_no_text_is_told(content: bytes) -> None:
    with pytest.raises(BadInput):
        files.read_bytes(content)


# ── A day ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_reading_is_kept_corrected_and_taken_back(book: Book) -> None:
    assert weather.type_reading(book, TODAY, Reading(1.0, 9.0, 0.0), TODAY) == Reading()
    before = weather.type_reading(book, TODAY, Reading(1.5, 9.0, 2.0), TODAY)
    assert before == Reading(1.0, 9.0, 0.0)
    weather.type_reading(book, TODAY, before, TODAY)
    with book.reading() as session:
        assert [one.reading for one in weather.last_days(session, TODAY)] == [before, *[Reading()] * 6]
    weather.type_reading(book, TODAY, Reading(), TODAY)
    assert on_record(book).by_hand == 0


@pytest.mark.parametrize(
    ("reading", "field", "sentence"),
    [
        (Reading(9.0, 5.0), "min_c", "above the highest"),
        (Reading(60.0, None), "min_c", "hotter than air has ever been measured"),
        (Reading(None, 60.0), "max_c", "If it was read in Fahrenheit, write 60 °F"),
        (Reading(-95.0, 3.0), "min_c", "colder than air has ever been measured"),
        (Reading(None, None, -1.0), "rain_mm", "no rain below nought"),
        (Reading(None, None, 2500.0), "rain_mm", "ore than ever fell in a day"),
        (Reading(41.0, 50.0), "max_c", "write 50 °F"),
        (Reading(-35.0, 5.0), "min_c", "below what is usual"),
    ],
)
def test_a_reading_that_can_hardly_be_gets_a_sentence_and_changes_nothing(
    book: Book, reading: Reading, field: str, sentence: str
) -> None:
    with pytest.raises(BadInput) as refused:
        weather.type_reading(book, TODAY, reading, TODAY)
    assert sentence in refused.value.fields[field]
    assert on_record(book).by_hand == 0
    if "sure" in refused.value.fields:
        weather.type_reading(book, TODAY, reading, TODAY, sure=True)
        assert on_record(book).by_hand == 1


def test_a_reading_of_a_day_to_come_is_refused(book: Book) -> None:
    with pytest.raises(BadInput, match="not come yet"):
        weather.type_reading(book, TODAY + 1, Reading(1.0), TODAY)


# ── Monthly means ─────────────────────────────────────────────────────────────────────────────────────────────────

MEANS = [Reading(low, low + 7.0, 60.0) for low in (0, 0, 1, 3, 6, 9, 11, 11, 9, 6, 3, 1)]


def test_monthly_means_are_kept_and_the_season_rests_on_them(book: Book) -> None:
    weather.type_months(book, MEANS, TODAY)
    with book.reading() as session:
        assert weather.months(book, session) == weather.Months(tuple(MEANS), True)
        assert book.season(session).basis.kind == "months"
        july = book.season(session).max_c[195]
    assert july == pytest.approx(18.0, abs=1.0), "half of July lies near its mean"
    weather.use_months(book, "north-yorkshire", TODAY)
    with book.reading() as session:
        assert not weather.months(book, session).used
        assert store.holding(session).normals != OWN  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("change", "field", "sentence"),
    [
        ({2: Reading(None, 8.0, 60.0)}, "min_3", "wants both"),
        ({2: Reading(9.0, 8.0, 60.0)}, "min_3", "above the highest"),
        ({2: Reading(1.0, 8.0, None)}, "rain_3", "every month, or for none"),
        ({6: Reading(51.8, 64.4, 60.0)}, "max_7", "write 64.4 °F"),
        ({n: Reading(30.0, 38.0, 60.0) for n in range(12)}, "sure", "°F"),
    ],
)
def test_means_that_can_not_be_get_a_sentence(
    book: Book, change: dict[int, Reading], field: str, sentence: str
) -> None:
    rows = [change.get(n, row) for n, row in enumerate(MEANS)]
    with pytest.raises(BadInput) as refused:
        weather.type_months(book, rows, TODAY)
    assert sentence in refused.value.fields[field]
    with book.reading() as session:
        assert weather.months(book, session).rows == ()


def test_thirty_years_are_taken_in_within_two_seconds(book: Book) -> None:
    text = lines("1996-01-01", 10957)
    heard: list[tuple[int, int, str]] = []
    fastest = 99.0
    for _ in range(2):
        begun = time.process_time()
        word = files.put_by(book, "thirty.csv", text)
        name, again = files.fetch(book, word)
        found = files.look(name, again, files.How(), 54.2, ON, lambda *one: heard.append(one))
        came = files.take_in(book, found, heard=lambda *one: heard.append(one))
        fastest = min(fastest, time.process_time() - begun)
        files.take_out(book, came.file)
    assert came.new == 10957
    assert fastest < 2.0
    assert len({words for _, _, words in heard}) == 3
    assert len(heard) > 20, "progress is told now and then"
