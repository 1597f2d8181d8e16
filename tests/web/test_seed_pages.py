"""The seed tin as a browser meets it: seed put in, taken, counted, tried, labelled; what was typed is never lost."""

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from urllib.parse import quote

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services import entries
from app.services.book import Book
from app.services.larder.lots import lots
from app.services.ticking import Words, tick
from tests.services.croft import ON, TODAY, day, draft, settings
from tests.web.holding import Clock
from tests.web.test_house_pages import HERE, PLACE, TABLE, error, field, text

SEED = {"what": "parsnip seed", "variety": "Invented Long", "made_on": "2025-09-15", "amount": "40", "unit": "g",
        "keeps_until": "2027-03-15", "place": "seed tin", "note": "from Ana", "id": "a" * 32}  # fmt: skip
JAR = f"/garden/seed/{'a' * 32}"


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """One holding for all of these: seed in its tin, and a row of parsnips for seed."""
    app = create_app(settings(tmp_path_factory.mktemp("tin")), Clock(), today=ON)
    with TestClient(app, base_url=HERE, follow_redirects=False, headers={"origin": HERE}) as made:
        made.post("/start/3", data={**PLACE, **TABLE})
        answer = made.post("/garden/seed", data=SEED)
        assert (answer.status_code, answer.headers["location"]) == (303, f"{JAR}?put=lot")
        yield made


def book(client: TestClient) -> Book:
    found: Book = client.app.state.book  # type: ignore[attr-defined]
    return found


def left(client: TestClient, ident: str) -> float | None:
    with book(client).reading() as session:
        return next(one.left for one in lots(book(client), session, TODAY) if one.id == ident)


def tinned(client: TestClient, name: str) -> str:
    """A row whose seed is in the tin since 20 September 2026; gives its entry."""
    entry = entries.put_down(book(client), draft("parsnip-seed", "2025-04-10", name=name), TODAY)
    tick(book(client), f"{entry}.tin", TODAY, on=day("2026-09-20"), words=Words({"g": 12.0}))
    return entry


def test_the_tin_says_age_life_and_count(client: TestClient) -> None:
    said = text(client.get("/garden/seed"))
    assert "Invented Long" in said
    assert "18 months old; sow by 15 March: five days left" in said
    assert "40 g, some 17 200 seeds" in said


def test_put_in_twice_it_is_there_once(client: TestClient) -> None:
    client.post("/garden/seed", data=SEED)
    with book(client).reading() as session:
        assert [one.id for one in lots(book(client), session, TODAY)].count("a" * 32) == 1


@pytest.mark.parametrize(
    ("name", "value", "says"),
    [
        ("amount", "-3", "less than nothing"),
        ("amount", "", "How much is there of it?"),
        ("amount", "some", "A number is wanted"),
        ("made_on", "2027-03-11", "not come yet"),
        ("made_on", "", "When was it harvested?"),
        ("keeps_until", "2024-01-01", "before it was harvested"),
    ],
)
def test_what_can_not_be_is_said_and_nothing_is_lost(client: TestClient, name: str, value: str, says: str) -> None:
    answer = client.post("/garden/seed", data={**SEED, "id": "b" * 32, name: value})
    assert answer.status_code == 422
    assert says in error(answer, name)
    assert field(answer, "variety") == "Invented Long"
    assert field(answer, name) == value
    with book(client).reading() as session:
        assert all(one.id != "b" * 32 for one in lots(book(client), session, TODAY))


def test_seed_is_used_and_counted_again(client: TestClient) -> None:
    ident = "e" * 32
    client.post("/garden/seed", data={**SEED, "variety": "Invented Short", "amount": "50", "id": ident})
    jar = f"/garden/seed/{ident}"
    answer = client.post(f"{jar}/take", data={"kind": "given", "amount": "4", "on": "2027-03-01", "note": "to Ana"})
    assert answer.headers["location"] == f"{jar}?put=take"
    assert left(client, ident) == 46
    answer = client.post(f"{jar}/count", data={"amount": "30", "on": "2027-03-02"})
    assert answer.headers["location"] == f"{jar}?put=right"
    said = text(client.get(answer.headers["location"]))
    assert "The count is put right" in said
    assert "Counted: 30 g, where the book had 46 g. Count put right." in said
    assert client.post(f"{jar}/take", data={"kind": "used", "amount": "99"}).headers["location"] == f"{jar}?put=short"


@pytest.mark.parametrize(
    ("form", "data", "name", "says"),
    [
        ("take", {"kind": "used", "amount": "-2"}, "amount", "less than nothing"),
        ("take", {"kind": "used", "amount": "2", "on": "2027-03-11"}, "on", "not come yet"),
        ("take", {"kind": "used", "amount": "2", "on": "2025-09-14"}, "on", "before it was made"),
        ("count", {"amount": ""}, "amount", "How much was it?"),
        ("test", {"tried": "20", "up": "26"}, "up", "26 can’t have come up of 20"),
        ("test", {"tried": "20", "up": ""}, "up", "wanted"),
        ("test", {"tried": "0", "up": "0"}, "tried", "It should be"),
    ],
)
def test_what_is_said_of_a_jar_is_refused_in_a_sentence(
    client: TestClient, form: str, data: dict[str, str], name: str, says: str
) -> None:
    before = text(client.get(JAR))
    answer = client.post(f"{JAR}/{form}", data=data)
    assert answer.status_code == 422
    found = re.search(rf'id="[\w-]*{name}-e">(.*?)</p>', answer.text)
    assert found, "it stands beside its field"
    assert says in unescape(found[1])
    assert all(value == "" or f'value="{value}"' in answer.text for value in data.values())
    assert text(client.get(JAR)) == before


