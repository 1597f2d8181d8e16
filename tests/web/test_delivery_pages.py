"""The pages of meat: a delivery shown, saved and packed; bad input gets a sentence and changes nothing."""

import re
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import setup
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, settings

IDENT = "a" * 32
BOX = {
    "by": "box", "id": IDENT, "date": ON.isoformat(), "of": "pork", "killed": "home", "a_week": "4",
    "freezer": "chest", "cuts": "belly 3.2 kg, 40 mm\nmince 6 kg\nleg 6 kg",
}  # fmt: skip
"""Put down by one test only; every other has an id of its own."""


def href_of(ident: str) -> str:
    return f"/meat/delivery/delivery-{ident[:12]}"


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[TestClient, str]]:
    """A croft with two freezers, and its page of meat while nothing was put down."""
    app = create_app(settings(tmp_path_factory.mktemp("meat")), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE, HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        for name in ("chest", "barn"):
            found.post("/kit", data={"kind": "freezer", "name": name, "litres": "100"})
        yield found, found.get("/meat").text


@pytest.fixture(scope="module")
def client(begun: tuple[TestClient, str]) -> TestClient:
    return begun[0]


def text(answer: object) -> str:
    return str(getattr(answer, "text", "")).replace("\u00a0", " ")


def test_nothing_is_saved_by_showing(begun: tuple[TestClient, str]) -> None:
    client, empty = begun
    assert "There is no meat to deal with" in empty
    ident, before = "9" * 32, client.get("/meat").text
    shown = client.post("/meat/delivery", data={**BOX, "id": ident})
    assert shown.status_code == 200
    said = text(shown)
    for words in ("Within one day, by Thursday 11 March", "Mince, 6 kg: ten packs of 0.6 kg",
                  "3.2 kg without warming the rest", "for the owner and the family", "no inspector"):  # fmt: skip
        assert words in said, words
    assert client.get(href_of(ident)).status_code == 404
    assert client.get("/meat").text == before


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"cuts": ""}, "a cut to a line"),
        ({"cuts": "leg"}, "its weight is wanted"),
        ({"cuts": "belly 3 kg, 0 mm"}, "thickness of 0 mm"),
        ({"cuts": "leg 0 kg"}, "weight of 0 kg"),
        ({"cuts": "belly 3 kg, cure"}, "how thick it is"),
        ({"cuts": "ribs 3 kg, cure"}, "No cure is reckoned here"),
        ({"cuts": "belly 25 kg, 40 mm"}, "One cure takes 0.2 to 20 kg of belly"),
        ({"killed": ""}, "How was it killed?"),
        ({"date": ""}, "On which day"),
        ({"date": "2027-02-30"}, "no such day"),
        ({"freezer": "garage"}, "not one of the answers"),
        ({"by": "carcase", "weight": "0", "cuts": "", "part": "side"}, "between 1 and 600 kg"),
    ],
)
def test_what_cannot_be_is_told_beside_its_field(client: TestClient, wrong: dict[str, str], said: str) -> None:
    ident = "f" * 32
    answer = client.post("/meat/delivery", data={**BOX, "id": ident, **wrong, "confirm": "yes"})
    assert answer.status_code == 422
    assert said in text(answer)
    assert client.get(href_of(ident)).status_code == 404


def test_a_way_that_was_chosen_is_kept_beside_what_was_wrong(client: TestClient) -> None:
    """Of a leg that is 6 kg, ribs that no cure is reckoned for, and a day that is none."""
    chosen = {**BOX, "cuts": "ribs 3 kg\nleg 6 kg", "way-ribs": "cure", "way-leg": "fresh"}
    said = text(client.post("/meat/delivery", data=chosen))
    assert "No cure is reckoned here for ribs" in said
    assert '<option value="fresh" selected>' in said, "the leg is to be eaten fresh still"
    kept = text(client.post("/meat/delivery", data={**chosen, "date": ""}))
    assert '<input type="hidden" name="way-leg" value="fresh">' in kept


