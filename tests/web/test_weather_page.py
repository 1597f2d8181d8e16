"""Our weather as a household meets it: with nothing typed, with a made-up record, and with this year against it."""

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from html import unescape
from pathlib import Path

import pytest

from app.records import store
from app.records.weather import WeatherDay, put_weather_days, remove_weather
from app.services.book import Book
from tests.web.holding import ON, TestClient, app, client, day, entry, settings

WARM = """
sheet = "test-warm"
title = "Warmth lover"
trade = "garden"
kind = "sowing"
about = "Made up for the tests."
[facts]
date = { asks = "date" }
[[step]]
id = "sow"
title = "Sow the warmth lover"
from = { entry = "date" }
closes = "P2W"
minutes = 20
source = "common practice"
[[step]]
id = "pick"
title = "Pick the first"
from = { warmth = 1400, base = 5, since = { entry = "date" } }
minutes = 20
source = "common practice"
"""
BEGUN = (entry("warm-row", "test-warm", "2027-04-01"),)


def made_up(this_year_c: float) -> Iterator[WeatherDay]:
    """Eleven years at 10 °C by night and by day, then this one until yesterday; 2 mm of rain on every day."""
    on = date(2016, 1, 1)
    while on < ON:
        warm = this_year_c if on.year == ON.year else 10.0
        yield WeatherDay(on, warm, warm, 2.0)
        on += timedelta(1)


