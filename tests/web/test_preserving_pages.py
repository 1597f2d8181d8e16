"""The pages of keeping: a glut shared out and put down, a load weighed until it is dry; bad input gets words."""

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.records.store import KitRow
from app.services import setup
from app.services.entries import put_down
from app.services.larder import larder
from app.services.preview import Draft
from tests.services.croft import HOUSE, WHERE, Ticking, settings

ON = date(2027, 8, 20)
TODAY = ON.toordinal()
GLUT = {"crop": "tomatoes", "kg": "20", "on": "2027-08-21", "jar_ml": "500", "jars": "12"}


@pytest.fixture(scope="module")
def app_client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    clock = Ticking()
    clock.at = datetime(2027, 8, 20, 12, 0, tzinfo=UTC)
    app = create_app(settings(tmp_path_factory.mktemp("keeping")), clock, today=ON)
    book = app.state.book
    setup.begin(book, WHERE, HOUSE, (), TODAY)
    for row in (
        KitRow(name="dryer", kind="dryer", trays=8, tray_m2=0.25, watts=900),
        KitRow(name="chest", kind="freezer", litres=200),
    ):
        larder.put_kit(book, row, TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        yield found


def plain(text: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", text).replace("\u00a0", " ").split())


def entries(client: TestClient) -> int:
    text = plain(client.get("/entries").text)
    return len(re.findall(r"Tomatoes, (?:dried|bottled|frozen)", text))


def test_every_way_stands_side_by_side_with_what_is_short(app_client: TestClient) -> None:
    """20 kg at 1.32 kg a litre fill 30 jars of half a litre (MSU Extension 01600830), and there are 12."""
    text = plain(app_client.get("/preserving/glut", params=GLUT).text)
    assert "30 jars of 500 ml" in text
    assert "Short of 18 jars" in text
    for said in ("hands-on", "waiting", "kWh", "keeps", "Dry them", "Skin and freeze them", "Make chutney of it"):
        assert said in text


def test_a_glut_is_looked_at_then_put_down_and_counts_once(app_client: TestClient) -> None:
    before = entries(app_client)
    typed = {**GLUT, "kg-dry-tomatoes": "8", "kg-freeze-tomatoes": "6", "id": "a" * 32, "seen": ""}
    looked = app_client.post("/preserving/glut", data={**typed, "confirm": "yes"})
    assert looked.status_code == 200
    assert "This would be put down" in looked.text
    assert "6 kg of it is not shared out" in plain(looked.text)
    assert entries(app_client) == before
    seen = re.search(r'name="seen" value="([^"]+)"', looked.text)
    assert seen is not None
    for _ in range(2):
        answer = app_client.post(
            "/preserving/glut", data={**typed, "seen": seen[1], "confirm": "yes"}, follow_redirects=False
        )
        assert (answer.status_code, answer.headers["location"]) == (303, "/preserving?put=glut")
    text = plain(app_client.get("/preserving?put=glut").text)
    assert "Tomatoes, dried" in text
    assert "Tomatoes, frozen" in text
    assert entries(app_client) == before + 2


def test_a_dryer_that_is_taken_is_said_before_it_is_saved(app_client: TestClient) -> None:
    book = app_client.app.state.book
    facts = {"date": TODAY, "kg": 40.0, "tray_m2": 2.0}
    put_down(book, Draft("dried-plums", "Plums in the dryer", "", facts), TODAY)
    typed = {**GLUT, "on": "2027-08-20", "crop": "apples", "kg-dry-apples": "8"}
    looked = plain(app_client.post("/preserving/glut", data=typed).text)
    assert "The dryer is taken by ‘Plums in the dryer’" in looked
    assert "Begin it on" in looked
    add = plain(app_client.post("/add/dried-apples", data={"date": "2027-08-20", "kg": "8"}).text)
    assert "The dryer is taken by ‘Plums in the dryer’" in add
    assert "of waiting while it works by itself" in add
    assert "Begin it on" in add


def test_a_freezer_without_room_is_said_before_it_is_saved(app_client: TestClient) -> None:
    """150 kg at 0.56 kg a litre want 268 litres (common practice), and the freezer has 200."""
    add = plain(app_client.post("/add/frozen-peas", data={"date": "2027-08-20", "kg": "150"}).text)
    assert "150 kg want 268 litres, and about 200 are free" in add


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"kg": "0"}, "It should be between 0.2 and 500 kg"),
        ({"kg": "10000"}, "It should be between 0.2 and 500 kg"),
        ({"kg": "heaps"}, "A number is wanted"),
        ({"kg": ""}, "How much is there of it?"),
        ({"crop": ""}, "What is it a glut of?"),
        ({"on": "2031-01-01"}, "produce does not wait longer"),
        ({"jar_ml": "777"}, "not one of the answers"),
        ({"jars": "2.5"}, "A whole number"),
    ],
)
def test_a_glut_that_cannot_be_gets_a_sentence(app_client: TestClient, wrong: dict[str, str], says: str) -> None:
    answer = app_client.get("/preserving/glut", params={**GLUT, **wrong})
    assert answer.status_code == 422
    assert says in plain(answer.text)


