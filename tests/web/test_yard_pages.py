"""Today and What got done as a browser sends them, well, badly and twice; the made-up yard of `tests/web/yard.py`."""

import re
from collections.abc import Iterator

import pytest
from httpx import Response

from app.records import store
from app.services.book import Book
from tests.web.holding import TestClient, day, plain, rows
from tests.web.yard import yard_client

HTMX = {"hx-request": "true", "hx-current-url": "http://localhost/today"}


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[TestClient, Book]]:
    web, made = yard_client(tmp_path_factory.mktemp("yard"))
    yield web, made
    made.close()


@pytest.fixture(scope="module")
def ticked_yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[TestClient, Book]]:
    """A second yard for the ticks that stay, each test with jobs of its own; the first is left as it was found."""
    web, made = yard_client(tmp_path_factory.mktemp("ticked"))
    yield web, made
    made.close()


def tell(web: TestClient, say: str, on: str = "2027-09-15") -> Response:
    return web.post("/today/weather", data={"day": on, "say": say})


def section(page: str, name: str) -> str:
    """The text of one section of Today, by its id or its heading's."""
    found = re.search(rf'<section class="group[^>]*(?:id="{name}"|labelledby="{name}-h").*?</section>', page, re.DOTALL)
    return found.group(0) if found else ""


def test_the_weather_is_told_in_one_tap_and_the_list_follows_it(yard: tuple[TestClient, Book]) -> None:
    web, _ = yard
    answer = tell(web, "wet yes")
    assert (answer.status_code, answer.headers["location"]) == (303, "/today?told=2027-09-15")
    page = plain(web.get("/today?told=2027-09-15").text)
    assert "Today: wet. Two jobs put off for it." in page
    assert "Coat the wall" in section(page, "not")
    assert "wants a dry day" in section(page, "not")
    under = section(page, "indoors")
    assert under.index("Oil the tools") < under.index("Wash the jars")
    assert 'value="wet no" id="w2027-09-153" aria-pressed="true"' in page
    for _ in range(2):  # said twice is said once
        assert tell(web, "frost yes").status_code == 303
    page = web.get("/today").text
    assert "Put fleece over" in section(page, "frost")
    assert page.index('id="frost-h"') < page.index("Oil the tools")
    assert tell(web, "frost no").status_code == tell(web, "wet no").status_code == 303
    page = plain(web.get("/today?told=2027-09-15").text)
    assert "no weather is told any more" in page
    assert not section(page, "frost")
    assert not section(page, "indoors")
    assert not section(page, "not")


def test_the_two_days_on_have_their_taps_beside_what_comes(yard: tuple[TestClient, Book]) -> None:
    web, _ = yard
    assert tell(web, "showers yes", "2027-09-17").status_code == 303
    page = plain(web.get("/today?told=2027-09-17").text)
    assert "Friday: showers." in page
    assert [name in page for name in ("Tomorrow, Thursday 16", ">Friday 17 September", ">Saturday 18 September")] == [
        True, True, True,
    ]  # fmt: skip
    assert "taps" in section(page, "d2")
    assert "taps" not in section(page, "d3")
    assert tell(web, "showers no", "2027-09-17").status_code == 303


@pytest.mark.parametrize(
    ("say", "on"),
    [
        ("hail yes", "2027-09-15"), ("wet", "2027-09-15"), ("", "2027-09-15"), ("wet yes", ""), ("wet yes", "x"),
        ("wet yes", "2027-09-18"), ("wet yes", "2026-09-15"), ("wet yes", "9999-99-99"),
    ],
)  # fmt: skip
def test_what_is_no_weather_is_said_plainly_and_changes_nothing(
    yard: tuple[TestClient, Book], say: str, on: str
) -> None:
    web, made = yard
    with made.reading() as session:
        before = store.facts_version(session)
    answer = tell(web, say, on)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text
    with made.reading() as session:
        assert store.facts_version(session) == before
    assert web.get("/today?told=nonsense").status_code == web.get("/today?told=2030-01-01").status_code == 200


def test_the_order_is_chosen_once_and_stays(yard: tuple[TestClient, Book]) -> None:
    web, _ = yard
    assert "While" not in web.get("/today").text
    assert ">Long barn</h2>" in web.get("/today").text
    chosen = web.get("/today?by=urgency")
    assert "today_by=urgency" in chosen.headers["set-cookie"]
    page = web.get("/today").text
    assert ">Best done today</h2>" in page
    assert ">Long barn</h2>" not in page
    web.get("/today?by=place")
    assert ">Long barn</h2>" in web.get("/today?by=nonsense").text
    web.cookies.clear()


