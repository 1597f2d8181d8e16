"""Taking the weather down as a browser sends it: nothing typed is lost, nothing is turned silently, nothing breaks."""

import re
import time
from collections.abc import Iterator
from datetime import date, timedelta
from html import unescape
from math import cos, pi
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from httpx import Response

from app.main import create_app
from app.services.book import Book
from app.services.weather.weather import last_days, months, on_record
from tests.services.croft import ON, TODAY, Clock, croft, settings
from tests.services.test_weather import clean, lines

HERE = "http://localhost:8000"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    folder = tmp_path_factory.mktemp("croft")
    croft(folder, "leek").close()
    app = create_app(settings(folder), Clock(), today=ON)
    with TestClient(app, base_url=HERE, follow_redirects=False, headers={"origin": HERE}) as client:
        yield client


@pytest.fixture
def client(made: TestClient) -> TestClient:
    clean(book(made))
    return made


def book(client: TestClient) -> Book:
    found: Book = client.app.state.book  # type: ignore[attr-defined]
    return found


def text(answer: Response) -> str:
    body = re.sub(r"<svg.*?</svg>|<head>.*?</head>", " ", answer.text, flags=re.S)
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", body))).strip()


def days_on_record(client: TestClient) -> int:
    with book(client).reading() as session:
        return on_record(session).days


def sent(client: TestClient, content: str, name: str = "made-up.csv") -> str:
    """A file sent; gives the address of the second step."""
    answer = client.post("/weather/record", files={"file": (name, content.encode(), "text/csv")})
    assert answer.status_code == 303, text(answer)
    return str(answer.headers["location"])


def chosen(page: Response) -> dict[str, str]:
    """What the second step's form would send as it stands."""
    found = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', page.text))
    for name, body in re.findall(r'<select id="[^"]*" name="([^"]+)"[^>]*>(.*?)</select>', page.text, re.S):
        found[name] = "".join(re.findall(r'value="([^"]*)" selected', body))
    found |= dict(re.findall(r'<input type="radio" name="([^"]+)" value="([^"]+)" checked', page.text))
    return {name: unescape(value) for name, value in found.items()}


# ── A file ────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_file_is_looked_at_taken_in_and_taken_out_again(client: TestClient) -> None:
    where = sent(client, lines("2014-01-01", 4000))
    page = client.get(where)
    assert "4 000 days can be taken in, 1 January 2014 – 13 December 2024" in text(page)
    assert days_on_record(client) == 0, "nothing is kept before it is said"
    answer = client.post(where, data=chosen(page))
    assert answer.status_code == 303
    after = client.get(answer.headers["location"])
    assert "4 000 days are taken in, and every date follows" in text(after)
    assert days_on_record(client) == 4000
    assert client.get(where).status_code == 404, "what was put by is let go"
    number = re.search(r'name="file" value="(\d+)"', after.text)
    assert number
    out = client.post("/weather/record/out", data={"file": number[1]})
    assert "Taken out again: 4 000 days" in text(client.get(out.headers["location"]))
    assert days_on_record(client) == 0
    assert client.post("/weather/record/out", data={"file": number[1]}).status_code == 404
    assert client.post("/weather/record/out", data={"file": "x"}).status_code == 404


def test_what_is_pasted_is_read_like_a_file(client: TestClient) -> None:
    answer = client.post("/weather/record", data={"text": "Date\tMin\tMax\n01/03/2027\t1,5\t9\n13/02/2027\t2\t8"})
    page = client.get(answer.headers["location"])
    assert "two" not in text(page).split("days can be taken in")[0][-4:]
    assert "2 days can be taken in" in text(page)
    client.post(answer.headers["location"], data=chosen(page))
    with book(client).reading() as session:
        found = [one.reading for one in last_days(session, TODAY, 12) if one.reading.min_c is not None]
    assert found == [(1.5, 9.0, None)]


def test_columns_nobody_knows_are_mapped_by_hand(client: TestClient) -> None:
    where = sent(client, "when,cold,warm\n2027-03-01,1,9\n2027-03-02,2,8\n")
    page = client.get(where)
    assert "Which column is the date?" in text(page)
    assert client.post(where, data=chosen(page)).status_code == 422
    wanted = {**chosen(page), "c_date": "0", "c_min": "1", "c_max": "2"}
    again = client.post(where, data=wanted)
    assert again.status_code == 422
    assert "Other columns were chosen: please look once more" in text(again)
    assert chosen(again)["c_max"] == "2", "what was chosen is kept"
    looked = client.get(where, params=wanted)
    assert "2 days can be taken in" in text(looked)
    assert client.post(where, data=chosen(looked)).status_code == 303
    assert days_on_record(client) == 2