@pytest.mark.published
def test_a_test_is_shown_with_what_so_few_can_tell(client: TestClient) -> None:
    """Wilson: 16 of 20 may be 58 to 92 in a hundred."""
    client.post(f"{JAR}/test", data={"tried": "20", "up": "16", "on": "2027-03-05", "id": "c" * 32})
    said = text(client.get("/garden/seed"))
    assert "16 of 20 came up, 5 March: of so few, it may be 58 to 92 in a hundred." in said
    client.post(f"{JAR}/back", data={"fact": "c" * 32})
    assert "16 of 20" not in text(client.get("/garden/seed"))


def test_a_label_says_what_a_jar_must(client: TestClient) -> None:
    said = text(client.get(f"{JAR}/label?copies=3"))
    for part in ("Parsnip", "Invented Long", "harvested 15 September 2025", "from Ana", "sow by 15 March 2027"):
        assert said.count(part) >= 3
    assert client.get(f"{JAR}/label?copies=0").status_code == 422
    assert "Invented Long" in text(client.get("/garden/seed/labels"))


def test_a_ticked_tin_leads_to_its_label(client: TestClient) -> None:
    other = entries.put_down(book(client), draft("parsnip-seed", "2025-04-10", name="Another row"), TODAY)
    assert "A label for the jar" not in client.get(f"/job/{other}.tin").text
    entry = tinned(client, "Old row")
    assert "A label for the jar: parsnip seed" in text(client.get(f"/job/{entry}.tin"))
    label = client.get(f"/garden/seed/{quote(f'{entry}.tin#0', safe='')}/label")
    assert "harvested 20 September 2026" in text(label)


def test_an_f1_kind_is_warned_of_and_taken(client: TestClient) -> None:
    data = {**SEED, "what": "tomato seed", "variety": "Invented Red", "f1": "yes", "id": "d" * 32, "keeps_until": ""}
    assert client.post("/garden/seed", data=data).status_code == 303
    assert "An F1 kind: what it gives comes up mixed" in text(client.get(f"/garden/seed/{'d' * 32}"))
    assert client.post(f"/garden/seed/{'d' * 32}/strike").headers["location"] == "/garden/seed?put=struck"
    assert client.get(f"/garden/seed/{'d' * 32}").status_code == 404


@pytest.mark.published
def test_the_tin_itself_is_asked_once(client: TestClient) -> None:
    """Harrington: 68 °F and 50 % are 118, above the hundred."""
    assert client.post("/garden/seed/tin", data={"c": "20", "rh_percent": "130"}).status_code == 422
    assert client.post("/garden/seed/tin", data={"c": "20", "rh_percent": "50"}).status_code == 303
    assert "68 °F and 50 % make 118, above the hundred" in text(client.get("/garden/seed"))


def test_what_flowers_next_door_is_put_down_and_taken_off(client: TestClient) -> None:
    entries.put_down(book(client), draft("parsnip-seed", "2026-04-10", name="Our row"), TODAY)
    wild = {"species": "other", "other": "Pastinaca sativa", "what": "wild ones", "distance_m": "120"}
    assert client.post("/garden/seed/crossing", data={**wild, "other": "parsnip"}).status_code == 422
    refused = client.post("/garden/seed/crossing", data={**wild, "first": "2027-08-01", "last": "2027-07-01"})
    assert "It ends before it begins." in refused.text
    assert client.post("/garden/seed/crossing", data=wild).status_code == 303
    page = client.get("/garden/seed/crossing")
    assert "Crosses with wild ones, 120 m off" in text(page)
    gone = page.text.partition("/garden/seed/crossing/")[2].partition("/")[0]
    assert client.post(f"/garden/seed/crossing/{gone}/gone").status_code == 303
    assert "wild ones" not in text(client.get("/garden/seed/crossing"))


def test_old_seed_is_said_where_a_sowing_is_put_down_and_does_not_stop_it(client: TestClient) -> None:
    data = {"date": "2028-04-10", "name": "Late row", "place": "", "row_m": "9"}
    tinned(client, "The row before")
    entries.put_down(book(client), draft("parsnip-seed", "2028-04-10", name="Late row"), TODAY)
    answer = client.post("/add/parsnip-seed", data=data)
    assert answer.status_code == 200
    assert "The newest parsnip seed in the tin, of 20 September 2026, was to be sown by" in text(answer)
    assert "Late row: the newest parsnip seed" in text(client.get("/garden/seed"))


def test_more_up_than_tried_is_refused_where_the_job_is_ticked(client: TestClient) -> None:
    entry = entries.put_down(book(client), draft("beetroot", "2025-05-20", name="Beet", seed=True), TODAY)
    answer = client.post("/tick", data={"key": f"{entry}.test", "on": "2027-03-01", "m.tried": "20", "m.up": "26"})
    assert answer.status_code == 422
    assert "26 can’t have come up of 20" in unescape(answer.text)


@pytest.mark.parametrize("address", ["/garden/seed/nothing", "/garden/seed/nothing/label", "/garden/seed/x.tin%230"])
def test_there_is_no_such_jar(client: TestClient, address: str) -> None:
    assert client.get(address).status_code == 404


def test_before_the_first_run_the_tin_leads_to_it(tmp_path: Path) -> None:
    app = create_app(settings(tmp_path), Clock(), today=ON)
    with TestClient(app, base_url=HERE, follow_redirects=False, headers={"origin": HERE}) as fresh:
        assert fresh.get("/garden/seed").headers["location"] == "/start"
        assert fresh.post("/garden/seed", data=SEED).headers["location"] == "/start"