@pytest.fixture(scope="module")
def holding(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    folder = tmp_path_factory.mktemp("weather")
    settings(folder)
    (folder / "data" / "sheets" / "test-warm.toml").write_text(WARM, encoding="utf-8")
    made = app(folder, BEGUN)
    yield client(made)
    made.state.book.close()


@pytest.fixture
def web(holding: TestClient) -> Iterator[TestClient]:
    """The holding, with no weather on record before and after."""
    yield holding
    book = holding.app.state.book  # type: ignore[attr-defined]
    with book.writing() as session:
        remove_weather(session, day("2000-01-01"), day("2030-01-01"))
        book.replan_weather(session)


def typed(web: TestClient, days: Iterator[WeatherDay]) -> None:
    book = web.app.state.book  # type: ignore[attr-defined]
    with book.writing() as session:
        put_weather_days(session, days, at=datetime(2027, 9, 15, tzinfo=UTC))
        book.replan_weather(session)


def words(page: str) -> str:
    """What stands on the page, without tags and with plain spaces."""
    text = unescape(re.sub(r"<[^>]+>", " ", page.partition("<main")[2]))
    return re.sub(r"\s+", " ", text)


def test_with_nothing_typed_it_says_on_what_it_rests_and_invites(web: TestClient) -> None:
    answer = web.get("/weather")
    said = words(answer.text)
    assert answer.status_code == 200
    assert "54.0° north, 200 m above the sea" in said
    assert "monthly means" in said
    assert "what is usual here, and no forecast" in said
    assert "2 to 5 °C colder" in said
    assert "Nothing of your own weather is known yet" in said
    assert "Dates that have moved" not in said
    for href in ("/weather/reading", "/weather/record", "/weather/months", "/household"):
        assert f'href="{href}"' in answer.text


def test_the_table_has_twelve_months_and_the_figures_that_were_published(web: TestClient) -> None:
    """North Yorkshire 1991-2020 (aquacrop 3.1.0, climate-normals.csv): January 4.58 and 0.53 °C, carried to no other
    height; 84.5 mm of rain, 17.47 of 31 days wet."""
    page = web.get("/weather").text
    rows = re.findall(r'<tr><th scope="row">(\w+)</th>(.*?)</tr>', page)
    assert [name for name, _ in rows][:12] == [
        "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
        "December",
    ]  # fmt: skip
    january = re.findall(r"<td[^>]*>([^<]*)</td>", rows[0][1])
    heads = re.findall(r'<th scope="col">([^<]+)', page)[1:]
    told = dict(zip((head.strip() for head in heads), january, strict=False))
    assert (told["by day"], told["by night"]) == ("4.6", "0.5")
    assert told["rain"] in ("84", "85")
    assert told["dry days"] == "14"


def test_this_year_against_the_record_by_hand(web: TestClient) -> None:
    """Ten years at 10 °C give 5 degree-days a day. At 12 °C, 7 a day, 257 days to 14 September come to 1 799, which an
    ordinary year has on its day 359.8: 103 days on. Rain is as ever; nights are 2 °C milder."""
    typed(web, made_up(12.0))
    said = words(web.get("/weather").text)
    assert "2027 so far, against an ordinary year" in said
    assert "Counted from your daily record: 11 years, 2016 to 2026." in said
    assert "Warmth is 103 days ahead of an ordinary year." in said
    assert "By 14 September: 1 799 °C days above 5 °C; ordinarily 1 285" in said
    assert "Nights have been 2 °C milder than usual, taken together." in said
    assert "As much rain has fallen as in an ordinary year." in said


def test_a_date_that_has_moved_is_told_with_its_old_and_new_day(web: TestClient) -> None:
    """1 400 degree-days since 1 April: at 7 a day 1 169 have come by 14 September, the other 231 take 47 days at 5, to
    31 October; an ordinary year takes 280 days, to 5 January."""
    typed(web, made_up(12.0))
    page = web.get("/weather").text
    said = words(page)
    assert "Pick the first · Warm row 5 Jan 2028 31 Oct" in said
    assert 'href="/job/warm-row.pick"' in page
    assert "this year so far has brought it forward 66 days" in said


def test_an_ordinary_year_moves_nothing(web: TestClient) -> None:
    typed(web, made_up(10.0))
    said = words(web.get("/weather").text)
    assert "Warmth stands where it does in an ordinary year." in said
    assert "No date that hangs on warmth stands otherwise" in said


def test_the_page_follows_a_day_that_is_typed(web: TestClient) -> None:
    typed(web, made_up(12.0))
    before = web.get("/weather").text
    assert web.get("/weather").text == before
    typed(web, iter([WeatherDay(date(2027, 9, 14), -4.0, 12.0, 2.0)]))
    assert "The coldest was −4 °C on 14 September" in words(web.get("/weather").text)


def test_a_record_that_ended_before_this_year_is_told(web: TestClient) -> None:
    typed(web, (one for one in made_up(10.0) if one.day.year < 2027))
    said = words(web.get("/weather").text)
    assert "Nothing of this year is known yet; the last day taken down is 31 Dec 2026." in said


@pytest.mark.parametrize("query", ["?by=colour", "?year=99999999999999", "?%00=%ff", "?a=" + "9" * 3000, "?=&&;"])
def test_whatever_is_asked_besides_the_page_is_there(web: TestClient, query: str) -> None:
    answer = web.get(f"/weather{query}")
    assert answer.status_code == 200
    assert "Our weather" in answer.text


def test_before_the_first_run_it_leads_there(tmp_path: Path) -> None:
    made = app(tmp_path, None)
    answer = client(made).get("/weather")
    assert (answer.status_code, answer.headers.get("location")) == (303, "/start")
    made.state.book.close()


def _placed(book: Book, latitude: float) -> None:
    with book.writing() as session:
        row = store.holding(session)
        assert row is not None
        row.latitude = latitude
        store.put_holding(session, row)
        book.replan(session, None, day("2027-09-15"))


@pytest.mark.parametrize(("latitude", "first"), [(-41.0, "July"), (69.0, "January")])
def test_south_and_far_north_are_pages_like_any_other(web: TestClient, latitude: float, first: str) -> None:
    """The southern year begins in July, its winter; beyond the polar circle the sun does not set, and does not rise."""
    book = web.app.state.book  # type: ignore[attr-defined]
    _placed(book, latitude)
    page = web.get("/weather").text
    assert re.findall(r'<tr><th scope="row">(\w+)</th>', page)[0] == first
    said = words(page)
    if latitude > 0:
        assert "it does not set" in said
        assert "it does not rise" in said
    else:
        assert "41.0° south" in said
        assert "2027–2028 so far" in said
    _placed(book, 54.0)