def fahrenheit(days: int = 400) -> str:
    rows = ["date,tmin,tmax"]
    for n in range(days):
        on = date(2025, 1, 1) + timedelta(n)
        mean = 48 - 11 * cos((on.timetuple().tm_yday - 20) / 365 * 2 * pi)
        rows.append(f"{on},{mean - 7:.0f},{mean + 8:.0f}")
    return "\n".join(rows)


def test_fahrenheit_taken_for_celsius_is_noticed_and_asked_and_never_turned_silently(client: TestClient) -> None:
    where = sent(client, fahrenheit())
    page = client.get(where)
    assert "can't be right for this place; in °F they could" in text(page)
    assert "temperature" not in chosen(page), "neither is chosen for the household"
    assert client.post(where, data=chosen(page)).status_code == 422
    assert days_on_record(client) == 0
    looked = client.get(where, params={**chosen(page), "temperature": "f"})
    assert "400 days can be taken in" in text(looked)
    assert client.post(where, data={**chosen(page), "temperature": "f"}).status_code == 303
    with book(client).reading() as session:
        assert on_record(session).days == 400


def test_rows_that_can_not_be_are_named_and_the_rest_is_taken(client: TestClient) -> None:
    bad = lines("2024-01-01", 300) + "\n2024-02-31,1,2,0\n2024-12-01,9,3,0\n2024-12-02,3,60,0\n2024-12-03,1,2,wet\n"
    where = sent(client, bad)
    page = text(client.get(where))
    assert "Four rows are left out" in page
    for sentence in (
        "Line 302: 2024-02-31 there is no such day",
        "Line 303: 2024-12-01: 9 to 3 °C the lowest is above the highest",
        "Line 304: 2024-12-02: 60 °C hotter than air has ever been measured",
        "Line 305: 2024-12-03 'wet' is no figure",
    ):
        assert sentence in page
    answer = client.post(where, data=chosen(client.get(where)))
    assert "Four rows were left out" in text(client.get(answer.headers["location"]))


def test_two_months_missing_are_named(client: TestClient) -> None:
    where = sent(client, lines("2020-01-01", 900, skip=("2021-02", "2021-07")))
    assert "February 2021 and July 2021 are missing." in text(client.get(where))


def test_a_record_of_one_year_is_said_to_be_short(client: TestClient) -> None:
    where = sent(client, lines("2026-01-01", 365))
    page = client.get(where)
    assert "That is one year: too short for chances of frost. It is used for what one year can tell." in text(page)
    assert client.post(where, data=chosen(page)).status_code == 303
    assert "too short for chances" in text(client.get("/weather/record"))
    assert client.get("/weather").status_code == 200


def test_the_order_of_days_and_months_is_asked_where_it_can_not_be_told(client: TestClient) -> None:
    where = sent(client, "date,tmin\n01/02/2027,1\n03/02/2027,1\n")
    page = client.get(where)
    assert "whether the day or the month comes first" in text(page)
    assert client.post(where, data={**chosen(page), "order": "dmy"}).status_code == 303


def test_a_file_of_months_serves_as_monthly_means(client: TestClient) -> None:
    rows = "\n".join(f"2020 {n} {n % 7 + 6} {n % 7} 50" for n in range(1, 13))
    where = sent(client, f"yyyy mm tmax tmin rain\n    degC degC mm\n{rows}\n")
    page = client.get(where)
    assert "a row for each month, not for each day" in text(page)
    answer = client.post(where, data=chosen(page))
    assert answer.headers["location"] == "/weather/months?put=kept"
    with book(client).reading() as session:
        assert months(book(client), session).used


def test_with_a_script_the_file_is_taken_in_while_its_progress_is_shown(client: TestClient) -> None:
    where = sent(client, lines("2014-01-01", 2000))
    page = client.get(where)
    assert f'hx-post="{where}"' in page.text
    answer = client.post(where, data=chosen(page), headers={"hx-request": "true"})
    assert "<progress" in answer.text
    assert f'hx-get="{where}/progress"' in answer.text
    for _ in range(200):
        answer = client.get(f"{where}/progress")
        if "hx-redirect" in answer.headers:
            break
        time.sleep(0.02)
    assert "2 000 days are taken in" in text(client.get(answer.headers["hx-redirect"]))
    assert "no longer" in client.get(f"{where}/progress").text


