"""Our own ways: one plain form, told and taken back, and shown where it matters."""

import re
from pathlib import Path

import pytest
from fastapi import FastAPI

from tests.web.holding import app, client, plain, rows

LATER = {
    "sheet": "test-beet", "step": "thin", "what": "later", "amount": "3", "unit": "weeks", "scope": "holding",
    "note": "cold clay",
}  # fmt: skip


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """A holding for what changes nothing."""
    return app(tmp_path_factory.mktemp("ways"))


def test_three_weeks_later_in_one_form(tmp_path: Path) -> None:
    made = app(tmp_path)
    asked = client(made)
    before = rows(made.state.book)["early-beet.thin"].best or 0
    form = asked.get("/garden/ways?sheet=test-beet&step=thin&entry=early-beet")
    assert form.status_code == 200
    assert "Beet: what goes differently here?" in form.text
    assert 'value="early-beet" checked' in form.text, "the entry one came from is filled in"
    sent = asked.post("/garden/ways", data=LATER)
    assert sent.status_code == 303
    page = plain(asked.get(sent.headers["location"]).text)
    assert "Four jobs of two entries are dated anew." in page
    assert "Thin the beet: 3 weeks later here (cold clay)" in page
    assert rows(made.state.book)["early-beet.thin"].best == before + 21
    job = plain(asked.get("/job/early-beet.thin").text)
    assert "your own way" in job
    assert "3 weeks later here (cold clay)" in job
    assert "3 weeks later here (cold clay)" in plain(asked.get("/entry/early-beet").text)
    sheet = plain(asked.get("/sheet/test-beet").text)
    assert "Changed for this holding." in sheet or "Your own sheet." in sheet
    assert sheet.count("3 weeks later here (cold clay)") == 1

    undo = re.search(r"/garden/ways/\d+/strike", page)
    assert undo
    struck = asked.post(undo.group())
    assert rows(made.state.book)["early-beet.thin"].best == before
    page = asked.get(struck.headers["location"]).text
    assert "goes as the sheet says again" in page
    back = re.search(r"/garden/ways/\d+/back", page)
    assert back
    asked.post(back.group())
    assert rows(made.state.book)["early-beet.thin"].best == before + 21


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"amount": "many"}, "A number is wanted"),
        ({"amount": "-3"}, "It should be between 0"),
        ({"amount": ""}, "How much is it?"),
        ({"amount": "0"}, "Whole days are wanted"),
        ({"what": ""}, "Choose what goes differently."),
        ({"what": "other"}, "not one of the answers"),
        ({"scope": "variety"}, "Which variety is it?"),
        ({"scope": "entry", "entry": "nobody"}, "Choose which of them it is."),
        ({"step": "sow"}, "entry’s own date"),
        ({"what": "takes", "amount": "1e9"}, "A number is wanted"),
        ({"what": "yields", "amount": "0"}, "more than 0"),
        ({"what": "keeps"}, "Nothing that keeps"),
        ({"note": "x" * 300}, "200 fit"),
        ({"sheet": "test-pen", "step": "report"}, "window of the law"),
        ({"sheet": "test-pen", "step": "vet"}, "agreed with somebody outside"),
    ],
)
def test_what_cannot_be_is_said_and_what_was_typed_is_kept(
    shared: FastAPI, change: dict[str, str], sentence: str
) -> None:
    made = shared
    before = rows(made.state.book)
    sent = client(made).post("/garden/ways", data=LATER | change)
    assert sent.status_code == 422
    assert sentence in plain(sent.text)
    if "note" not in change:
        assert 'value="cold clay"' in sent.text
    assert rows(made.state.book) == before


def test_unknown_ones_are_no_pages(shared: FastAPI) -> None:
    asked = client(shared)
    assert asked.get("/garden/ways?sheet=nonsense").status_code == 404
    assert asked.post("/garden/ways", data=LATER | {"sheet": "nonsense"}).status_code == 404
    assert asked.post("/garden/ways/77/strike").status_code == 404
    assert asked.get("/garden/ways?told=x&jobs=y").status_code == 200
    assert asked.get("/garden/ways?told=1&jobs=x&entries=").status_code == 200


def test_the_job_and_the_entry_lead_there(shared: FastAPI) -> None:
    asked = client(shared)
    for page in ("/job/early-beet.thin", "/entry/early-beet", "/sheet/test-beet"):
        text = asked.get(page).text
        href = re.search(r'href="(/garden/ways\?[^"]+)"', text)
        assert href, page
        assert asked.get(href.group(1).replace("&amp;", "&")).status_code == 200
