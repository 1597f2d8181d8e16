"""What every request passes: hosts, origins, sizes, headers, static files."""

import hashlib
import re
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pytest

from app.web.guard import LARGEST_BODY
from tests.web.holding import TestClient, app, client


@pytest.fixture
def web(tmp_path: Path) -> Iterator[TestClient]:
    made = app(tmp_path)
    yield client(made)
    made.state.book.close()


@pytest.mark.parametrize(
    "host", ["evil.example", "localhost.evil.example", "", "a b", "localhost:x", "[::1", "127.0.0.1.nip.example"]
)
def test_a_name_that_is_not_ours_is_refused(web: TestClient, host: str) -> None:
    """A page elsewhere can have its own name point here; it cannot choose a number. (OWASP: DNS rebinding.)"""
    assert web.get("/2027/09", headers={"host": host}).status_code == 400


@pytest.mark.parametrize("host", ["localhost", "localhost:8123", "127.0.0.1:8000", "[::1]:8000", "192.168.1.20:8000"])
def test_this_machine_and_numbers_are_answered(web: TestClient, host: str) -> None:
    assert web.get("/healthz", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    ("headers", "allowed"),
    [
        ({"sec-fetch-site": "cross-site"}, False),
        ({"sec-fetch-site": "same-site"}, False),
        ({"sec-fetch-site": "same-origin", "origin": "http://localhost"}, True),
        ({"origin": "http://evil.example"}, False),
        ({"origin": "null"}, False),
        ({"origin": "http://localhost:9999"}, False),
        ({"origin": "http://localhost"}, True),
        ({"referer": "http://evil.example/localhost"}, False),
        ({"referer": "http://localhost/2027/09"}, True),
        ({}, False),
        ({"sec-fetch-site": "same-origin", "origin": "http://evil.example"}, False),
        ({"sec-fetch-site": "none"}, True),
    ],
)
def test_only_our_own_pages_may_write(web: TestClient, headers: dict[str, str], allowed: bool) -> None:
    del web.headers["origin"]
    answer = web.post("/tick", data={"key": "late-beet.sow", "id": "a"}, headers=headers)
    assert answer.status_code == (303 if allowed else 403)
    done = "done on the 15th" in web.get("/2027/09").text
    assert done is allowed


def test_what_is_too_large_is_refused_in_a_sentence(web: TestClient) -> None:
    answer = web.post("/tick", content=b"remark=" + b"x" * 10_000_000)
    assert answer.status_code == 413
    assert "larger than 1 MB" in answer.text

    def parts() -> Iterator[bytes]:
        for _ in range(20):
            yield b"x" * 100_000

    assert web.post("/tick", content=parts()).status_code == 413
    just = web.post("/tick", content=b"remark=" + b"x" * (LARGEST_BODY - 7))
    assert just.status_code != 413


@pytest.mark.parametrize("path", ["/2027/09", "/today", "/nowhere", "/healthz", "/2027/13"])
def test_every_answer_carries_the_headers(web: TestClient, path: str) -> None:
    """W3C Content Security Policy Level 3; the Fetch standard's nosniff."""
    headers = web.get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert "frame-ancestors 'none'" in policy
    assert headers["cache-control"] == "private, no-cache"


def test_nothing_on_a_page_breaks_the_policy_or_comes_from_elsewhere(web: TestClient) -> None:
    page = web.get("/2027/09").text + web.get("/today").text
    assert not re.search(r"<script(?![^>]* src=)|<style|\sstyle=|\son[a-z]+=|javascript:", page)
    assert set(re.findall(r'(?:src|href|action)="(https?:[^"]*)"', page)) == set()


def test_static_files_have_lasting_names(web: TestClient) -> None:
    page = web.get("/2027/09").text
    found = re.findall(r'(?:href|src)="(/static/[^"]+)"', page)
    assert len(found) >= 5
    for address in found:
        answer = web.get(address)
        assert answer.status_code == 200
        assert "immutable" in answer.headers["cache-control"]
        assert hashlib.sha256(answer.content).hexdigest()[:12] in address
    assert web.get("/static/nothing.css").status_code == 404
    assert web.get("/static/..%2f..%2fpyproject.toml").status_code == 404


def test_the_script_is_the_package_s_own(web: TestClient) -> None:
    address = re.search(r'src="(/static/htmx[^"]+)"', web.get("/today").text)
    assert address is not None
    packaged = files("js_lib_htmx").joinpath("static/htmx/htmx.min.js").read_bytes()
    assert web.get(address[1]).content == packaged


def test_a_first_visit_is_light(web: TestClient) -> None:
    """The budget of a first visit: 60 KB over the wire."""
    page = web.get("/2027/09", headers={"accept-encoding": "gzip"})
    sent = int(page.headers["content-length"])
    for address in set(re.findall(r'(?:href|src)="(/static/[^"]+)"', page.text)):
        sent += int(web.get(address, headers={"accept-encoding": "gzip"}).headers["content-length"])
    assert sent < 60_000


def test_what_nobody_foresaw_is_a_sentence_and_no_traceback(tmp_path: Path) -> None:
    made = app(tmp_path)

    @made.get("/boom")
    def boom() -> None:
        raise ZeroDivisionError("secret words")

    answer = client(made).get("/boom")
    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert "not foreseen" in answer.text
    assert "content-security-policy" in answer.headers
    made.state.book.close()