def test_four_hundred_kilos_are_warned_of_and_taken_down(client: TestClient) -> None:
    much = {**BOX, "id": "b" * 32, "cuts": "leg 400 kg", "killed": "bought", "freezer": "barn"}
    said = text(client.post("/meat/delivery", data=much))
    assert "It does not all go in: 400 kg take 714 litres, and 100 are free, which is 56 kg" in said
    assert "it takes 125 days" in said
    answer = client.post("/meat/delivery", data={**much, "confirm": "yes"}, follow_redirects=False)
    assert answer.status_code == 303
    client.post(f"/entry/delivery-{'b' * 12}/strike")


def test_a_carcase_offers_its_usual_cuts(client: TestClient) -> None:
    side = {**BOX, "by": "carcase", "part": "side", "weight": "80", "cuts": ""}
    said = text(client.post("/meat/delivery", data=side))
    assert "leg 19.2 kg\nbelly 15.2 kg\nloin 14.4 kg" in said
    assert "60.8 kg to 64 kg of 80 kg" in said


def test_sent_twice_it_is_one_and_each_cut_becomes_a_batch(client: TestClient) -> None:
    href = href_of(IDENT)
    for _ in range(2):
        answer = client.post("/meat/delivery", data={**BOX, "confirm": "yes"}, follow_redirects=False)
        assert answer.headers["location"] == f"{href}?put=new"
    assert client.get("/meat").text.count(f'href="{href}"') == 2, "first of all, and in its list"
    for page in (f"/entry/delivery-{IDENT[:12]}", f"/job/delivery-{IDENT[:12]}.mince"):
        assert f'href="{href}"' in client.get(page).text, "and its entry and its jobs lead to it"
    form = {"id": IDENT, "on": ON.isoformat(), "place": "chest", "kg-mince": "5.9", "packs-mince": "10",
            "kg-leg": "6", "packs-leg": "4"}  # fmt: skip
    nothing = client.post(f"{href}/pack", data=form)
    assert (nothing.status_code, "Tick what was packed" in nothing.text) == (422, True)
    bad = client.post(f"{href}/pack", data={**form, "pick-mince": "yes", "packs-mince": "0", "kg-mince": "-1"})
    assert (bad.status_code, "between 1 and 999." in bad.text, "between 0.02 and 600 kg" in bad.text) == (
        422,
        True,
        True,
    )
    for _ in range(2):
        assert "10 packs left, chest freezer" in text(client.post(f"{href}/pack", data={**form, "pick-mince": "yes"}))
    done = text(client.post(f"{href}/pack", data={**form, "all": "yes", "id": "c" * 32}))
    assert "All that was to be packed is packed" in done, "the belly waits for its cure"
    batch = text(client.get(f"/larder/delivery-{IDENT[:12]}-mince"))
    number = re.search(r"\b27-\d{3}\b", batch)
    assert number
    assert number[0] in client.get("/larder").text
    assert "at home" in batch
    assert "neither sold nor given away" in batch or "neither sold, bartered nor given away" in batch


def test_a_belly_that_waits_for_the_cure_is_not_yet_dealt_with_and_warm_meat_is_said_to_be(client: TestClient) -> None:
    ident = "e" * 32
    box = {**BOX, "id": ident, "cuts": "belly 3 kg, 40 mm\nmince 2 kg"}
    href = client.post("/meat/delivery", data={**box, "confirm": "yes"}, follow_redirects=False).headers["location"]
    packed = {"id": ident, "on": ON.isoformat(), "place": "chest", "all": "yes", "kg-mince": "2", "packs-mince": "3"}
    said = text(client.post(f"{href.partition('?')[0]}/pack", data=packed))
    assert "All that was to be packed is packed." in said
    assert "into the cure by" in said
    client.post("/tick", data={"key": f"delivery-{ident[:12]}.take-in", "on": ON.isoformat(), "m.warm": "yes"})
    assert "It came warm: cook it today" in text(client.get(href))


def test_one_to_come_is_packed_when_it_has_come(client: TestClient) -> None:
    ident = "d" * 32
    client.post("/meat/delivery", data={**BOX, "id": ident, "date": "2027-03-14", "confirm": "yes"})
    said = text(client.get(f"/meat/delivery/delivery-{ident[:12]}"))
    assert "Comes Sunday 14 March" in said
    assert "The ticked are packed" not in said
