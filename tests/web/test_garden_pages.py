"""The garden's pages as a browser without scripts meets them: looking, saying, taking back, and what bad input gets."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from app.records import store
from app.rules.facts import Tick
from tests.web.garden import BEANS, app
from tests.web.holding import TODAY, client, day, plain

if TYPE_CHECKING:
    from starlette.testclient import TestClient

LONG = {"name": "Long bed", "length_m": "6", "width_m": "1.2", "cover": "open", "soil": "loam"}


@pytest.fixture
def garden(tmp_path: Path) -> Iterator["TestClient"]:
    yield from made_up(tmp_path)


@pytest.fixture(scope="module")
def unchanged(tmp_path_factory: pytest.TempPathFactory) -> Iterator["TestClient"]:
    """The same for several tests that change nothing."""
    yield from made_up(tmp_path_factory.mktemp("garden"))


@pytest.fixture(scope="module")
def with_bed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple["TestClient", str]]:
    """The same with a bed, and the bed's address."""
    for found in made_up(tmp_path_factory.mktemp("bed")):
        yield found, added(found)


def made_up(folder: Path) -> Iterator["TestClient"]:
    made = app(folder, BEANS)
    with made.state.book.writing() as session:
        store.add_tick(session, Tick("s", "beans.sow", "done", day("2027-07-20"), "2027-09-01T08:00:00.000Z"))
        made.state.book.replan(session, {"beans"}, TODAY)
    with client(made) as found:
        yield found


def posted(garden: "TestClient", address: str, **fields: str) -> tuple[int, str]:
    answer = garden.post(address, data=fields, headers={"origin": "http://localhost"})
    return answer.status_code, answer.headers.get("location", "") or plain(answer.text)


def added(garden: "TestClient", **fields: str) -> str:
    code, where = posted(garden, "/garden", **{**LONG, **fields})
    assert code == 303, where
    return where.partition("?")[0]


def shown(garden: "TestClient", address: str) -> str:
    answer = garden.get(address)
    assert answer.status_code == 200
    return plain(answer.text)


def test_a_first_bed(garden: "TestClient") -> None:
    before = shown(garden, "/garden")
    assert "No bed is put down yet." in before
    assert 'href="/garden?name=Long%20bed#add"' in before, "beans stand in a place that is no bed yet"
    assert 'value="Long bed"' in shown(garden, "/garden?name=Long%20bed")
    bed = added(garden)
    page = shown(garden, "/garden")
    assert "One bed, 7 m²" in page
    assert "Beans, tall, until 28 October" in page
    assert "free from 29 October on" in page
    assert 'aria-label="Long bed: Beans, tall 20 July – 28 October."' in page
    one = shown(garden, bed)
    assert "6 × 1.2 m · loam · 7.2 m²" in one
    assert 'href="/entry/beans"' in one


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"length_m": "0"}, "It should be between 0.1 and 1\u202f000 m."),
        ({"length_m": "six"}, "A number is wanted, between 0.1 and 1\u202f000 m."),
        ({"length_m": ""}, "This is wanted"),
        ({"width_m": "-1"}, "It should be between 0.05 and 1\u202f000 m."),
        ({"name": " "}, "A bed wants a name"),
        ({"cover": "glass"}, "That is not one of the answers"),
        ({"soil": "chalk"}, "That is not one of the answers"),
        ({"trays": "2.5"}, "A whole number is wanted."),
        ({"trays": "0"}, "It should be between 1 and 1\u202f000"),
        ({"name": "x" * 90}, "90 letters"),
    ],
)
def test_a_bed_that_can_t_be(unchanged: "TestClient", fields: dict[str, str], sentence: str) -> None:
    code, text = posted(unchanged, "/garden", **{**LONG, **fields})
    assert code == 422
    assert sentence in text
    assert 'value="1.2"' in text or "width_m" in fields, "what was typed is kept"
    assert "No bed is put down yet." in shown(unchanged, "/garden")


def test_two_beds_of_one_name(garden: "TestClient") -> None:
    added(garden)
    code, text = posted(garden, "/garden", **{**LONG, "name": "long  bed"})
    assert code == 422
    assert "There is a bed called long bed already" in text


def test_a_bed_renamed_takes_its_entries_along(garden: "TestClient") -> None:
    bed = added(garden)
    code, _ = posted(garden, bed, **{**LONG, "name": "Bean bed", "cover": "tunnel", "ends": ""})
    assert code == 303
    text = shown(garden, bed)
    assert "<h1>Bean bed</h1>" in text
    assert "holds off 2 to 3 °C of frost" in text
    assert "Bean bed" in shown(garden, "/entry/beans")
    code, text = posted(garden, bed, **{**LONG, "length_m": "0"})
    assert code == 422
    assert "It should be between" in text
    assert "<h1>Bean bed</h1>" in text