def test_a_number_is_typed_beside_its_tick_and_a_wrong_one_comes_back_in_its_row(
    yard: tuple[TestClient, Book],
) -> None:
    web, made = yard
    page = web.get("/today").text
    row = _row(page, "yard.pick")
    assert 'name="m.kg"' in row
    assert 'inputmode="decimal"' in row
    assert "Plums" in row
    assert "kg" in row
    both = _row(page, "yard.count")
    assert "Say also: hens and ill" in both
    assert "<label" not in both
    sent = {"key": "yard.pick", "id": "yard.pick~0", "shown": ""}
    wrong = web.post("/tick", data={**sent, "m.kg": "1o"}, headers=HTMX)
    assert (wrong.status_code, wrong.headers["hx-reswap"]) == (422, "none")
    assert 'value="1o"' in wrong.text
    assert "A number is wanted." in wrong.text
    assert 'aria-invalid="true"' in wrong.text
    assert rows(made)["yard.pick"].done is None
    assert web.post("/tick", data={**sent, "m.kg": "1o"}).status_code == 422
    for _ in range(2):
        done = web.post("/tick", data={**sent, "m.kg": "14,2"}, headers=HTMX)
        assert done.status_code == 200
        assert "Take back" in done.text
    with made.reading() as session:
        (said,) = store.told(session, key="yard.pick")
    assert said.tick.measures == {"kg": 14.2}
    page = web.get("/today").text
    assert "Pick the plums" in section(page, "done"), "what is done stays on the page with its way back"
    back = web.post("/undo", data={"key": "yard.pick", "answers": "yard.pick~0", "id": "yard.pick~1"}, headers=HTMX)
    assert 'name="m.kg"' in back.text, "taken back, the row asks again"


def test_a_round_can_be_taken_back_from_the_status_line(yard: tuple[TestClient, Book]) -> None:
    web, _ = yard
    key = "-.morning.20270915"
    done = web.post("/tick", data={"key": key, "id": f"{key}~0"}, headers=HTMX)
    status = done.text[done.text.index('id="status"') :]
    assert "Take back" in status
    assert f'value="{key}~0"' in status
    assert web.post("/undo", data={"key": key, "answers": f"{key}~0", "id": f"{key}~1"}).status_code == 303
    plain_form = web.post("/tick", data={"key": key, "id": f"{key}~2"})
    assert plain_form.status_code == 303
    assert "Take back" in web.get(plain_form.headers["location"]).text
    web.post("/undo", data={"key": key, "answers": f"{key}~2", "id": f"{key}~3"})


# ── The evening ───────────────────────────────────────────────────────────────────────────────────────────────────


def lines(page: str) -> dict[str, dict[str, str]]:
    """The hidden fields of each line of the evening, by the job's key."""
    hidden = dict(re.findall(r'name="((?:key|id|shown)\.\d+)" value="([^"]*)"', page))
    return {
        hidden[name]: {part: hidden[f"{part}.{name[4:]}"] for part in ("key", "id", "shown")} | {"n": name[4:]}
        for name in hidden
        if name.startswith("key.")
    }


def ticked(found: dict[str, dict[str, str]], *keys: str) -> dict[str, str]:
    sent = {f"{part}.{line['n']}": line[part] for line in found.values() for part in ("key", "id", "shown")}
    return sent | {f"did.{found[key]['n']}": "yes" for key in keys}


def test_the_evening_is_one_page_with_one_save(ticked_yard: tuple[TestClient, Book]) -> None:
    web, made = ticked_yard
    page = web.get("/evening").text
    found = lines(page)
    assert page.count('class="did"') >= 6
    n = found["yard.pick"]["n"]
    sent = ticked(found, "yard.tools") | {"on": "2027-09-14", f"m.{n}": "1o"}
    wrong = web.post("/evening/done", data=sent)
    assert wrong.status_code == 422
    assert 'value="1o"' in wrong.text
    assert 'value="2027-09-14"' in wrong.text
    assert re.search(rf'name="did.{found["yard.tools"]["n"]}" value="yes" checked', wrong.text)
    assert rows(made)["yard.tools"].done is None, "all or nothing"
    sent[f"m.{n}"] = "3.5"
    with made.reading() as session:
        person = str(store.people(session)[0].id)
    for _ in range(2):
        answer = web.post("/evening/done", data={**sent, "person": person})
        assert (answer.status_code, answer.headers["location"]) == (303, "/evening?did=2")
    done = rows(made)
    assert done["yard.tools"].done == done["yard.pick"].done == day("2027-09-14")
    assert "Two jobs ticked." in plain(web.get("/evening?did=2").text)
    with made.reading() as session:
        said = [one for key in ("yard.tools", "yard.pick") for one in store.told(session, key=key)]
    assert {one.person for one in said if one.tick.kind == "done" and one.tick.on == day("2027-09-14")} == {int(person)}


