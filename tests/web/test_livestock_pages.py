"""The pages of livestock: what is barred first, bad input, forms sent twice, registers that no spreadsheet runs."""

import csv
import io
import re
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import setup
from tests.services.croft import HOUSE, ON, TODAY, WHERE, Ticking, settings

HENS = "/livestock/laying-hens-aaaaaaaaaaaa"
EWES = "/livestock/flock-year-bbbbbbbbbbbb"
PIGS = "/livestock/weaners-cccccccccccc"
DUCKS = "/livestock/laying-ducks-dddddddddddd"
BOTTLE = "b0" * 16


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """Nine hens, eight ewes, two weaners that came two days ago, five ducks, a medicine in the cupboard."""
    app = create_app(settings(tmp_path_factory.mktemp("livestock")), Ticking(), today=ON)
    setup.begin(app.state.book, WHERE, HOUSE, (), TODAY)
    with TestClient(app, base_url="http://localhost", headers={"Origin": "http://localhost"}) as found:
        assert "No animals are put down here." in found.get("/livestock").text
        for letter, sheet, head, on, name in (
            ("a", "laying-hens", "9", "2026-09-01", "Old hens"), ("b", "flock-year", "8", "2026-09-01", "Ewes"),
            ("c", "weaners", "2", "2027-03-08", "Weaners"), ("d", "laying-ducks", "5", "2026-09-01", "Ducks"),
        ):  # fmt: skip
            sent = {"sheet": sheet, "head": head, "on": on, "name": name, "id": letter * 32}
            for _ in range(2):
                answer = found.post("/livestock", data=sent)
                assert answer.status_code == 200
        medicine = {"name": "=Drench", "batch": "7", "meat_days": "10", "eggs_days": "5", "expires": "2027-03-09"}
        for _ in range(2):
            assert found.post("/livestock/medicine", data={**medicine, "id": BOTTLE}).status_code == 200
        yield found


def plain(text: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def test_what_there_is_says_first_what_may_not_be_done(client: TestClient) -> None:
    text = plain(client.get("/livestock").text)
    assert text.count("Old hens") == 1, "sent twice, put down once"
    assert "No pigs may leave but to slaughter until Sunday 28 March, that day included." in text
    assert "No cattle, sheep or goats may leave but to slaughter until Sunday 14 March" in text
    assert "Pigs 6 days 20 days from 29 Mar" in text
    assert "last checked 25 November 2026. Check your local rules." in text
    assert "=Drench : expired on 9 March; use it no more" in text
    assert text.index("Standstill") < text.index("Old hens")


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"sheet": "laying-hens", "on": "2027-02-31"}, "There is no such day as 2027-02-31"),
        ({"sheet": "", "on": "2027-03-01"}, "What are they?"),
        ({"sheet": "leek", "on": "2027-03-01"}, "That is no group of animals"),
        ({"sheet": "laying-hens", "on": "2027-03-01", "head": "0"}, "between 1 and"),
        ({"sheet": "laying-hens", "on": "2027-03-01", "head": "2.5"}, "A whole number is wanted"),
        ({"sheet": "laying-hens", "on": "2027-03-01", "head": "9000"}, "It should be between 1 and 2000"),
        ({"sheet": "ewes-in-lamb", "on": "2027-03-01", "name": "The wether"}, "castrated: it neither serves"),
        ({"sheet": "ewes-in-lamb-bought", "on": "2027-03-01"}, "That one asks more"),
    ],
)
def test_a_group_that_can_not_be_is_a_sentence_beside_its_field(
    client: TestClient, sent: dict[str, str], says: str
) -> None:
    before = plain(client.get("/livestock").text).count("since")
    answer = client.post("/livestock", data={**sent, "place": "kept as typed", "id": "f" * 32})
    assert (answer.status_code, says in answer.text, "kept as typed" in answer.text) == (422, True, True)
    assert plain(client.get("/livestock").text).count("since") == before