def test_what_is_said_of_a_bed_and_taken_back(garden: "TestClient") -> None:
    bed = added(garden)
    said = [
        ("watered", {"on": "2027-09-10", "litres": "40"}, "Watered on 10 September: 40 l"),
        ("fed", {"what": "muck", "on": "2027-03-01", "kg": "36", "note": "old"}, "Muck, 36 kg, on 1 March"),
        ("grew", {"what": "test-kale", "year": "2025"}, "Kale grew here in 2025"),
        ("grew", {"what": "group:onions", "year": "2026"}, "Something of the onion family grew here in 2026"),
        ("trouble", {"what": "clubroot", "on": "2020-08-01"}, "Clubroot, 1 August 2020"),
        ("trouble", {"what": "other", "on": "2020-08-01", "note": "wireworm"}, "Wireworm"),
    ]
    for kind, fields, words in said:
        code, where = posted(garden, f"{bed}/{kind}", **fields)
        assert code == 303, where
        assert words.casefold() in shown(garden, where).casefold()
    page = shown(garden, bed)
    assert "Clubroot was found here in 2020." in page
    backs = re.findall(r'action="(/garden/bed/\d+/said/\w+/back)"', page)
    assert len(backs) == 6
    for back in backs:
        assert posted(garden, back)[0] == 303
    assert posted(garden, backs[0])[0] == 404
    assert "Clubroot was found" not in shown(garden, bed)


@pytest.mark.parametrize(
    ("kind", "fields", "sentence"),
    [
        ("watered", {"on": "2027-09-10", "litres": "0"}, "It should be between 0.1"),
        ("watered", {"on": "2027-09-10", "litres": ""}, "This is wanted"),
        ("watered", {"on": "2028-09-10", "litres": "5"}, "That day has not come yet"),
        ("watered", {"on": "31 June", "litres": "5"}, "is not a date"),
        ("fed", {"what": "sand", "on": "2027-03-01"}, "That is not one of the answers"),
        ("fed", {"on": "2027-03-01"}, "What was spread?"),
        ("grew", {"what": "test-kale", "year": "2030"}, "It should be between 1967 and 2027."),
        ("grew", {"what": "test-kale", "year": "2025.5"}, "A year is wanted"),
        ("grew", {"year": "2025"}, "What grew there?"),
        ("trouble", {"what": "other", "on": "2020-08-01"}, "Say in a word what it was."),
    ],
)
def test_what_can_t_be_read_is_said_beside_its_field(
    with_bed: tuple["TestClient", str], kind: str, fields: dict[str, str], sentence: str
) -> None:
    garden, bed = with_bed
    code, text = posted(garden, f"{bed}/{kind}", **fields)
    assert code == 422
    assert sentence in text
    assert "<details open><summary>" in text
    assert "/said/" not in shown(garden, bed)


def test_beds_that_are_not_there(garden: "TestClient") -> None:
    assert garden.get("/garden/bed/9").status_code == 404
    assert garden.get("/garden/bed/x").status_code == 422
    assert garden.get("/garden/bed/99999999999999999999").status_code == 422
    assert posted(garden, "/garden/bed/9", **LONG)[0] == 404
    assert posted(garden, "/garden/bed/9/fed", what="muck", on="2027-01-01")[0] == 404
    assert posted(garden, f"{added(garden)}/eaten", what="muck")[0] == 422


def test_a_sowing_in_a_bed_that_is_not_free_is_said_before_it_is_put_down(garden: "TestClient") -> None:
    added(garden, width_m="0.45")
    fields = {"date": "2027-10-01", "place": "Long bed", "row_m": "9"}
    code, text = posted(garden, "/add/test-kale", **fields)
    assert code == 200
    assert "Long bed is not free: taken by Beans, tall until 28 October 2027" in text
    assert "6 m of row, and 9 m are wanted" in text
    seen = re.search(r'name="seen" value="(\w+|[\w=/+-]+)"', text)
    assert seen
    code, where = posted(garden, "/add/test-kale", **fields, confirm="yes", seen=seen.group(1))
    assert code == 303, "advice forbids nothing"
    assert where.startswith("/entry/")


def test_the_water_s_answer_comes_first_and_says_how_sure_it_is(garden: "TestClient") -> None:
    page = shown(garden, added(garden))
    answer = re.search(r'class="answer[^"]*">([^<]*)', page)
    assert answer
    assert re.match(r"The beans (want|have)", answer.group(1))
    assert "No day was read here since then" in page
    assert "FAO-56, Table 19" in page
    assert 'class="bedwater"' in page


def test_a_household_in_feet(tmp_path: Path) -> None:
    made = app(tmp_path)
    with made.state.book.writing() as session:
        row = store.holding(session)
        assert row is not None
        store.put_holding(session, row.__class__(**{**row.model_dump(), "units": "imperial"}))
        made.state.book.replan(session, None, TODAY)
    with client(made) as found:
        page = shown(found, added(found, length_m="20", width_m="4"))
        assert "20 × 4 ft" in page
        assert 'value="20"' in page


def test_a_southern_garden_s_years_run_over_new_year(tmp_path: Path) -> None:
    with client(app(tmp_path, BEANS, latitude=-41.0)) as found:
        bed = added(found)
        page = shown(found, "/garden")
        assert '<th scope="col">2027/28</th>' in page, "September 2027 lies in the season that ends in June 2028"
        assert "may have in 2028/29" in page
        assert shown(found, bed)


def test_before_the_first_run_there_is_no_garden(tmp_path: Path) -> None:
    from tests.web import holding

    with client(holding.app(tmp_path, None)) as found:
        assert found.get("/garden").headers.get("location") == "/start"
        assert posted(found, "/garden", **LONG)[0] == 303
