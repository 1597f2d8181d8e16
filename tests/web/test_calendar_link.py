"""The calendar over HTTP: RFC 9110 (conditional requests), RFC 9111 (caching), and a secret that is a key."""

import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import ics
import pytest
from fastapi.testclient import TestClient
from httpx import Response

from app.main import create_app
from tests.services.croft import ON, Clock, settings
from tests.web.test_house_pages import HERE, PLACE, TABLE, text

PLAIN = {"accept-encoding": "identity"}


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    app = create_app(settings(tmp_path), Clock(), today=ON)
    with TestClient(app, base_url=HERE, follow_redirects=False, headers={"origin": HERE}) as client:
        client.post("/start/3", data={**PLACE, **TABLE, "have": ["gutters", "leek-seed", "rendered-wall"]})
        yield client


def address(answer: Response) -> str:
    found = re.search(r"http://localhost:8000(/calendar/[A-Za-z0-9_-]{43}\.ics)", unescape(answer.text))
    assert found
    return found[1]


@pytest.fixture
def link(client: TestClient) -> str:
    return address(client.post("/calendar", data={"name": "Ann’s phone", "trades": ["garden", "upkeep"]}))


def test_a_new_link_is_shown_once_with_its_square(client: TestClient) -> None:
    answer = client.post("/calendar", data={"name": "Ann’s phone"})
    assert answer.status_code == 200
    assert answer.headers["cache-control"] == "no-store"
    shown = address(answer)
    assert "webcal://localhost:8000/calendar/" in answer.text
    assert '<div class="qr"><svg' in answer.text
    again = client.get("/calendar")
    assert shown not in again.text
    assert "Ann’s phone" in text(again)
    assert "never read yet" in text(again)


def test_a_link_wants_a_name(client: TestClient) -> None:
    answer = client.post("/calendar", data={"name": " ", "trades": ["garden"], "alarm": "yes"})
    assert answer.status_code == 422
    assert "Whose is it?" in text(answer)
    assert re.search(r'value="garden"[^>]* checked', answer.text)
    assert "Nobody yet." in text(answer)


@pytest.mark.published
def test_the_calendar_is_served(client: TestClient, link: str) -> None:
    # RFC 5545, 8.1 (media type); RFC 9111, 5.2.2 (private, no-cache); RFC 9110, 8.8.3 (a strong tag is quoted, no W/).
    answer = client.get(link, headers=PLAIN)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    assert answer.headers["cache-control"] == "private, no-cache"
    assert re.fullmatch(r'"[0-9a-f]{64}"', answer.headers["etag"])
    assert "last-modified" in answer.headers
    assert ics.Calendar(answer.text).events
    assert f"SOURCE;VALUE=URI:{HERE}{link}" in answer.text.replace("\r\n ", "")
    assert "last read today" in text(client.get("/calendar"))


@pytest.mark.published
def test_a_reader_that_has_it_is_told_so(client: TestClient, link: str) -> None:
    # RFC 9110, 13.1.2: If-None-Match compares weakly, takes lists and *; 15.4.5: a 304 has the tag and no body.
    tag = client.get(link, headers=PLAIN).headers["etag"]
    for wanted in (tag, f"W/{tag}", f'"other", {tag}', "*"):
        answer = client.get(link, headers={**PLAIN, "if-none-match": wanted})
        assert (answer.status_code, answer.content) == (304, b"")
        assert answer.headers["etag"] == tag
        assert answer.headers["cache-control"] == "private, no-cache"
        assert "last-modified" in answer.headers


@pytest.mark.published
def test_a_tag_outranks_a_date(client: TestClient, link: str) -> None:
    # RFC 9110, 13.2.2: If-Modified-Since is not looked at when there is an If-None-Match.
    future = "Fri, 01 Jan 2100 00:00:00 GMT"
    assert client.get(link, headers={"if-none-match": '"other"', "if-modified-since": future}).status_code == 200
    assert client.get(link, headers={"if-modified-since": future}).status_code == 304
    assert client.get(link, headers={"if-modified-since": "Thu, 01 Jan 1970 00:00:00 GMT"}).status_code == 200
    assert client.get(link, headers={"if-modified-since": "the other day"}).status_code == 200