@pytest.mark.parametrize(
    "more",
    [{}, {"did": "x"}, {"on": "2028-01-01"}, {"on": "x"}, {"person": "99"}, {"person": "½"}, {"id": "x" * 500}],
)
def test_a_bad_evening_is_sent_back_whole(yard: tuple[TestClient, Book], more: dict[str, str]) -> None:
    web, made = yard
    found = lines(web.get("/evening").text)
    key = next(iter(found))
    sent = ticked(found, *([key] if more and "did" not in more else []))
    if "id" in more:
        sent[f"id.{found[key]['n']}"] = more["id"]
    before = rows(made)
    answer = web.post("/evening/done", data={**sent, **{k: v for k, v in more.items() if k != "id"}})
    assert answer.status_code == 422
    assert 'class="error"' in answer.text
    assert rows(made) == before


def test_numbers_of_the_page_sent_twice_count_once(ticked_yard: tuple[TestClient, Book]) -> None:
    web, made = ticked_yard
    number = number_of(web, "yard.spray")
    page = web.get("/evening?month=2027-09").text
    sent = re.search(r'name="month" value="2027-09"><input type="hidden" name="id" value="([0-9a-f]{32})"', page)
    assert sent is not None
    data = {"numbers": number, "month": "2027-09", "id": sent.group(1)}
    before = rows(made)
    answers = [web.post("/evening", data=data) for _ in range(2)]
    assert {answer.status_code for answer in answers} == {303}
    assert len({answer.headers["location"] for answer in answers}) == 1
    changed = [key for key, row in rows(made).items() if row.done is not None and before[key].done is None]
    assert changed == ["yard.spray"]
    assert "One job ticked." in plain(web.get(answers[0].headers["location"]).text)
    assert web.get("/evening?sent=%00&heard=½").status_code == web.get("/evening?did=½").status_code == 200


def test_the_printed_month_leaves_a_line_for_the_number_that_a_job_asks(yard: tuple[TestClient, Book]) -> None:
    page = yard[0].get("/2027/09?by=entry").text
    pens = {key for key in ("early-beet.thin", "late-beet.sow") if 'class="pen"' in _row(page, key)}
    assert pens == {"early-beet.thin"}, "its weight is asked"


def test_a_weight_written_on_paper_is_typed_back_with_its_number(ticked_yard: tuple[TestClient, Book]) -> None:
    web, made = ticked_yard
    number = number_of(web, "early-beet.thin", "?by=entry")
    for bad in (f"{number}=1.2.3", f"{number}=1,2", f"{number}=99999999999"):
        wrong = web.post("/evening", data={"numbers": bad, "month": "2027-09", "id": "paper"})
        assert wrong.status_code == 422, bad
        assert "Nothing was ticked" in wrong.text
    for _ in range(2):
        sent = {"numbers": f"{number}=14.2", "month": "2027-09", "id": "paper"}
        assert web.post("/evening", data=sent).status_code == 303
    with made.reading() as session:
        assert [one.tick.measures for one in store.told(session, key="early-beet.thin")] == [{"kg": 14.2}]


def test_the_round_s_sheet_has_a_job_of_several_days_on_one_line(yard: tuple[TestClient, Book]) -> None:
    page = yard[0].get("/round?from=2027-09-15&to=2027-09-21").text
    titles = re.findall(r'<a href="/job/[^"]*">([^<]*)</a>', page[page.index("And what can") :])
    assert len(titles) == len(set(titles)) > 0


def number_of(web: TestClient, key: str, by: str = "") -> str:
    """The number of a job on September's sheet, once the sheet has its numbers."""
    web.post("/2027/09/numbers")
    found = re.search(r'<i class="no">(\d+)</i>', _row(web.get(f"/2027/09{by}").text, key))
    assert found is not None
    return found.group(1)


def _row(page: str, key: str) -> str:
    found = re.search(rf'<li class="row[^>]*data-task="{key}".*?</li>', page, re.DOTALL)
    return found.group(0) if found else ""
