"""Upkeep's pages: one line puts an element down, bad input gets a sentence and changes nothing, a look moves a coat."""

import re
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.records import store
from app.services import setup
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, settings

WALL = {"sheet": "rendered-wall", "place": "House", "name": "West wall", "done": "20/6/2024", "size": "46"}


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A croft that these tests add to, in any order."""
    app = create_app(settings(tmp_path_factory.mktemp("upkeep")), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE, HOUSE, ("pipes-before-frost", "chimney-sweep"), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        yield found


def entries(client: TestClient) -> int:
    book = client.app.state.book  # type: ignore[attr-defined]
    with book.reading() as session:
        return len(store.entries(session))


def test_one_line_puts_a_wall_down_once_and_its_building_is_drawn(client: TestClient) -> None:
    for _ in range(2):
        answer = client.post("/upkeep", data={**WALL, "id": "a" * 32})
        assert answer.status_code == 200
    text = client.get("/upkeep").text
    assert text.count(">West wall</a>") == 1
    assert "Last painted 20\u00a0June\u00a02024" in text
    assert "46\u00a0m²" in text
    assert re.search(r'class="bedyear years"[^>]*aria-label="House, the years to come\. West wall: ', text)
    amounts = re.search(r'href="(/upkeep/amounts\?what=masonry[^"]*)"', text)
    assert amounts
    assert "litres of masonry paint" in client.get(amounts[1].replace("&amp;", "&")).text


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"done": "2030-01-01"}, "has not come yet"),
        ({"done": "2031"}, "has not come yet"),
        ({"done": "31/2/2024"}, "neither a day nor a year"),
        ({"size": "-3", "done": "2030-01-01"}, "has not come yet"),
        ({"size": "-3"}, "less than nothing"),
        ({"sheet": "leek"}, "not one of the answers"),
        ({"sheet": ""}, "Choose what it is"),
    ],
)
def test_what_cannot_be_is_told_beside_its_field_and_kept(client: TestClient, wrong: dict[str, str], says: str) -> None:
    before = entries(client)
    answer = client.post("/upkeep", data={**WALL, "name": "Kept as typed", **wrong})
    assert answer.status_code == 422
    assert says in answer.text
    assert 'value="Kept as typed"' in answer.text
    assert entries(client) == before


def test_the_whole_form_refuses_a_last_time_to_come_and_keeps_what_was_typed(client: TestClient) -> None:
    before = entries(client)
    wall = {"date": "2031-01-01", "name": "Gable", "area_m2": "40", "confirm": "yes"}
    answer = client.post("/add/rendered-wall", data=wall)
    assert (answer.status_code, entries(client)) == (422, before)
    assert "That day has not come yet" in answer.text
    assert 'value="Gable"' in answer.text
    assert client.post("/add/galvanised", data={**wall, "name": ""}).status_code in (200, 409), "it may be planned"


def test_paint_on_a_solid_wall_is_put_down_and_warned_of(client: TestClient) -> None:
    wall = {"sheet": "masonry-painted", "place": "barn", "done": "2021", "surface": "solid stone or brick"}
    answer = client.post("/upkeep", data={**wall, "id": "c" * 32})
    assert "do not belong together" in answer.text
    assert "Last painted about 2021" in answer.text
    assert client.get("/upkeep?put=new&unsuited=999").status_code == 200
    assert "Limewash or nothing" in client.get("/entry/masonry-painted-cccccccccccc").text, "and stands on its page"


def test_a_look_ticked_with_blistered_moves_the_paint(client: TestClient) -> None:
    """End to end: from the element's line to its look, the finding ticked there, the coat in another year."""
    client.post("/upkeep", data={**WALL, "name": "East wall", "place": "east", "id": "d" * 32})
    part = client.get("/upkeep").text.partition(">East wall</a>")[2]
    assert "paint the wall, two coats in " in part
    years = re.search(r"paint the wall, two coats in \w+\s(\d{4})", part)
    assert years
    assert years[1] == "2032"
    look = re.search(r'href="/job/([^"]+)">Look at it', part)
    assert look
    said = {"key": look[1], "id": "blister-1", "on": ON.isoformat(), "m.found": "blistered", "m.where": "by the door"}
    assert client.post("/tick", data=said).status_code == 200
    part = client.get("/upkeep").text.partition(">East wall</a>")[2]
    assert "Found blistered, by the door on" in part
    moved = re.search(r"paint the wall, two coats in (\w+)[,<;. ]", part)
    assert moved, "in this year, which is not said"


