"""The larder's pages, from putting a batch in to the last of it; bad input gets a sentence and changes nothing."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import segno
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import setup
from app.settings import House
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, settings

JAM = {"what": "plum jam", "made_on": "2026-08-20", "amount": "9", "unit": "jars", "place": "shelf",
       "keeps_until": "2027-08-20"}  # fmt: skip


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE, HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        yield found


def put(client: TestClient, **more: str) -> str:
    answer = client.post("/larder/add", data={**JAM, **more}, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"]).partition("?")[0]


def test_a_batch_goes_in_and_is_taken_out_to_the_last(client: TestClient) -> None:
    href = put(client)
    assert "26-001" in client.get("/larder").text
    for amount in ("1", "9"):
        answer = client.post(f"{href}/take", data={"kind": "used", "amount": amount})
    assert "By the book there was less than that" in answer.text
    assert "26-001" not in client.get("/larder").text


def test_used_before_it_was_made_is_told_beside_the_field(client: TestClient) -> None:
    href = put(client)
    answer = client.post(f"{href}/take", data={"kind": "used", "amount": "1", "on": "2026-08-01"})
    assert answer.status_code == 422
    assert "before it was made" in answer.text
    assert "9\u00a0jars" in client.get(href).text


@pytest.mark.parametrize(
    ("amount", "says"),
    [("0", "Nought changes nothing"), ("−1", "less than nothing"), ("2000000", "more than any larder holds"),
     ("1e400", "A number is wanted"), ("nan", "A number is wanted")],
)  # fmt: skip
def test_an_amount_that_cannot_be_is_told_and_a_count_of_none_is_taken(
    client: TestClient, amount: str, says: str
) -> None:
    href = put(client)
    answer = client.post(f"{href}/take", data={"kind": "used", "amount": amount})
    assert (answer.status_code, says in answer.text) == (422, True)
    assert "0\u00a0jars" in client.post(f"{href}/count", data={"amount": "0"}).text


@pytest.mark.parametrize(
    "wrong", [{"amount": "-1"}, {"amount": "0"}, {"amount": "lots"}, {"what": ""}, {"made_on": "2028-01-01"}]
)
def test_a_batch_that_cannot_be_is_refused(client: TestClient, wrong: dict[str, str]) -> None:
    answer = client.post("/larder/add", data={**JAM, **wrong})
    assert answer.status_code == 422
    assert 'class="error"' in answer.text


def test_home_killed_meat_says_that_it_is_for_the_household_alone(client: TestClient) -> None:
    href = put(client, what="pork", killed="home")
    assert "neither sold, bartered nor given away" in client.get(href).text
    for kind in ("given", "sold"):
        answer = client.post(f"{href}/take", data={"kind": kind, "amount": "1"})
        assert "put down, though it was advised against" in answer.text
    assert "Sold: 1\u00a0jar" in answer.text
    assert "7\u00a0jars" in answer.text, "the fact is taken down all the same"


def test_labels_carry_the_number_and_a_code(client: TestClient) -> None:
    href = put(client)
    ident = href.rpartition("/")[2]
    assert "jarsheet" not in client.get("/larder/labels").text, "nothing is chosen yet"
    for size in ("21", "24", "40", "65"):
        text = client.get(f"/larder/labels?size={size}&copies=2&batch={ident}&gone=3").text.partition("<main")[2]
        assert len(re.findall("<svg[^>]*viewBox", text)) == 2
        assert text.count('class="none"') == 3
        assert "best by 20" in text
    text = client.get(f"/larder/labels?copies=each&batch={ident}&batch=nothing").text
    assert "26-001 · 9 of 9" in text, "each jar is told apart"
    assert client.get("/larder/labels?size=99&copies=no&gone=-1&batch=").status_code == 200


def test_a_label_printed_on_the_laptop_holds_the_address_that_phones_find(client: TestClient) -> None:
    ident = put(client).rpartition("/")[2]
    assert "opens nothing on a phone yet" in client.get(f"/larder/labels?batch={ident}").text
    client.app.state.house = House(("http://192.168.1.20:8000", "http://croft.local:8000"))  # type: ignore[attr-defined]
    laptop = TestClient(client.app, base_url="http://localhost", client=("127.0.0.1", 50000))
    text = laptop.get(f"/larder/labels?batch={ident}").text
    address = "http://192.168.1.20:8000/larder/26-001"
    drawn = segno.make(address, error="m", boost_error=False).svg_inline(border=2, dark="#000", light="#fff")
    assert re.findall(r' d="([^"]+)"', drawn)[-1] in text
    assert "a phone that is let in" in text


def test_kit_is_put_down_changed_and_gone(client: TestClient) -> None:
    chest = {"kind": "freezer", "name": "chest", "litres": "300"}
    assert "300\u00a0l" in client.post("/kit", data=chest).text
    assert client.post("/kit", data=chest).text.count('id="kit-1"') == 1, "the same once more is nothing new"
    answer = client.post("/kit", data={**chest, "litres": "90"})
    assert (answer.status_code, "already something called" in answer.text) == (422, True)
    assert "of 300\u00a0litres are free" in client.get("/larder").text
    pork = {**JAM, "what": "pork", "amount": "400", "unit": "kg", "place": "freezer"}
    assert "more than the freezers have room for" in client.post("/larder/add", data=pork).text, "a fact, and told"
    client.post("/kit", data={"kind": "dryer", "name": "trays", "trays": "6"})
    answer = client.post("/kit", data={"kit": "2", "kind": "dryer", "name": "chest", "trays": "many"})
    assert 'value="many"' in answer.text, "what was typed is kept"
    answer = client.post("/kit", data={"kit": "2", "kind": "dryer", "name": "chest", "trays": "8"})
    assert "already something called chest" in answer.text
    client.post("/kit", data={**chest, "kit": "1", "litres": "200", "note": "by the door"})
    assert "of 200\u00a0litres are free" in client.get("/larder").text
    assert "gone since" in client.post("/kit", data={**chest, "kit": "1", "ends": "2027-01-01"}).text
    assert "litres are free" not in client.get("/larder").text
    assert client.post("/kit", data={**chest, "name": "other", "kit": "99"}).status_code == 404
    assert client.post("/kit", data={**chest, "kit": "x"}).status_code == 404


def test_a_batch_is_found_by_its_number_and_its_name(client: TestClient) -> None:
    put(client)
    for words in ("26-001", "plum", "shelf jam"):
        assert "Plum jam" in client.get("/search", params={"q": words}).text
    assert "Nothing here has all of those words" in client.get("/search?q=zzz").text


def test_the_code_on_a_jar_opens_its_batch_and_one_tap_says_what_became_of_it(client: TestClient) -> None:
    href = put(client)
    answer = client.get("/larder/26-001", follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, href)
    assert client.get("/larder/26-777").status_code == 404
    forms = re.findall(r'<form class="one"[^>]*action="([^"]+)"[^>]*>(.*?)</form>', client.get(href).text, re.DOTALL)
    one, gone, spoiled = [
        (action, dict(re.findall(r'name="(\w+)" value="([^"]*)"', inside))) for action, inside in forms
    ][:3]
    assert [form["amount"] for _, form in (one, gone, spoiled)] == ["1", "9", "9"]
    assert "8\u00a0jars" in client.post(one[0], data=one[1]).text
    assert "8\u00a0jars" in client.post(one[0], data=one[1]).text, "tapped twice, it counts once"
    text = client.post(gone[0], data={**gone[1], "amount": "8"}).text
    assert "0\u00a0jars" in text
    undo = re.search(r'name="fact" value="(\w+)"', text)
    assert undo is not None
    assert text.index(undo.group(0)) < text.index("<h1"), "taken back beside what was said"
    assert "8\u00a0jars" in client.post(f"{href}/unsay", data={"fact": undo.group(1)}).text