def test_a_fox_and_more_deaths_than_there_were(client: TestClient) -> None:
    fox = {"kind": "predator", "number": "2", "on": "2027-03-01", "id": "1" * 32}
    for _ in range(2):
        text = plain(client.post(f"{HENS}/tell", data=fox).text)
    assert "Seven of nine alive." in text
    assert "Taken 2; then 7." in text
    answer = client.post(f"{HENS}/tell", data={**fox, "number": "8", "note": "kept", "id": "2" * 32})
    assert (answer.status_code, "Only 7 were there then; 8 can’t have gone." in answer.text) == (422, True)
    assert 'value="kept"' in answer.text
    for wrong, says in (
        ({"number": "-1"}, "between 0 and"), ({"number": ""}, "How many?"), ({"on": "2027-04-01"}, "not come yet"),
        ({"kind": "flew"}, "not one of the answers"), ({"kind": "moved"}, "No other group of theirs is here"),
    ):  # fmt: skip
        answer = client.post(f"{HENS}/tell", data={**fox, "id": "3" * 32, **wrong})
        assert (answer.status_code, says in answer.text) == (422, True), wrong
    assert "Seven of nine alive." in plain(client.get(HENS).text)
    assert client.post(f"{HENS}/take-back", data={"fact": "nothing"}).status_code == 404


def test_a_vets_figure_below_the_floor_is_refused_with_the_law_and_its_source(client: TestClient) -> None:
    sent = {"name": "Off the label", "eggs_days": "5", "vet_eggs_days": "7", "id": "e" * 32}
    answer = client.post("/livestock/medicine", data=sent)
    assert answer.status_code == 422
    assert "Off the label the law sets at least 8 days for eggs: ask the vet again." in answer.text
    assert "SI 2024/567" in answer.text
    assert "Off the label</a>" not in client.get("/livestock/medicine").text


def test_a_treatment_bars_meat_and_eggs_each_for_its_own_days_and_stands_in_the_book(client: TestClient) -> None:
    first = client.get("/livestock/medicine/treat").text
    assert "Go on" in first
    assert "Withdrawal" not in plain(first), "what is held hangs on whom it is given to"
    ducks = DUCKS.rpartition("/")[2]
    form = plain(client.get(f"/livestock/medicine/treat?medicine={BOTTLE}&group={ducks}").text)
    assert "It had expired on 9 March 2027." in form
    sent = {
        "group": ducks, "medicine": BOTTLE, "first": "2027-03-08", "last": "2027-03-09",
        "whose": "label", "eaten": ["meat", "eggs"], "given": "+1 ml", "by": "=Ana", "id": "4" * 32,
    }  # fmt: skip
    for wrong, says in (
        ({"eaten": ["meat"]}, "Their eggs are eaten here"), ({"eggs_days": "3"}, "The label says 5 days"),
        ({"last": "2027-03-01"}, "before the first"), ({"first": "2027-05-01", "last": ""}, "not come yet"),
        ({"group": "nobody"}, "not one of the answers"), ({"meat_days": "-4"}, "between 0 and"),
        ({"whose": "vet", "meat_days": "14", "eggs_days": "8"}, "at least 15 days for meat"),
    ):  # fmt: skip
        answer = client.post("/livestock/medicine/treat", data={**sent, "id": "5" * 32, **wrong})
        assert (answer.status_code, says in answer.text, "+1 ml" in answer.text) == (422, True, True), wrong
    for _ in range(2):
        text = plain(client.post("/livestock/medicine/treat", data=sent).text)
    assert "They are not killed for food until Friday 19 March, that day included." in text
    assert "Their eggs may be neither eaten nor sold until Sunday 14 March, that day included." in text
    assert "One that suffers may be killed at any time; it is not eaten." in text
    table = csv.reader(io.StringIO(client.get("/livestock/register/medicine.csv").text.lstrip("\ufeff")))
    rows = [row for row in table if row[1] == "Ducks, all"]
    assert rows[0] == [
        "2027-03-09", "Ducks, all", "'=Drench, batch 7", "'+1 ml", "'=Ana", "meat 10 days, eggs 5 days",
        "meat 2027-03-20, eggs or milk 2027-03-15", "the label’s", "",
    ]  # fmt: skip
    assert len(rows) == 2, "two doses, sent twice"
    assert "20 March 2027" in client.get("/livestock/register/medicine").text.replace("\u00a0", " ")
    assert "'=Drench" in client.get("/livestock/register/bought.csv").text