@pytest.mark.parametrize(
    ("share", "says"),
    [
        ({}, "Share some of it out"),
        ({"kg-freeze-tomatoes": "25"}, "That shares out 25 kg, and there are 20"),
        ({"kg-freeze-tomatoes": "-3"}, "less than nothing"),
        ({"kg-freeze-tomatoes": "some"}, "A number is wanted"),
    ],
)
def test_a_share_that_cannot_be_gets_a_sentence(app_client: TestClient, share: dict[str, str], says: str) -> None:
    before = entries(app_client)
    answer = app_client.post("/preserving/glut", data={**GLUT, **share, "confirm": "yes", "seen": ""})
    assert answer.status_code == 422
    assert says in plain(answer.text)
    assert entries(app_client) == before


def test_an_unknown_crop_is_taken_with_the_freezer(app_client: TestClient) -> None:
    text = plain(app_client.get("/preserving/glut", params={**GLUT, "crop": "medlars"}).text)
    assert "It is not in the table here" in text
    assert "Freeze it" in text


def test_a_load_is_weighed_until_it_is_dry(app_client: TestClient) -> None:
    """8 kg of tomato at 94.52 % are dry at 487 g, 10 % (USDA SR26, 2013, no. 11529); on the way it says how long."""
    book = app_client.app.state.book
    facts = {"date": TODAY, "kg": 8.0, "tray_m2": 2.0}
    ident = put_down(book, Draft("dried-tomatoes", "A load of tomatoes", "", facts), TODAY)
    href = f"/entry/{ident}"
    assert "It is dry at 487 g" in plain(app_client.get(href).text)
    weighing = {"kg": "1.6", "hours": "6", "id": "b" * 32}
    for _ in range(2):
        answer = app_client.post(f"/preserving/drying/{ident}", data=weighing, follow_redirects=False)
        assert answer.status_code == 303
    text = plain(app_client.get(href).text)
    assert "water now 73 %" in text
    assert text.count("after 6 h 1.6 kg") == 1
    assert "more, today at about" in text or "more, on" in text
    app_client.post(f"/preserving/drying/{ident}", data={"kg": "0.48", "hours": "12", "id": "c" * 32})
    assert "Dry: 487 g was the weight to reach" in plain(app_client.get(href).text)


def test_a_weighing_that_cannot_be_is_refused_or_told(app_client: TestClient) -> None:
    book = app_client.app.state.book
    facts = {"date": TODAY, "kg": 2.0, "tray_m2": 2.0}
    ident = put_down(book, Draft("dried-courgettes", "Courgettes to weigh", "", facts), TODAY)
    for wrong in ({"kg": "", "hours": "3"}, {"kg": "1", "hours": "-1"}, {"kg": "1", "hours": "2", "on": "2027-12-01"}):
        answer = app_client.post(f"/preserving/drying/{ident}", data=wrong)
        assert answer.status_code == 422
        assert 'class="error"' in answer.text
    app_client.post(f"/preserving/drying/{ident}", data={"kg": "3", "hours": "2"})
    assert "3 kg is more than went in" in plain(app_client.get(f"/entry/{ident}").text)


def test_drying_is_reckoned_and_powder_brought_back(app_client: TestClient) -> None:
    """2.5 kg of courgette are dry at 145 g (SR26 no. 11477); 100 g of powder at 4 % take 692 g of water to 12.12 %."""
    text = plain(app_client.get("/preserving/drying", params={"crop": "courgettes", "kg": "2.5"}).text)
    assert "145 g in all" in text
    text = plain(app_client.get("/preserving/drying", params={"powder": "100", "moist": "4"}).text)
    assert "purée, 12.12 % add 692 g of water" in text


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"crop": "tomatoes", "kg": "2", "target": "96"}, "It holds 94.52 % of water fresh"),
        ({"crop": "tomatoes", "kg": "0"}, "It should be between"),
        ({"crop": "stones", "kg": "2"}, "not one of the answers"),
        ({"powder": "100", "solids": "98"}, "outside what the rule covers"),
        ({"powder": "none"}, "A number is wanted"),
    ],
)
def test_sums_that_cannot_be_get_a_sentence(app_client: TestClient, asked: dict[str, str], says: str) -> None:
    answer = app_client.get("/preserving/drying", params=asked)
    assert answer.status_code == 422
    assert says in plain(answer.text)
