"""Ticking as a browser does it: plain forms and by script; twice, late, wrongly; and what is said back."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.web.holding import TestClient, app, client, plain

SCRIPT = {"hx-request": "true", "hx-current-url": "http://localhost/2027/09"}


@pytest.fixture
def web(tmp_path: Path) -> Iterator[TestClient]:
    made = app(tmp_path)
    yield client(made)
    made.state.book.close()


def row(page: str, key: str) -> dict[str, str]:
    """The hidden fields of a job's row."""
    form = page.partition(f'data-task="{key}"')[2].partition("</form>")[0]
    return dict(re.findall(r'name="([^"]+)" value="([^"]*)"', form))


def test_a_plain_form_goes_back_to_its_page_and_tells(web: TestClient) -> None:
    fields = row(web.get("/2027/09?by=none").text, "late-beet.sow")
    assert fields["shown"] == "2027-09-06/2027-09-13/2027-09-27"
    answer = web.post("/tick", data=fields, headers={"referer": "http://localhost/2027/09?by=none"})
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/2027/09?by=none&said=")
    page = web.get(answer.headers["location"]).text
    assert "Done: Sow the beet: Late beet." in page
    undo = row(page, "late-beet.sow")
    assert web.post("/undo", data=undo).status_code == 303
    assert row(web.get("/2027/09").text, "late-beet.sow").get("shown") == "2027-09-06/2027-09-13/2027-09-27"


def test_by_script_comes_the_row_the_head_and_the_status(web: TestClient) -> None:
    fields = row(web.get("/2027/09").text, "late-beet.sow")
    answer = web.post("/tick", data=fields, headers=SCRIPT)
    assert answer.status_code == 200
    assert 'data-task="late-beet.sow"' in answer.text
    assert 'id="summary"' in answer.text
    assert "done on the 15th" in answer.text
    assert len(answer.content) < 4096
    again = web.post("/tick", data=fields, headers=SCRIPT)
    assert again.status_code == 200
    assert "done on the 15th" in again.text


def test_a_refusal_by_script_leaves_the_row(web: TestClient) -> None:
    answer = web.post("/tick", data={"key": "nobody.sow"}, headers=SCRIPT)
    assert answer.status_code == 404
    assert answer.headers["hx-reswap"] == "none"
    assert 'role="alert"' in answer.text


def test_the_round_is_ticked_and_taken_back(web: TestClient) -> None:
    page = web.get("/today").text
    fields = row(page, "-.morning.20270915")
    done = web.post("/tick", data=fields, headers=SCRIPT)
    assert "Take back: Morning round" in done.text
    back = web.post("/undo", data=row(done.text, "-.morning.20270915"), headers=SCRIPT)
    assert "Done: Morning round" in back.text


def test_measures_come_with_the_tick_and_a_fault_keeps_what_was_typed(web: TestClient) -> None:
    wrong = web.post("/tick", data={"key": "early-beet.thin", "on": "2027-09-14", "m.kg": "-3", "remark": "slugs"})
    assert wrong.status_code == 422
    assert "That is less than nothing." in wrong.text
    assert "slugs" in wrong.text
    assert 'value="-3"' in wrong.text
    right = web.post("/tick", data={"key": "early-beet.thin", "on": "2027-09-14", "m.kg": "2,5", "remark": "slugs"})
    assert right.status_code == 303
    page = web.get("/job/early-beet.thin").text
    assert "weight 2.5" in plain(page)
    assert "slugs" in page


def test_why_is_on_the_job_s_page(web: TestClient) -> None:
    page = web.get("/job/early-beet.thin").text
    assert "Why these days" in page
    assert "13 September" in plain(page)  # four weeks after 16 August
    assert "Lift the beet" in page  # what follows
    assert "small roots" in page


def test_a_move_outside_the_window_asks_first(web: TestClient) -> None:
    asked = web.post("/move", data={"key": "early-beet.thin", "on": "2027-10-20"})
    assert asked.status_code == 409
    assert "small roots" in asked.text
    risked = re.search(r'name="risked" value="(\d+)"', asked.text)
    assert risked is not None
    other = {"key": "early-beet.thin", "on": "2027-10-21", "confirm": "yes", "risked": risked[1]}
    assert web.post("/move", data=other).status_code == 409  # another day than the one whose risk was read
    sure = other | {"on": "2027-10-20"}
    assert web.post("/move", data=sure).status_code == 303


