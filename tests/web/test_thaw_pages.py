"""Out of the freezer, and how long meat keeps, as pages: the answer, bad input, a form that is sent twice."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import setup
from app.trade.meat.frozen_kinds import kind_named
from app.web.meat.thaw_forms import with_batch
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, settings
from tests.web.sample_larder import CHOPS

JOINT = {"kind": "pork joint", "kg": "2.3", "day": "2027-03-14"}  # a Sunday


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path_factory.mktemp("thaw")), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE, HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        yield found


@pytest.fixture(scope="module")
def leg(client: TestClient) -> str:
    """The first batch of the larder, by its id: a pork leg in the freezer."""
    made = {
        "what": "pork leg",
        "made_on": "2027-01-20",
        "amount": "2.3",
        "unit": "kg",
        "place": "freezer",
        "killed": "home",
    }
    href = str(client.post("/larder/add", data=made, follow_redirects=False).headers["location"]).partition("?")[0]
    return href.rpartition("/")[2]


def entries(client: TestClient) -> int:
    return client.get("/entries").text.count('href="/entry/')


def test_a_joint_of_2_3_kg_for_sunday_comes_out_on_friday_morning(client: TestClient) -> None:
    """24 hours for 4 to 5 lb (The Big Thaw, USDA): two days. UK: cooked within 24 hours, never refrozen raw."""
    text = client.get("/meat/thaw", params=JOINT).text
    assert "Out of the freezer on Friday 12\u00a0March, in the morning" in text
    assert "Sunday 14\u00a0March, on the bottom shelf" in text
    assert "Monday 15\u00a0March, kept in the fridge" in text
    assert "70 °C for two minutes" in text
    assert "never" in text


def test_what_lay_in_the_fridge_before_it_was_frozen_has_no_days_left(client: TestClient) -> None:
    text = client.get("/meat/thaw", params={**JOINT, "fridge_days": "3"}).text
    assert "the same day" in text
    answer = client.get("/meat/thaw", params={**JOINT, "fridge_days": "9"})
    assert (answer.status_code, "thrown out" in answer.text) == (422, True)


def test_too_late_for_the_fridge_is_said_with_the_way_out(client: TestClient) -> None:
    text = client.get("/meat/thaw", params={**JOINT, "kg": "6", "day": "2027-03-11"}).text
    assert "That was three\u00a0days ago. Cold water" in text
    assert "the fridge has it thawed by Sunday 14\u00a0March" in text  # four days from the 10th
    assert "Thursday 11\u00a0March, in cold water" in text
    assert "at once" in text  # University of Illinois Extension: thawed in water, it is cooked at once


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"kg": "0"}, "It should be between"),
        ({"kg": "14"}, "up to 11 kg"),
        ({"kg": "lots"}, "A number is wanted"),
        ({"day": "2027-03-01"}, "That day has passed"),
        ({"day": "30 February"}, "is not a date"),
        ({"kind": "unicorn"}, "not one of the answers"),
        ({"kind": ""}, "What is it?"),
        ({"fridge_days": "-2"}, "less than nothing"),
    ],
)
def test_bad_input_gets_a_sentence_and_changes_nothing(client: TestClient, wrong: dict[str, str], says: str) -> None:
    before = entries(client)
    for answer in (
        client.get("/meat/thaw", params={**JOINT, **wrong}),
        client.post("/meat/thaw", data={**JOINT, **wrong}),
    ):
        assert answer.status_code == 422
        assert 'class="error"' in answer.text
        assert says in answer.text
    assert entries(client) == before


def test_a_meal_of_a_batch_is_put_down_once_however_often_it_is_sent(client: TestClient, leg: str) -> None:
    shown = client.get("/meat/thaw", params={"batch": leg})
    assert (shown.status_code, 'value="2.3"' in shown.text) == (200, True)
    sent = {"batch": leg, "kind": "pork joint", "kg": "2.3", "day": "2027-03-14", "id": "c0ffee"}
    places = [client.post("/meat/thaw", data=sent, follow_redirects=False).headers["location"] for _ in range(2)]
    assert places == ["/entry/joint-to-thaw-c0ffee?put=new"] * 2
    text = client.get(places[0]).text
    assert "27-001" in text
    assert "Take the joint from the freezer to the fridge" in text


@pytest.mark.usefixtures("leg")  # a larder with nothing in it has no such field
def test_a_batch_that_is_not_there_is_told_beside_its_field(client: TestClient) -> None:
    answer = client.get("/meat/thaw", params={**JOINT, "batch": "nothing of ours"})
    assert (answer.status_code, "not one of the answers" in answer.text) == (422, True)


def test_a_bird_follows_the_sheet_for_birds(client: TestClient) -> None:
    sent = {"kind": "whole bird", "kg": "5", "day": "2027-03-20", "id": "b1rd"}
    answer = client.post("/meat/thaw", data=sent, follow_redirects=False)
    assert "/entry/bird-to-thaw-b1rd" in answer.headers["location"]
    job = client.get("/job/bird-to-thaw-b1rd.meal").text
    for said in ("campylobacter", "never on the worktop", "70 °C for two minutes"):
        assert said in job


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("pork shoulder steaks", "pork chops"), ("rump steak", ""), ("lamb loin chops", "beef or lamb steaks or chops"),
        ("chops", "pork chops"), ("turkey mince", "bird pieces"), ("hamburgers", ""), ("boiled ham, frozen", ""),
        ("dry-cured ham, raw", "raw cured ham"), ("Mince, offal and sausages", "sausages"),
        ("leg of lamb", "beef or lamb joint"),
    ],
)  # fmt: skip
def test_a_batch_is_the_kind_that_its_name_says_and_none_that_may_wrongly_be_pink(name: str, kind: str) -> None:
    """FSA: beef and lamb, whole, may be pink when seared; pork may not, so a steak of unknown meat is asked about."""
    assert kind_named(name) == kind


def test_packs_are_thawed_without_bones_to_boil_and_one_of_them_is_taken_over(client: TestClient) -> None:
    known = with_batch({"fridge_days": ""}, CHOPS._replace(unit="packs", left=5, pack_kg=0.6), False, 2)
    assert (known["kg"], known["fridge_days"]) == ("0.6", "2")
    text = client.get("/meat/thaw", params={"kind": "mince", "kg": "0.6", "day": "2027-03-14"}).text
    assert "Take the packs from the freezer to the fridge" in text
    assert "Boil the bones" not in text


def test_a_household_elsewhere_is_asked_whose_rules_hold(tmp_path: Path) -> None:
    """USDA: three to five days, and refrozen; until it is said the stricter days stand."""
    app = create_app(settings(tmp_path), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE._replace(nation="elsewhere"), HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost") as abroad:
        assert "Monday 15\u00a0March" in abroad.get("/meat/thaw", params=JOINT).text
        text = abroad.get("/meat/thaw", params={**JOINT, "rule": "us"}).text
    assert "Wednesday 17\u00a0March, kept in the fridge" in text
    assert "it may be, and is the worse for it" in text
    assert "145 °F" in text


def test_a_flat_pack_freezes_within_the_day_and_a_thick_joint_does_not(client: TestClient) -> None:
    thin = client.get("/meat/thaw", params={"thickness_mm": "25", "shape": "flat pack", "freezer": "still air"}).text
    assert "within the day" in thin
    thick = client.get("/meat/thaw", params={"thickness_mm": "100", "shape": "flat pack", "freezer": "still air"}).text
    assert "more than a day" in thick
    assert client.get("/meat/thaw", params={"thickness_mm": "0"}).status_code == 422


def test_how_long_meat_keeps_tells_published_and_common_practice_apart(client: TestClient) -> None:
    """Cold Food Storage Chart: mince 1 to 2 days, 3 to 4 months; FSA: 70 °C for two minutes; 9 CFR 318.10: 20 days."""
    text = client.get("/meat/keeping").text
    published, _, rest = text.partition("Common practice</h2>")
    assert "1 to 2\u00a0days" in published
    assert "home-cured bacon" in rest
    for said in ("70 °C for two minutes", "160 °F", "20\u00a0days", "local food-safety authority"):
        assert said in text