def test_a_treated_pig_that_is_named_is_held_alone_and_a_refused_form_keeps_who_it_was(client: TestClient) -> None:
    client.post(f"{PIGS}/animal", data={"tag": "S 7", "name": "Dot", "id": "a7" * 16})
    sent = {"group": PIGS.rpartition("/")[2], "product": "Jab", "first": "2027-03-09", "one": ["Dot (S 7)"],
            "eaten": ["meat"], "whose": "label", "meat_days": "20"}  # fmt: skip
    refused = client.post("/livestock/medicine/treat", data={**sent, "meat_days": "x", "id": "a8" * 16})
    assert (refused.status_code, 'value="Dot (S 7)" checked' in refused.text) == (422, True)
    text = plain(client.post("/livestock/medicine/treat", data={**sent, "id": "a9" * 16}).text)
    assert "Dot (S 7): not killed for food until Monday 29 March, that day included." in text
    assert "They are not killed for food" not in text
    assert "Dot (S 7) . Not killed for food until Monday 29 March" in plain(client.get("/livestock").text)


def test_what_came_stands_in_the_movement_record_with_its_paper(client: TestClient) -> None:
    client.post(f"{PIGS}/paper", data={"other": "12/345/6789 <b>", "tags": "S1, S2", "paper": "@A7"})
    text = client.get("/livestock/register/movements").text
    assert "12/345/6789 &lt;b&gt;" in text
    assert "S1, S2" in text
    assert "'@A7" in client.get("/livestock/register/movements.csv").text


def test_single_animals_are_added_once_changed_put_on_the_cull_list_served_and_gone(client: TestClient) -> None:
    for ident, name, sex in (("6" * 32, "Ada", "female"), ("7" * 32, "Bram", "castrated")):
        for _ in range(2):
            client.post(f"{EWES}/animal", data={"tag": f"UK {name}", "name": name, "sex": sex, "id": ident})
    text = plain(client.get(EWES).text)
    assert "Two of eight stand here by tag or name." in text
    answer = client.post(f"{EWES}/animal", data={"tag": "uk ada", "born": "2027-02-30", "id": "8" * 32})
    assert (answer.status_code, "There is no such day as 2027-02-30" in answer.text) == (422, True)
    answer = client.post(f"{EWES}/served", data={"animal": "7" * 32, "served_on": "2027-03-01", "id": "9" * 32})
    assert (answer.status_code, "A wether is castrated" in answer.text) == (422, True)
    answer = client.post(f"{EWES}/served", data={"animal": "6" * 32, "served_on": "2027-03-01", "id": "9" * 32})
    assert "/entry/ewes-in-lamb-999999999999" in str(answer.url)
    changed = {"animal": "6" * 32, "tag": "UK Ada", "name": "Ada", "cull": "yes", "note": "broken mouth"}
    assert "on the cull list" in client.post(f"{EWES}/animal", data=changed).text
    for _ in range(2):
        sold = {"animal": "6" * 32, "why": "sold", "on": "2027-03-09", "counted": "yes", "id": "0" * 32}
        text = plain(client.post(f"{EWES}/gone", data=sold).text)
    assert "Seven of eight alive." in text
    assert client.post(f"{HENS}/gone", data={"animal": "6" * 32, "why": "sold"}).status_code == 404


def test_a_table_with_31_february_names_the_row_and_takes_in_the_others(client: TestClient) -> None:
    hoggs = {"sheet": "flock-year", "head": "3", "on": "2026-09-01", "name": "Hoggs", "id": "8a" * 16}
    here = str(client.post("/livestock", data=hoggs).url.path)
    text = "tag,name,group,born\n1,Ida,Hoggs,2027-02-31\n2,=Eva,Hoggs,2026-02-03\n"
    looked = plain(client.post("/livestock/in", data={"text": text}).text)
    assert "line 2 born: &#39;2027-02-31&#39; is no day" in looked
    assert "One animal can be taken in." in looked
    assert "=Eva" not in client.get(here).text, "looked at only"
    for _ in range(2):
        client.post("/livestock/in/take", data={"text": text})
    assert client.get(here).text.count("=Eva (2)</p>") == 1
    for wrong, says in (
        ("", "Choose a file"),
        ("name", "a line for each thing"),
        ("a,b\n1,2", "&#39;tag&#39; is not among"),
    ):
        answer = client.post("/livestock/in", data={"text": wrong})
        assert (answer.status_code, says in answer.text) == (422, True), wrong


@pytest.mark.parametrize("path", ["/livestock/nothing", "/livestock/medicine/bottle/nothing", "/livestock/in/nothing"])
def test_what_is_not_there_is_said(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404
