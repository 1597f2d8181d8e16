"""A household that weighs in pounds: asked and told in its units, kept metric to the last digit."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from app.main import create_app
from app.services.book import Book
from tests.services.croft import ON, TODAY, Clock, settings
from tests.web.test_house_pages import HERE, PLACE, TABLE, error, field, seen, text


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path), Clock(), today=ON)
    with TestClient(app, base_url=HERE, follow_redirects=False, headers={"origin": HERE}) as client:
        client.post("/start/3", data={**PLACE, **TABLE, "units": "imperial", "have": ["gutters"]})
        yield client


def facts(client: TestClient, entry: str) -> dict[str, object]:
    book: Book = client.app.state.book  # type: ignore[attr-defined]
    with book.reading() as session:
        return dict(book.planned(session, TODAY).laid[entry].entry.facts)


@pytest.mark.published
def test_a_weight_is_asked_in_pounds_and_kept_in_kilograms(client: TestClient) -> None:
    # 1 lb = 0.453 592 37 kg exactly (international pound, 1959): 10 lb = 4.535 923 7 kg; 20 lb = 9.071 847 4 kg.
    shown = client.post("/add/meat-box", data={"date": "2027-03-20", "kg": "20"})
    form = {"date": "2027-03-20", "kg": "20", "seen": seen(shown), "confirm": "yes"}
    assert client.post("/add/meat-box", data=form).status_code == 303
    assert facts(client, "meat-box")["kg"] == pytest.approx(9.0718474, abs=1e-9)
    assert "20 lb" in text(client.get("/entry/meat-box")).replace("\u00a0", " ")
    assert field(client.get("/entry/meat-box/change"), "kg") == "20"


@pytest.mark.published
def test_kilograms_written_out_are_understood_too(client: TestClient) -> None:
    shown = client.post("/add/meat-box", data={"date": "2027-03-20", "kg": "9 kg"})
    client.post("/add/meat-box", data={"date": "2027-03-20", "kg": "9 kg", "seen": seen(shown), "confirm": "yes"})
    assert facts(client, "meat-box")["kg"] == 9.0


def test_a_limit_is_told_in_the_same_unit(client: TestClient) -> None:
    answer = client.post("/add/meat-box", data={"date": "2027-03-20", "kg": "0.2"})
    assert answer.status_code == 422
    # 0.5 kg = 1.10 lb, 500 kg = 1102.3 lb
    assert error(answer, "kg").replace("\u202f", " ") == "It should be between 1.1 and 1 102.3 lb."


def test_what_was_not_touched_stays_to_the_last_digit(client: TestClient) -> None:
    # 30 m is shown as 98.43 ft, which read back would be 30.001 m.
    before = facts(client, "gutters")
    page = client.get("/entry/gutters/change")
    assert field(page, "run_m") == "98.43"
    form = {"date": field(page, "date"), "run_m": "98.43", "name": "Byre gutters"}
    shown = client.post("/entry/gutters/change", data=form)
    assert client.post(
        "/entry/gutters/change", data={**form, "seen": seen(shown), "confirm": "yes"}
    ).status_code == 303  # fmt: skip
    assert facts(client, "gutters") == before
    assert before["run_m"] == 30
