"""A batch put right: its name, its day; a meal's joint leaves its batch with the tick. All of it can be taken back."""

import re
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import setup
from app.services.ticking import tick, undo
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, settings

LEG = {"what": "pork leg", "made_on": "2027-01-20", "amount": "4.6", "unit": "kg", "place": "freezer",
       "keeps_until": "2027-07-20"}  # fmt: skip


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path_factory.mktemp("right")), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE, HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        yield found


def put(client: TestClient, **more: str) -> str:
    answer = client.post("/larder/add", data={**LEG, **more}, follow_redirects=False)
    return str(answer.headers["location"]).partition("?")[0]


def plain(client: TestClient, href: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", client.get(href).text).replace("\u00a0", " ").split())


def test_a_name_and_a_day_are_put_right_once_and_can_be_taken_back(client: TestClient) -> None:
    href = put(client)
    number = re.search(r"Batch (27-\d{3})", plain(client, href))
    assert number is not None
    sent = {"name": "pork shoulder", "keeps_until": "2027-06-01", "note": "read on the wrapper", "id": "a" * 32}
    for _ in range(2):
        client.post(f"{href}/right", data=sent)
    text = plain(client, href)
    assert text.count("Put right: called ‘pork shoulder’, keeps until 1 June. read on the wrapper") == 1
    assert f"Pork shoulder Batch {number[1]} · 4.6 kg" in text, "how much there is stays"
    assert "as you put it right" in text
    fact = re.search(r'name="fact" value="([^"]+)"', client.get(href).text)
    assert fact is not None
    client.post(f"{href}/unsay", data={"fact": fact[1]})
    text = plain(client, href)
    assert "Pork leg Batch" in text
    assert "20 July" in text


def test_a_day_put_right_holds_until_it_is_moved(client: TestClient) -> None:
    """Out of the freezer it has a day (safefood, Advice on defrosting meat), whatever was said of it frozen."""
    href = put(client, what="pork loin")
    client.post(f"{href}/right", data={"name": "pork loin", "keeps_until": "2027-08-01"})
    client.post(f"{href}/mark", data={"place": "fridge"})
    assert "11 March" in plain(client, href)
    said = client.post(f"{href}/right", data={"name": "pork loin", "keeps_until": "2027-03-14"})
    assert "later than the day of safety" in said.text
    assert "14 March" in plain(client, href)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"keeps_until": "2026-12-31"}, "before it was made"),
        ({"keeps_until": "2027-02-30"}, "no such day"),
        ({"name": "pork leg", "keeps_until": "2027-07-20"}, "nothing was changed"),
        ({"name": "leek seed"}, "seed tin"),
    ],
)
def test_what_cannot_be_put_right_is_said(client: TestClient, wrong: dict[str, str], said: str) -> None:
    href = put(client)
    answer = client.post(f"{href}/right", data={"id": "e" * 32, **wrong})
    assert (answer.status_code, said in answer.text) == (422, True)
    assert 'id="said-h"' not in client.get(href).text


def test_a_tick_takes_the_joint_from_its_batch_and_taken_back_puts_it_there_again(client: TestClient) -> None:
    href = put(client, what="pork leg, boned")
    sent = {"batch": href.rpartition("/")[2], "kind": "pork joint", "kg": "2.3", "day": "2027-03-14", "id": "c0ffee"}
    client.post("/meat/thaw", data=sent)
    book = client.app.state.book  # type: ignore[attr-defined]  # the client knows its application
    said = tick(book, "joint-to-thaw-c0ffee.out", TODAY, tick_id="out-1")
    tick(book, "joint-to-thaw-c0ffee.out", TODAY, tick_id="out-1")
    assert said.stands
    assert "2.3 kg" in plain(client, href).partition("What is known")[0], "4.6 less 2.3, once"
    assert "Used: 2.3 kg" in plain(client, href)
    undo(book, "out-1", TODAY)
    assert "4.6 kg" in plain(client, href).partition("What is known")[0]
    tick(book, "joint-to-thaw-c0ffee.meal", TODAY)
    assert "Used: 2.3 kg" in plain(client, href), "a meal that is cooked has left the freezer"


def test_one_pack_is_said_as_one(client: TestClient) -> None:
    put(client, what="mince", amount="1", unit="packs")
    for page in ("/larder", "/meat", "/meat/thaw", "/larder/labels"):
        assert "1 packs" not in plain(client, page)
