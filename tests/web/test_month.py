"""The month page as it is answered: what it shows, how it folds and filters, and that it is never stale."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.web.holding import TODAY, TestClient, app, client, entry, plain


@pytest.fixture
def web(tmp_path: Path) -> Iterator[TestClient]:
    made = app(tmp_path)
    yield client(made)
    made.state.book.close()


def keys(page: str) -> list[str]:
    return re.findall(r'data-task="([^"]+)"', page)


def test_home_leads_to_the_month_of_today(web: TestClient) -> None:
    assert web.get("/").headers["location"] == "/2027/09"


def test_a_new_household_is_led_to_the_first_run(tmp_path: Path) -> None:
    made = app(tmp_path, None)
    for path in ("/", "/2027/09", "/today", "/evening", "/job/x.y"):
        answer = client(made).get(path)
        assert (answer.status_code, answer.headers.get("location")) == (303, "/start"), path
    made.state.book.close()


def test_a_month_shows_its_jobs_under_their_headings(web: TestClient) -> None:
    page = web.get("/2027/09").text
    assert set(keys(page)) == {
        "early-beet.sow", "early-beet.thin", "late-beet.sow", "two-pigs.report", "two-pigs.vet", "two-pigs.worm",
    } - {"early-beet.sow"}  # fmt: skip
    assert page.index("Can’t wait") < page.index("two-pigs.worm") < page.index("Time for it now")
    assert "last day" in page  # worming, by the 15th
    assert "carried from August" in page


@pytest.mark.parametrize("query", ["by=entry", "by=place", "by=none", "trade=garden", "as=grid", "trade=meat"])
def test_every_view_is_there(web: TestClient, query: str) -> None:
    assert web.get(f"/2027/09?{query}").status_code == 200


@pytest.mark.parametrize(
    "path",
    ["/2027/13", "/2027/00", "/0000/01", "/9999/12", f"/{10**20}/01", "/2027/09?by=colour", "/2027/09?trade=x"],
)
def test_what_there_is_not_answers_404_in_a_sentence(web: TestClient, path: str) -> None:
    answer = web.get(path)
    assert answer.status_code == 404
    assert "There is no such page" in answer.text


def test_a_trade_shows_only_its_own(web: TestClient) -> None:
    found = keys(web.get("/2027/09?trade=livestock").text)
    assert found
    assert all(key.startswith("two-pigs") for key in found)


def test_jobs_of_one_step_fold_into_one_line(tmp_path: Path) -> None:
    made = app(tmp_path, [entry(f"bed-{n}", "test-beet", f"2027-09-{n + 10}") for n in range(4)])
    page = client(made).get("/2027/09").text
    assert page.count('class="folded') == 1
    assert "four jobs" in plain(page)
    assert len(keys(page)) == 4
    assert 'class="folded' not in client(made).get("/2027/09?by=none").text
    made.state.book.close()


def test_printed_numbers_stand_in_order_and_stay(web: TestClient) -> None:
    assert _numbers(web.get("/2027/09").text) == []  # to look at a month changes nothing
    assert web.post("/2027/09/numbers").headers["location"] == "/2027/09"
    first = dict(_numbers(web.get("/2027/09").text))
    assert list(first.values()) == [str(n + 1) for n in range(len(first))]
    key = next(iter(first))
    web.post("/tick", data={"key": key})
    web.post("/2027/09/numbers")
    after = dict(_numbers(web.get("/2027/09").text))
    assert key not in after
    assert all(after[name] == first[name] for name in after.keys() & first.keys())
    fresh = [int(after[name]) for name in after.keys() - first.keys()]
    assert all(number > len(first) for number in fresh)  # a number is never given again


def _numbers(page: str) -> list[tuple[str, str]]:
    return re.findall(r'data-task="([^"]+)"(?:(?!data-task).)*?<i class="no">(\d+)</i>', page, re.DOTALL)


def test_a_page_looked_at_again_is_the_same_and_after_a_tick_it_is_new(web: TestClient) -> None:
    web.get("/2027/09")
    before = web.get("/2027/09").text
    assert web.get("/2027/09").text == before
    web.post("/tick", data={"key": "late-beet.sow"})
    after = web.get("/2027/09").text
    assert "done on the 15th" in after
    assert "done on the 15th" not in before


def test_a_month_beyond_the_projection_is_planned_on_demand(tmp_path: Path) -> None:
    made = app(tmp_path, [entry("far-beet", "test-beet", "2046-05-03")])
    assert keys(client(made).get("/2046/05").text) == ["far-beet.sow", "far-beet.thin"]
    with made.state.book.reading() as session:
        live = made.state.book.live(session, TODAY)
    assert all((task.opens or 0) <= live.last for laid in live.laid.values() for task in laid.tasks)
    made.state.book.close()


def test_the_grid_puts_jobs_on_their_best_day(web: TestClient) -> None:
    page = web.get("/2027/09?as=grid").text
    assert "Thin the beet" in page
    assert "week 37" in page  # 13 to 19 September 2027 is ISO week 37