@pytest.mark.published
def test_a_coded_answer_has_a_tag_of_its_own(client: TestClient, link: str) -> None:
    # RFC 9110, 8.8.3.3: representations of different codings have different strong tags.
    plain, coded = client.get(link, headers=PLAIN), client.get(link, headers={"accept-encoding": "gzip"})
    assert coded.headers["content-encoding"] == "gzip"
    assert coded.content == plain.content
    assert coded.headers["etag"] != plain.headers["etag"]
    tag = coded.headers["etag"]
    assert client.get(link, headers={"accept-encoding": "gzip", "if-none-match": tag}).status_code == 304


@pytest.mark.published
def test_head_is_get_without_the_body(client: TestClient, link: str) -> None:
    # RFC 9110, 9.3.2.
    got, asked = client.get(link, headers=PLAIN), client.head(link, headers=PLAIN)
    assert (asked.status_code, asked.content) == (200, b"")
    assert asked.headers["etag"] == got.headers["etag"]
    assert asked.headers["content-type"] == got.headers["content-type"]


def test_a_tick_changes_the_tag(client: TestClient, link: str) -> None:
    first = client.get(link, headers=PLAIN)
    assert client.get(link, headers=PLAIN).headers["etag"] == first.headers["etag"]
    assert client.post("/entry/gutters/strike").status_code == 303
    assert client.get(link, headers=PLAIN).headers["etag"] != first.headers["etag"]
    assert client.get(link, headers={**PLAIN, "if-none-match": first.headers["etag"]}).status_code == 200


def test_it_is_the_same_with_and_without_a_session(client: TestClient, link: str) -> None:
    with_cookie = client.get(link, headers={**PLAIN, "cookie": "session=anything"})
    assert with_cookie.content == client.get(link, headers=PLAIN).content


def test_a_wrong_secret_is_any_unknown_page(client: TestClient, link: str) -> None:
    wrong = client.get("/calendar/" + "A" * 43 + ".ics")
    assert wrong.status_code == 404
    assert "text/calendar" not in wrong.headers["content-type"]
    assert "A" * 43 not in wrong.text


def test_a_new_address_and_a_stop(client: TestClient, link: str) -> None:
    renewed = client.post("/calendar/1/renew")
    fresh = address(renewed)
    assert fresh != link
    assert client.get(link).status_code == 404
    assert client.get(fresh).status_code == 200
    page = client.get("/calendar")
    revoke = re.search(r'action="(/calendar/\d+/revoke)"', page.text)
    assert revoke
    assert client.post(revoke[1]).status_code == 303
    assert client.get(fresh).status_code == 404
    assert client.post(revoke[1]).status_code == 404


def test_the_file_is_the_same_year(client: TestClient) -> None:
    answer = client.get("/calendar.ics")
    assert answer.headers["content-disposition"] == 'attachment; filename="twelvemonth.ics"'
    assert ics.Calendar(answer.text).events
    assert "URL" not in answer.text, "a file that leaves the house names no address of it"


def test_whoever_tries_many_secrets_has_to_wait(client: TestClient, link: str) -> None:
    tried = [client.get(f"/calendar/{'x' * 42}{n}.ics") for n in range(10, 33)]
    assert [answer.status_code for answer in tried] == [404] * 20 + [429] * 3
    assert 0 < int(tried[-1].headers["retry-after"]) <= 60
    assert client.get(link).status_code == 429, "a right one is not told from a wrong one meanwhile"


def test_a_right_secret_read_often_is_no_trying(client: TestClient, link: str) -> None:
    assert {client.get(link).status_code for _ in range(30)} == {200}


def test_it_is_said_how_each_kind_of_calendar_takes_it_in(client: TestClient) -> None:
    said = text(client.get("/calendar"))
    assert "those can’t reach this house" in said
    assert "subscribes to iCalendar (ICS, webcal) addresses on the phone itself" in said


def test_a_link_for_a_person_wants_one_of_the_household(client: TestClient) -> None:
    answer = client.post("/calendar", data={"name": "Nobody’s", "person": "77"})
    assert answer.status_code == 422
    assert "nobody of that name" in text(answer)
    assert "Nobody yet." in text(answer)