@pytest.mark.parametrize(
    ("path", "data", "code"),
    [
        ("/move", {"key": "two-pigs.report", "on": "2027-09-30", "confirm": "yes"}, 409),
        ("/move", {"key": "two-pigs.vet", "on": "2027-09-30"}, 409),
        ("/move", {"key": "late-beet.sow", "on": "2027-09-01"}, 422),
        ("/move", {"key": "late-beet.sow", "on": ""}, 422),
        ("/move", {"key": "late-beet.sow", "on": "2027-02-30"}, 422),
        ("/move", {"key": "gone.sow", "on": "2027-09-30"}, 404),
        ("/tick", {"key": "late-beet.sow", "on": "2027-09-16"}, 422),
        ("/tick", {"key": "late-beet.sow", "on": "9999-99-99"}, 422),
        ("/tick", {"key": "late-beet.sow", "person": "7"}, 422),
        ("/tick", {"key": "late-beet.sow", "person": "½"}, 422),
        ("/tick", {"key": "late-beet.sow", "id": "x" * 1000}, 422),
        ("/tick", {"key": "late-beet.sow", "remark": "x" * 9000}, 422),
        ("/tick", {"key": "\x00"}, 404),
        ("/tick", {}, 404),
        ("/tick", {"key": "-.morning.20270916"}, 409),
        ("/tick", {"key": "-.morning.x"}, 404),
        ("/undo", {"key": "late-beet.sow", "answers": "never"}, 404),
        ("/undo", {}, 404),
        ("/letgo", {"key": "nobody.sow"}, 404),
        ("/letgo", {"key": "late-beet.sow", "reason": "x" * 999}, 422),
        ("/evening", {"numbers": "one two"}, 422),
        ("/evening", {"numbers": ""}, 422),
        ("/evening", {"numbers": "1 999"}, 422),
        ("/evening", {"numbers": "1", "month": "2027-13"}, 404),
        ("/evening", {"numbers": "1", "month": "yesterday"}, 404),
        ("/evening", {"numbers": "1", "on": "2028-01-01"}, 422),
        ("/healthz", {}, 405),
        ("/2027/09", {}, 405),
    ],
)
def test_bad_input_is_answered_by_its_class_and_changes_nothing(
    web: TestClient, path: str, data: dict[str, str], code: int
) -> None:
    answer = web.post(path, data=data)
    assert answer.status_code == code, answer.text
    assert "</html>" in answer.text


@pytest.mark.parametrize("path", ["/tick", "/undo", "/move", "/letgo", "/evening"])
@pytest.mark.parametrize(
    ("body", "kind"),
    [
        (b"\xff\xfe%%%=%zz&key=%ED%A0%80", "application/x-www-form-urlencoded"),
        (b"not a form", "multipart/form-data; boundary=x"),
        (b"--x\r\nbroken", "multipart/form-data; boundary=x"),
        (b"--x\r\n", "multipart/form-data"),
        (b'{"key": "late-beet.sow"}', "application/json"),
        (b"", "text/plain"),
    ],
)
def test_no_body_brings_it_down(web: TestClient, path: str, body: bytes, kind: str) -> None:
    answer = web.post(path, content=body, headers={"content-type": kind})
    assert answer.status_code in (400, 404, 409, 422)


def test_the_evening_lists_what_is_likely_and_hears_numbers(web: TestClient) -> None:
    web.post("/2027/09/numbers")
    page = web.get("/2027/09").text
    numbers = dict(re.findall(r'data-task="([^"]+)"(?:(?!data-task).)*?<i class="no">(\d+)</i>', page, re.DOTALL))
    assert "Thin the beet" in web.get("/evening").text
    answer = web.post("/evening", data={"numbers": numbers["early-beet.thin"], "month": "2027-09"})
    assert answer.status_code == 200
    assert "One job ticked." in plain(answer.text)
    assert "done on the 15th" in web.get("/2027/09").text


def test_the_round_s_sheet_tells_what_to_do_and_what_not_to_sell(web: TestClient) -> None:
    page = web.get("/round?from=2027-09-20&to=2027-09-26").text
    assert "Feed the pigs" in page
    assert "20–26 September" in plain(page)
    assert web.get("/round?from=2027-09-20&to=2027-09-01").status_code == 422
    assert web.get("/round?from=x").status_code == 422


@pytest.mark.parametrize("header", ["referer", "hx-current-url"])
@pytest.mark.parametrize("address", ["http://[::1", "http://[", "//", "\\\\x", "http://localhost:x/2027/09"])
def test_an_address_that_is_none_stands_in_nobodys_way(web: TestClient, header: str, address: str) -> None:
    headers = {header: address, **({"hx-request": "true"} if header != "referer" else {})}
    answer = web.post("/tick", data={"key": "late-beet.sow", "id": "a"}, headers=headers)
    assert answer.status_code in (200, 303)
    assert "done on the 15th" in web.get("/2027/09").text
