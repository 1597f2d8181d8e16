"""The pages of livestock that look ahead: a day booked, feed counted, eggs put down; bad input changes nothing."""

import re
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import entries, setup
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, draft, settings

PAGES = ("days", "feed", "expect", "grass")


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path_factory.mktemp("husbandry")), Ticking(), today=ON)
    book = app.state.book
    setup.begin(book, WHERE, HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        for name in PAGES:
            assert 'class="empty"' in found.get(f"/livestock/{name}").text
        for ident, one in {
            "hens": draft("laying-hens", "2027-03-01", "Hens <&>", "orchard", head=12, age_d=245),
            "ewes": draft("flock-year", "2026-10-01", "Ewes", "field", head=8),
            "shear": draft("shearer", "2027-06-17", "Shearing", "yard", **{"for": "ewes"}, head=8),
            "bank": draft("paddock", "2027-03-08", "Bank", "bank", head=8),
        }.items():
            entries.put_down(book, one, TODAY, ident=ident)
        yield found


def booking(client: TestClient, entry: str) -> dict[str, str]:
    text = client.get("/livestock/days").text
    form = next(one for one in re.findall(r"<form.*?</form>", text, re.DOTALL) if f"{entry}.book" in one)
    return dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))


@pytest.mark.parametrize(("day", "says"), [
    ("2027-02-31", "no such day"), ("", "Which day was given?"), ("2027-01-01", "is past"),
    ("2099-01-01", "more than three years off"), ("soon", "is not a date"),
])  # fmt: skip
def test_a_day_that_cannot_be_is_told_beside_its_field(client: TestClient, day: str, says: str) -> None:
    answer = client.post("/livestock/days", data={**booking(client, "shear"), "day": day})
    assert answer.status_code == 422
    assert says in answer.text.replace("\u00a0", " ")
    assert f'value="{day}"' in answer.text, "what was typed is kept"
    assert "hoped for about 17 June" in client.get("/livestock/days").text.replace("\u00a0", " ")


def test_a_booked_day_takes_along_what_hangs_from_it_and_counts_once(client: TestClient) -> None:
    clip = draft("shearer", "2027-06-10", "Clip", "yard", **{"for": "ewes"}, head=8)
    entries.put_down(client.app.state.book, clip, TODAY, ident="clip")  # type: ignore[attr-defined]
    form = booking(client, "clip")
    for _ in range(2):
        answer = client.post("/livestock/days", data={**form, "day": "2027-06-22"})
    text = answer.text.replace("\u00a0", " ")
    assert "Tuesday 22 June" in text
    assert "on 21 Jun" in text, "they come in the evening before"
    assert client.post("/livestock/days", data={"key": "nothing.book", "day": "2027-06-22"}).status_code == 404


def test_feed_is_counted_and_ordered(client: TestClient) -> None:
    for wrong in ({"left": "-3"}, {"left": "lots"}, {"pack": "0"}, {"lead": "1.5"}, {"price": "x"}):
        answer = client.post("/livestock/feed", data={"what": "layers feed", **wrong})
        assert (answer.status_code, 'class="error"' in answer.text) == (422, True)
    assert "not counted" in client.get("/livestock/feed").text
    text = client.post(
        "/livestock/feed", data={"what": "layers feed", "left": "30", "pack": "20", "price": "11.5", "lead": "4"}
    ).text.replace("\u00a0", " ")
    assert "by 23 March: it runs out on 30 March" in text, "20 days at 1.5 kg; four days and three before"
    assert "in all" in text
    assert client.post("/livestock/feed", data={"what": "<caviar>"}).status_code == 404


def test_eggs_are_put_down_and_bad_counts_are_not(client: TestClient) -> None:
    for wrong, says in (
        ({"eggs": "-1"}, "between 0 and 4000"), ({"eggs": "2.5"}, "whole number"), ({"eggs": ""}, "How many"),
        ({"eggs": "99"}, "two eggs a bird"), ({"eggs": "9", "on": "2027-03-11"}, "not come yet"),
    ):  # fmt: skip
        answer = client.post("/livestock/expect", data={"entry": "hens", "on": "2027-03-10", **wrong})
        assert answer.status_code == 422
        assert says in answer.text.replace("\u00a0", " ")
    answer = client.post("/livestock/expect", data={"entry": "hens", "eggs": "9", "on": "2027-03-10", "id": "e" * 32})
    assert "The eggs are put down" in answer.text
    assert client.post("/livestock/expect", data={"entry": "ewes", "eggs": "9"}).status_code == 404


def test_the_grass_tells_the_paddock_and_the_cautions(client: TestClient) -> None:
    text = client.get("/livestock/grass").text
    assert "stocked" in text
    assert "Take care." in text
    assert "Hens &lt;&amp;&gt;" in client.get("/livestock/expect").text


def test_the_vet_stands_on_the_round_once_put_down(client: TestClient) -> None:
    text = client.get("/round").text
    assert "nobody is put down" in text
    assert "1.5\u00a0kg layers feed" in text
    home = client.get("/household").text
    fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', home)) | {"vet": "Ms Invented, 01632 960111"}
    chosen = {"nation": "england", "climate": "north-yorkshire", "units": "metric", "aspect": "", "frost_hollow": ""}
    assert client.post("/household", data={**fields, **chosen}).status_code == 200
    assert "Ms Invented, 01632 960111" in client.get("/round").text


def test_a_zone_stands_first_on_the_page_of_all_animals_and_on_those_it_touches(client: TestClient) -> None:
    assert "/found/movement-order" in client.get("/livestock").text
    book = client.app.state.book  # type: ignore[attr-defined]
    entries.put_down(book, draft("movement-order", "2027-03-08", "The zone"), TODAY, ident="zone")
    for page in ("/livestock", "/livestock/ewes"):
        assert "leave without your authority’s licence: in force since 8 March." in client.get(page).text.replace(
            "\u00a0", " "
        )
    assert "licence: in force" not in client.get("/livestock/hens").text
    entries.strike(book, "zone", TODAY)


def test_a_day_inside_a_withdrawal_is_said_with_its_source(client: TestClient) -> None:
    book = client.app.state.book  # type: ignore[attr-defined]
    pigs = draft("abattoir-sheep", "2027-03-20", "Two hoggets", "field", **{"for": "ewes"}, head=2)
    entries.put_down(book, pigs, TODAY, ident="hoggets")
    entries.put_down(book, draft("medicine", "2027-03-09", "A dose", **{"for": "ewes"}, product="p"), TODAY, ident="m")
    text = client.get("/livestock/days").text
    assert "until its days are written down" in text
    assert "check your local rules" in text
    assert "no day while it is held" in text
