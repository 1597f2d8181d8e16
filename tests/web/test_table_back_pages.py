"""Back from the table as a page: what is too late first, ways in, a chain put down once."""

import re
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import setup
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, settings

HAM = {"what": "ham-in-brine.boil", "day": "2027-12-25", "f-kg": "6"}
PIGS = "weaners.kill~pork-cut-up.leg~ham-in-brine.boil"


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path_factory.mktemp("table")), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE, HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        yield found


def test_a_ham_for_christmas_has_its_weaners_bought_by_27_june(client: TestClient) -> None:
    """6 kg: 53 days of brine at 4 days a pound (USDA), pigs of 124 days (16 to 90 kg at 0.6 kg), hung three days."""
    text = client.get("/meat/table", params=HAM).text
    assert "Boiled ham on Saturday 25\u00a0December" in text
    assert "Sunday 27\u00a0June" in text
    assert "too late" not in text
    assert "Book the abattoir" in text
    assert '<svg class="chain"' in text


def test_what_is_too_late_is_said_first_and_the_next_way_in_is_shown(client: TestClient) -> None:
    """For 1 June the weaners were to come on 2 December: on 10 March, 98 days ago."""
    text = client.get("/meat/table", params={**HAM, "day": "2027-06-01"}).text
    late, way = text.index("Buy weaners and raise them: too late"), text.index('id="way-h"')
    assert late < text.index("<table") < way
    assert "98\u00a0days ago" in text
    assert "Buy weaners" not in text[way:].partition("</h2>")[0]


def test_a_chain_is_put_down_once_and_its_followers_know_what_they_are_for(client: TestClient) -> None:
    sent = {**HAM, "way": PIGS, "id": "5eed"}
    places = [client.post("/meat/table", data=sent, follow_redirects=False).headers["location"] for _ in range(2)]
    assert places == ["/entry/weaners-5eed?put=new"] * 2
    assert "27\u00a0June" in client.get(places[0]).text
    ham = client.get("/entry/weaners-5eed.kill%2Bpork.leg%2Bham")
    assert ham.status_code == 200
    assert "6\u00a0kg" in ham.text
    text = client.get("/meat/table", params=HAM).text
    assert "what is here already" in text
    assert "on the day" in text


def test_what_is_too_late_can_be_begun_all_the_same_today(client: TestClient) -> None:
    asked = {**HAM, "day": "2027-03-20", "way": "ham-in-brine.boil"}
    text = client.get("/meat/table", params=asked).text
    assert "begun today" in text
    kept = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', text))
    answer = client.post("/meat/table", data=kept, follow_redirects=False)
    assert answer.status_code == 303
    assert "/entry/ham-in-brine-" in answer.headers["location"]


def test_a_clash_is_said_before_it_is_put_down(client: TestClient) -> None:
    """Two tubs of brine and one curing fridge."""
    first = {**HAM, "day": "2027-07-01", "way": "ham-in-brine.boil", "id": "tub1"}
    client.post("/meat/table", data=first)
    text = client.get("/meat/table", params={**HAM, "day": "2027-07-03", "way": "ham-in-brine.boil"}).text
    assert "fills the curing fridge. With A ham in brine" in text
    assert "Begin sooner, or make room" in text


def test_what_has_just_been_chosen_is_asked_about_without_blame(client: TestClient) -> None:
    answer = client.get("/meat/table", params={"what": "joint-to-thaw.meal", "day": "2027-12-25"})
    assert answer.status_code == 200
    assert 'name="f-kg"' in answer.text
    assert 'class="error"' not in answer.text


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"what": "unicorn.eat"}, "There is nothing of that name"),
        ({"what": ""}, "What shall be on the table?"),
        ({"day": "2027-01-01"}, "That day has passed"),
        ({"day": "2099-01-01"}, "more than three years off"),
        ({"day": "soon"}, "is not a date"),
        ({"f-kg": "0"}, "It should be between"),
        ({"f-kg": "heavy"}, "A number is wanted"),
    ],
)
def test_bad_input_gets_a_sentence_and_changes_nothing(client: TestClient, wrong: dict[str, str], says: str) -> None:
    before = client.get("/entries").text.count('href="/entry/')
    for answer in (
        client.get("/meat/table", params={**HAM, **wrong}),
        client.post("/meat/table", data={**HAM, "way": PIGS, "id": "bad", **wrong}),
    ):
        assert answer.status_code == 422
        assert says in answer.text
    assert client.get("/entries").text.count('href="/entry/') == before


def test_a_way_that_does_not_exist_is_refused(client: TestClient) -> None:
    answer = client.post("/meat/table", data={**HAM, "way": "nonsense", "id": "x"})
    assert (answer.status_code, "no such way in" in answer.text) == (422, True)
