"""The table as a page: every line told in words too, in the household's units."""

import re
from collections.abc import Iterator

import pytest
from fastapi import FastAPI

from app.records import store
from app.services import ticking
from app.services.book import Book
from app.services.ticking import Words
from tests.web.holding import TODAY, app, client, day, entry, plain


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    found = app(tmp_path_factory.mktemp("table"), (entry("beet", "beetroot", "2027-04-20"),))
    book = found.state.book
    ticking.tick(book, "beet.sow", TODAY, on=day("2027-04-20"))
    ticking.tick(book, "beet.pull.1", TODAY, on=day("2027-07-12"), words=Words({"kg": 4.5359237}))
    return found


def test_every_line_is_told_in_words(made: FastAPI) -> None:
    text = plain(client(made).get("/garden/table").text)
    rows = re.findall(r'<h3><a href="/entry/beet">Beetroot</a></h3>.*?<p class="told">(.*?)</p>', text, re.S)
    assert len(rows) == 1
    assert re.search(r"stands (until|all)", rows[0])
    assert "Hungry gap" in text
    assert "What was weighed in 2027" in text
    assert "12 July: 4.5 kg" in text


@pytest.fixture
def pounds(made: FastAPI) -> Iterator[FastAPI]:
    """The same household weighing in pounds, and in kilos again after."""
    reads(made.state.book, "imperial")
    yield made
    reads(made.state.book, "metric")


def reads(book: Book, units: str) -> None:
    with book.writing() as session:
        row = book.holding(session)
        store.put_holding(session, store.HoldingRow(**{**row.model_dump(), "units": units}))
        book.replan(session, None, TODAY)


def test_pounds_where_the_household_weighs_in_them(pounds: FastAPI) -> None:
    """4.5359237 kg are 10 lb by definition (International yard and pound agreement, 1959)."""
    text = plain(client(pounds).get("/garden/table").text)
    assert re.search(r"12 July: (9\.9|10) lb", text)
    assert " kg" not in text.partition("<main")[2].partition("</main>")[0]


def test_nothing_put_down_says_so(tmp_path_factory: pytest.TempPathFactory) -> None:
    text = client(app(tmp_path_factory.mktemp("bare"), ())).get("/garden/table").text
    assert "Nothing for the kitchen is put down yet." in text
    assert "Nothing has been weighed yet." in text