@pytest.mark.parametrize("content", ["", "   \n \n", "PK\x03\x04 a spreadsheet"])
def test_what_is_no_table_is_told_and_nothing_is_kept(client: TestClient, content: str) -> None:
    answer = client.post("/weather/record", files={"file": ("x.xlsx", content.encode(), "text/csv")})
    assert answer.status_code == 422
    assert re.search(r'class="error" id="file-e">[A-Z].+?\.', answer.text)


def test_a_text_that_holds_no_table_stays_in_its_box(client: TestClient) -> None:
    answer = client.post("/weather/record", data={"text": "  \t "})
    assert answer.status_code == 422
    answer = client.post("/weather/record", data={"text": "Dear <diary>"})
    page = client.get(answer.headers["location"])
    assert "Which column is the date?" in text(page)
    assert "<diary>" not in page.text


def test_a_file_of_more_than_a_megabyte_is_taken_and_one_of_eighteen_is_not(client: TestClient) -> None:
    wide = "\n".join(f"{line},{'a station with a long name ' * 4}" for line in lines("2000-01-01", 9000).splitlines())
    assert len(wide) > 1_100_000
    assert "9 000 days can be taken in" in text(client.get(sent(client, wide)))
    answer = client.post("/weather/record", data={"text": "a" * 18_000_000})
    assert answer.status_code == 413
    assert "17 MB" in text(answer)


def test_a_file_that_is_gone_is_a_page_that_says_so(client: TestClient) -> None:
    for word in ("abcdefghijklmnop", "..%2f..%2fetc", "x"):
        assert client.get(f"/weather/record/{word}").status_code == 404
        assert client.post(f"/weather/record/{word}", data={}).status_code == 404
    where = sent(client, "date,tmin\n2027-03-01,1\n")
    assert client.post(f"{where}/away").status_code == 303
    assert client.get(where).status_code == 404


# ── A reading ─────────────────────────────────────────────────────────────────────────────────────────────────────


def box(answer: Response, name: str) -> str:
    found = re.search(rf'<input[^>]*name="{name}"[^>]*value="([^"]*)"', answer.text)
    return unescape(found[1]) if found else ""


def test_a_reading_is_typed_corrected_and_taken_back(client: TestClient) -> None:
    assert "/weather/reading" in client.get("/today").text
    page = client.get("/weather/reading")
    assert "Seven days are not read" in text(page)
    typed = {"day": "2027-03-09", "min_c": "−2,5", "max_c": "9", "rain_mm": "0"}
    answer = client.post("/weather/reading", data=typed)
    assert answer.status_code == 303
    after = client.get(answer.headers["location"])
    assert "Yesterday, 9 March: −2.5 to 9 °C, no rain. Every date that hangs on warmth follows." in text(after)
    assert box(after, "min_c") == "−2.5"
    answer = client.post("/weather/reading", data={**typed, "min_c": "-3"})
    after = client.get(answer.headers["location"])
    assert "in place of −2.5 to 9 °C, no rain" in text(after)
    undo = {"day": box(after, "day"), "had": re.search(r'name="had" value="([^"]*)"', after.text)[1]}  # type: ignore[index]
    back = client.post("/weather/reading/undo", data=undo)
    assert box(client.get(back.headers["location"]), "min_c") == "−2.5"
    gone = client.post("/weather/reading", data={"day": "2027-03-09", "min_c": "", "max_c": "", "rain_mm": ""})
    assert "taken off the record" in text(client.get(gone.headers["location"]))
    assert days_on_record(client) == 0


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"min_c": "9", "max_c": "5"}, "The lowest is above the highest"),
        (
            {"max_c": "60"},
            "hotter than air has ever been measured (56.7 °C). If it was read in Fahrenheit, write 60 °F.",
        ),
        ({"max_c": "48"}, "above what is usual on that day. If it was read in Fahrenheit, write 48 °F."),
        ({"min_c": "mild"}, "'mild' is not a number in °C"),
        ({"rain_mm": "-3"}, "There is no rain below nought"),
        ({}, "At least one of the three is wanted"),
        ({"day": "2027-03-11", "min_c": "1"}, "not come yet"),
        ({"day": "2027-02-30", "min_c": "1"}, "no such day"),
        ({"day": "", "min_c": "1"}, "Which day is it?"),
    ],
)
def test_a_reading_that_can_not_be_gets_a_sentence_and_is_kept_as_typed(
    client: TestClient, typed: dict[str, str], sentence: str
) -> None:
    answer = client.post("/weather/reading", data={"day": "2027-03-09", **typed})
    assert answer.status_code == 422
    assert sentence in text(answer)
    for name in ("min_c", "max_c", "rain_mm"):
        assert box(answer, name) == typed.get(name, "")
    assert days_on_record(client) == 0