def test_fifteen_years_winter_and_law_say_their_answer_first(client: TestClient) -> None:
    years = client.get("/upkeep/years").text
    assert "whatever is painted" in years
    assert re.search(r"<h3>2041</h3>", years)
    winter = client.get("/upkeep/winter").text
    assert "One year in ten the first frost has come by" in winter
    assert "Look at the lagging and mend it" in winter
    law = client.get("/upkeep/law").text
    assert "As it holds in England" in law
    assert "1\u00a0March to 31\u00a0August" in law
    assert law.count("last checked") == law.count("Check your local rules.") - 1


def test_three_readings_give_yes_or_no_with_every_reason(client: TestClient) -> None:
    asked = {"air": "10", "humidity": "85", "surface": "10", "coating": "solvent-borne paint"}
    text = client.get("/upkeep/fit", params=asked).text
    assert "No. One\u00a0reason against it." in text
    assert "2.4 °C above the dew point of 7.6 °C" in text
    assert (
        "Yes. It is fit"
        in client.get("/upkeep/fit", params={**asked, "air": "20", "humidity": "50", "surface": "20"}).text
    )
    for wrong in ({"air": ""}, {"air": "warm"}, {"humidity": "120"}, {"surface": "900"}, {"coating": "jam"}):
        answer = client.get("/upkeep/fit", params={**asked, **wrong})
        assert answer.status_code == 422
        assert 'class="error"' in answer.text


@pytest.mark.parametrize(
    "wrong", [{"area": "-3"}, {"area": "0"}, {"coats": "1.5"}, {"waste": "200"}, {"tins": "ten"}, {"what": "jam"}]
)
def test_an_amount_that_cannot_be_is_told(client: TestClient, wrong: dict[str, str]) -> None:
    answer = client.get("/upkeep/amounts", params={"what": "limewash", "area": "70", "coats": "3", **wrong})
    assert answer.status_code == 422
    assert 'class="error"' in answer.text


def test_a_pack_and_its_price_are_kept(client: TestClient) -> None:
    client.post("/upkeep", data={**WALL, "name": "Priced wall", "place": "Cart shed", "id": "b" * 32})
    pack = {"what": "Masonry  Paint", "size": "10", "unit": "l", "price": "54"}
    for _ in range(2):
        text = client.post("/upkeep/amounts", data=pack).text
    assert text.count("<dt>Masonry paint</dt>") == 1
    answer = client.get("/upkeep/amounts", params={"what": "masonry paint, smooth render", "area": "80"})
    assert "162 in all" in answer.text, "three tins at 54"
    assert "by your prices" in client.get("/upkeep/years").text
    assert client.post("/upkeep/amounts", data={**pack, "size": "-1", "price": "x"}).status_code == 422


def test_firewood_is_converted_and_reckoned(client: TestClient) -> None:
    assert "Dry: 20" in client.get("/upkeep/wood?percent=25&basis=dry").text
    assert "Not dry" in client.get("/upkeep/wood?percent=25&basis=wet").text
    assert "A winter asks" in client.get("/upkeep/wood?kilowatts=5&hours=5&days=150&wood=oak").text
    for wrong in ("percent=-1&basis=dry", "percent=&basis=wet", "kilowatts=900&hours=5&days=150&wood=oak"):
        assert client.get(f"/upkeep/wood?{wrong}").status_code == 422


def test_without_a_nation_no_law_is_told(tmp_path_factory: pytest.TempPathFactory) -> None:
    app = create_app(settings(tmp_path_factory.mktemp("nowhere")), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE._replace(nation="elsewhere"), HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost") as found:
        text = found.get("/upkeep/law").text
        assert "No law is on file" in text
        assert "legislation" not in text
        assert "<table" not in text
        for path in ("", "/years", "/winter", "/fit", "/amounts", "/wood"):
            assert found.get(f"/upkeep{path}").status_code == 200, "nothing put down yet"