def test_what_looks_odd_is_taken_once_it_is_said_to_be_right(client: TestClient) -> None:
    typed = {"day": "2027-03-09", "max_c": "38"}
    assert 'name="sure"' in client.post("/weather/reading", data=typed).text
    assert client.post("/weather/reading", data={**typed, "sure": "yes"}).status_code == 303


def test_fahrenheit_may_be_written_out_and_is_usual_for_who_measures_so(client: TestClient) -> None:
    client.post("/weather/reading", data={"day": "2027-03-09", "min_c": "32 °F", "max_c": "50F", "rain_mm": "1 in"})
    with book(client).reading() as session:
        assert last_days(session, TODAY)[1].reading == (0.0, 10.0, 25.4)
    place = {"name": "Invented Croft", "nation": "england", "latitude": "54.2", "longitude": "-2.3", "height_m": "250",
             "climate": "north-yorkshire", "mouths": "4", "units": "imperial", "timezone": "Europe/London"}  # fmt: skip
    assert client.post("/household", data=place).status_code == 303
    page = client.get("/weather/reading?day=2027-03-09")
    assert [box(page, name) for name in ("min_c", "max_c", "rain_mm")] == ["32", "50", "1"]
    assert "32 to 50 °F, 1 in" in text(page)
    client.post("/weather/reading", data={"day": "2027-03-09", "min_c": "41", "max_c": "59", "rain_mm": "0.5"})
    with book(client).reading() as session:
        assert last_days(session, TODAY)[1].reading == (5.0, 15.0, 12.7)


@pytest.mark.parametrize(
    "path", ["/weather/reading?day=tomorrow", "/weather/reading?day=2030-01-01", "/weather/reading?put=x&had=y",
             "/weather/reading?put=2027-03-01&had=1_2", "/weather/record?taken=1_2_x_4_5", "/weather/record?out=-3"],
)  # fmt: skip
def test_addresses_that_make_no_sense_are_pages(client: TestClient, path: str) -> None:
    assert client.get(path).status_code in (200, 422)
    answer = client.post("/weather/reading/undo", data={"day": "2027-03-01", "had": "nonsense"})
    assert answer.status_code == 422


# ── Twelve months ─────────────────────────────────────────────────────────────────────────────────────────────────


def typed_months(**changes: str) -> dict[str, str]:
    lows = (0, 0, 1, 3, 6, 9, 11, 11, 9, 6, 3, 1)
    made = {f"min_{n}": str(low) for n, low in enumerate(lows, 1)}
    made |= {f"max_{n}": str(low + 7) for n, low in enumerate(lows, 1)}
    return made | {f"rain_{n}": "60" for n in range(1, 13)} | changes


def test_twelve_means_are_kept_and_another_place_can_be_named_again(client: TestClient) -> None:
    answer = client.post("/weather/months", data=typed_months())
    page = client.get(answer.headers["location"])
    assert "The monthly means are kept" in text(page)
    assert "The season here rests on these" in text(page)
    assert box(page, "max_7") == "18"
    assert "The monthly means we typed" in client.get("/household").text
    used = client.post("/weather/months/use", data={"normals": "braemar"})
    assert "These are kept, and not used" in text(client.get(used.headers["location"]))
    assert client.post("/weather/months/use", data={"normals": "atlantis"}).status_code == 422


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"min_3": ""}, "Every month wants both"),
        ({"min_3": "9"}, "the lowest is above the highest"),
        ({"rain_3": ""}, "Rain is wanted for every month, or for none"),
        ({"max_7": "64"}, "If it is Fahrenheit, write 64 °F"),
        ({"max_7": "warm"}, "'warm' is not a number in °C"),
        ({f"min_{n}": "30" for n in range(1, 13)} | {f"max_{n}": "38" for n in range(1, 13)}, "in °F they could"),
    ],
)  # fmt: skip
def test_means_that_can_not_be_are_said_beside_their_month(
    client: TestClient, change: dict[str, str], sentence: str
) -> None:
    typed = typed_months(**change)
    answer = client.post("/weather/months", data=typed)
    assert answer.status_code == 422
    assert sentence in text(answer)
    assert {name: box(answer, name) for name in typed} == typed
    with book(client).reading() as session:
        assert not months(book(client), session).rows


def test_nothing_of_it_is_there_before_the_first_run(tmp_path: Path) -> None:
    app = create_app(settings(tmp_path), Clock(), today=ON)
    with TestClient(app, base_url=HERE, follow_redirects=False) as fresh:
        for path in ("/weather/record", "/weather/reading", "/weather/months"):
            assert fresh.get(path).headers["location"] == "/start"
