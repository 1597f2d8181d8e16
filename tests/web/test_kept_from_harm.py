"""Every address of the program against what a guest, a page elsewhere, or a hostile file could do.

Sources: OWASP ASVS 5.0 (1.2.10, 3.2.1, 3.3, 3.4, 3.5), OWASP cheat sheets on CSRF and on DNS rebinding; W3C Content
Security Policy Level 3; RFC 9110, 9.2.1 (safe methods change nothing).
"""

import csv
import hashlib
import hmac
import io
import logging
import re
import shutil
import sqlite3
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from app.main import create_app
from app.records.csvs import FORMULA_STARTS, guarded, unguarded
from app.services import feed_links, feeds, keeping
from app.services.feed_links import Options
from app.services.letting_in import LettingIn
from app.settings import read_settings
from app.web.door import OPEN
from tests.web.surface import BASE, HOUSE, caller, filled, made_up, surface

EVERY = list(dict.fromkeys(surface()))
WRITES = [path for method, path in EVERY if method == "POST"]
READS = [path for method, path in EVERY if method == "GET"]
LOOKED = ('INSERT INTO "device"', 'INSERT INTO "feed_link"')
GUEST = "192.168.1.66"


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    made = made_up(tmp_path_factory.mktemp("harm"))
    caller(made).get("/today")
    yield made
    made.state.book.close()


@pytest.fixture(scope="module")
def here(app: FastAPI) -> TestClient:
    return caller(app)


@pytest.fixture(scope="module")
def guest(app: FastAPI) -> TestClient:
    return caller(app, GUEST)


def kept(app: FastAPI) -> str:
    """A hash of every row but two kinds that say no more than that somebody looked: the day on which a phone was
    seen or a calendar was read."""
    whole = hashlib.sha256()
    with sqlite3.connect(f"file:{app.state.book.settings.database}?mode=ro", uri=True) as database:
        for line in database.iterdump():
            if not line.startswith(LOOKED):
                whole.update(line.encode())
    return whole.hexdigest()


def test_the_surface_is_known() -> None:
    assert len(EVERY) > 150
    assert {method for method, _ in EVERY} == {"GET", "POST"}
    assert "/tick" in WRITES


# ── Who asks, and under which name ────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://192.168.1.20:8001"},
        {"origin": "", "sec-fetch-site": "cross-site"},
        {"origin": "", "referer": "http://evil.example/"},
        {"origin": ""},
    ],
)
def test_no_address_takes_a_write_from_elsewhere(app: FastAPI, headers: dict[str, str]) -> None:
    """ASVS 3.5.1; an empty origin stands for a header that is not sent."""
    web = caller(app)
    del web.headers["origin"]
    sent = {name: value for name, value in headers.items() if value}
    before = kept(app)
    taken = [path for path in WRITES if web.post(filled(path), data={"id": "x"}, headers=sent).status_code != 403]
    assert taken == []
    assert kept(app) == before


@pytest.mark.published
def test_no_address_answers_under_another_name(here: TestClient) -> None:
    """DNS rebinding: a page elsewhere lets its own name point here."""
    named = {"host": "evil.example:8000", "origin": "http://evil.example:8000"}
    answered = [path for method, path in EVERY if here.request(method, filled(path), headers=named).status_code != 400]
    assert answered == []
    assert here.get("/healthz", headers={"host": "holding.local"}).status_code == 200


def test_a_guest_of_the_wi_fi_gets_nothing_at_any_address(app: FastAPI, guest: TestClient) -> None:
    before, name = kept(app), app.state.book.name
    found = []
    for method, path in EVERY:
        if path in OPEN or path == "/calendar/{secret}.ics":
            continue
        answer = guest.request(method, filled(path), data={"id": "x"} if method == "POST" else None)
        shut = answer.status_code == 401 or (answer.status_code, answer.headers.get("location")) == (303, "/let-in")
        if not shut or name in answer.text:
            found.append((method, path, answer.status_code))
    assert found == []
    assert kept(app) == before


@pytest.mark.parametrize("path", sorted(OPEN - {"/sw.js", "/manifest.webmanifest", "/favicon.ico"}))
def test_what_is_open_to_a_guest_names_nothing_of_the_holding(app: FastAPI, guest: TestClient, path: str) -> None:
    text = guest.get(path).text
    assert app.state.book.name not in text
    assert "leek" not in text.lower()


# ── Looking changes nothing, and every answer is fenced in ────────────────────────────────────────────────────────


@pytest.mark.published
def test_looking_changes_nothing_and_every_answer_is_fenced_in(app: FastAPI, here: TestClient) -> None:
    """RFC 9110, 9.2.1; ASVS 3.4.3 to 3.4.6; ASVS 3.2.1 (what is no page is a file to save)."""
    before = kept(app)
    wrong = []
    for path in READS:
        answer = here.get(filled(path))
        head = answer.headers
        policy = dict(part.strip().partition(" ")[::2] for part in head["content-security-policy"].split(";"))
        fenced = (
            policy["default-src"] == policy["frame-ancestors"] == policy["base-uri"] == "'none'"
            and policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
            and "unsafe" not in head["content-security-policy"]
            and head["x-content-type-options"] == "nosniff"
            and head["x-frame-options"] == "DENY"
            and head["referrer-policy"] == "same-origin"
            and ("no-cache" in head["cache-control"] or "no-store" in head["cache-control"])
            and "set-cookie" not in head
            and "access-control-allow-origin" not in head
            and "server" not in head
        )
        if answer.status_code >= 500 or not fenced:
            wrong.append((path, answer.status_code, dict(head)))
        kind = head.get("content-type", "")
        if kind.startswith("text/html") and re.search(
            r"<script(?![^>]* src=\"/)|<style|\sstyle=|\son[a-z]+=|javascript:|(?:src|href|action)=\"(?:https?:)?//",
            re.sub(r'href="http://192\.168\.1\.20:8000[^"]*"', "", answer.text),
        ):
            wrong.append((path, "something inline, or from elsewhere"))
        if kind.startswith("text/csv") and "attachment" not in head.get("content-disposition", ""):
            wrong.append((path, "a table that is no attachment"))
    assert wrong == []
    assert kept(app) == before


def test_what_is_typed_is_never_markup(here: TestClient) -> None:
    """ASVS 1.2.1."""
    bad = "<script>alert(1)</script>\"'><img src=x>"
    for path in ("/search", "/calendar", "/phones", "/found", "/add", "/garden/sums", "/weather/record/x", f"/{bad}"):
        answer = here.get(path, params={"q": bad, "code": bad, "name": bad, "sheet": bad})
        assert "<script>alert" not in answer.text
        assert "<img src=x" not in answer.text
    for path in ("/calendar", "/phones", "/household", "/larder/add", "/kit"):
        answer = here.post(path, data={"name": bad, "phone": "", "person": bad, "what": bad, "trades": bad})
        assert "<script>alert" not in answer.text
        assert "<img src=x" not in answer.text


def test_too_many_fields_and_files_are_refused(app: FastAPI, here: TestClient) -> None:
    before = kept(app)
    assert here.post("/tick", data={f"f{n}": "x" for n in range(2001)}).status_code == 400
    assert here.post("/tick", files={"file": ("a.txt", b"x")}).status_code in (400, 422)
    deep = b"a=" + b"%5B" * 200_000
    kind = {"content-type": "application/x-www-form-urlencoded"}
    assert here.post("/tick", content=deep, headers=kind).status_code < 500
    assert kept(app) == before


# ── Secrets ───────────────────────────────────────────────────────────────────────────────────────────────────────


def test_no_secret_stands_in_a_title_a_log_or_an_error(
    app: FastAPI, here: TestClient, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    caplog.set_level(logging.DEBUG)
    made = feed_links.make_link(app.state.book, "Invented", Options())
    wrong = "w" * 43
    phone = caller(app, "192.168.1.80")
    here.post("/phones", data={"phone": "Invented phone"})
    code = app.state.letting_in.standing()
    titles = [
        re.findall(r"<title>(.*?)</title>", answer.text)
        for answer in (
            here.get("/phones"),
            phone.get("/let-in", params={"code": code.long}),
            phone.post("/let-in", data={"code": "000 00x"}),
            here.post("/calendar", data={"name": "Invented"}),
        )
    ]
    answers = [
        phone.post("/let-in", data={"code": "000 00x"}),
        phone.get(f"/calendar/{wrong}.ics"),
        phone.post(f"/calendar/{wrong}.ics"),
        phone.get(f"/let-in/{code.long}"),
    ]
    assert all(wrong not in answer.text and code.long not in answer.text for answer in answers)
    let_in = phone.post("/let-in", data={"code": code.long})
    cookie = phone.cookies.get(HOUSE.cookie)
    assert let_in.status_code == 303
    assert cookie
    assert here.get(f"/calendar/{made.secret}.ics").status_code == 200

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(feeds, "write", broken)
    failed = here.get(f"/calendar/{made.secret}.ics")
    assert failed.status_code == 500
    logged = "\n".join(logging.Formatter().format(record) for record in caplog.records if record.name != "httpx")
    assert "ZeroDivisionError" in logged, "what was not foreseen is logged"
    for secret in (made.secret, wrong, code.long, code.digits, cookie):
        assert secret not in logged
        assert secret not in failed.text
        assert secret not in str(titles)


def test_secrets_are_kept_as_hashes(app: FastAPI) -> None:
    made = feed_links.make_link(app.state.book, "Another", Options())
    cookie = app.state.devices.let_in("Another phone", None)
    app.state.letting_in.invite("A third", None)
    standing = app.state.letting_in.standing()
    with sqlite3.connect(app.state.book.settings.database) as database:
        whole = "\n".join(database.iterdump())
    for secret in (made.secret, cookie, standing.long):
        assert secret not in whole
    for secret in (made.secret, cookie):
        assert hashlib.sha256(secret.encode()).hexdigest() in whole


def test_a_code_is_compared_in_constant_time_in_both_its_forms(monkeypatch: pytest.MonkeyPatch, app: FastAPI) -> None:
    compared = []

    def counted(one: bytes, other: bytes) -> bool:
        compared.append(other)
        return one == other

    monkeypatch.setattr(hmac, "compare_digest", counted)
    door = LettingIn(app.state.book.now)
    made = door.invite("A phone", None)
    door.answer(made.digits, "192.168.1.77")
    assert compared == [made.digits.encode(), made.long.encode()]


# ── Tables for a spreadsheet ──────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.published
@pytest.mark.parametrize("text", ["=1+1", "+1", "-dash note", "@SUM(A1)", "\tx", "\rx", "\x00x", "＝1", "'quoted"])
def test_a_text_is_never_taken_for_a_formula(text: str) -> None:
    # OWASP ASVS 5.0, 1.2.10; the apostrophe is what spreadsheets hide. Read back it is the same text.
    assert guarded(text) == f"'{text}"
    assert unguarded(guarded(text)) == text
    assert guarded("plain, text") == "plain, text"


def formulas(content: bytes) -> list[str]:
    """The cells of a table that a spreadsheet would take for a formula; a number with its sign is none."""
    rows = csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""), strict=True)
    cells = [cell for row in rows for cell in row]
    number = re.compile(r"-?\d+(\.\d+)?([eE][+-]?\d+)?")
    return [cell for cell in cells if cell[:1] and cell[0] in FORMULA_STARTS and not number.fullmatch(cell)]


def test_no_table_that_is_given_out_holds_a_formula(app: FastAPI, tmp_path: Path) -> None:
    """Every text of the holding is made a formula first; then every table is asked for, and the export."""
    folder = tmp_path / "bad"
    folder.mkdir()
    shutil.copy(app.state.book.settings.database, folder / "twelvemonth.sqlite3")
    with sqlite3.connect(folder / "twelvemonth.sqlite3") as database:
        for table, columns in (
            ("lot", ("what", "note", "place", "source")),
            ("entry", ("name", "place", "note")),
            ("person", ("name",)),
            ("tick", ("remark",)),
            ("kit", ("name",)),
            ("medicine", ("product", "batch", "supplier")),
            ("animal", ("name",)),
            ("batch", ("what", "place")),
        ):
            there = {row[1] for row in database.execute(f"PRAGMA table_info({table})")}
            for column in there.intersection(columns):
                database.execute(f"UPDATE {table} SET {column} = '=cmd(1)' || {column} WHERE {column} <> ''")
    settings = read_settings({}, folder)
    made = create_app(settings, app.state.book.now, today=app.state.book.today(), house=HOUSE)
    tables = [path for path in READS if path.endswith(".csv")]
    assert "/larder.csv" in tables
    web = caller(made)
    for path in tables:
        content = web.get(path).content
        assert content.startswith(b"\xef\xbb\xbf"), path
        assert formulas(content) == [], path
    assert "'=cmd(1)" in web.get("/larder.csv").text
    made.state.book.close()
    keeping.export(settings, tmp_path / "out", app.state.book.now())
    files = sorted((tmp_path / "out").glob("*.csv"))
    assert files
    for file in files:
        assert formulas(file.read_bytes()) == [], file.name
    assert b"'=cmd(1)" in (tmp_path / "out" / "entry.csv").read_bytes()


def test_the_looking_at_tables_finds_a_formula() -> None:
    assert formulas(b'\xef\xbb\xbfwhat,left\r\n"=1+1",-3.5\r\n') == ["=1+1"]


def test_a_link_made_on_the_computer_itself_is_one_that_a_phone_can_reach(app: FastAPI) -> None:
    web = caller(app)
    named = {"host": "localhost:8000", "origin": "http://localhost:8000"}
    assert f"{BASE}/calendar/" in web.post("/calendar", data={"name": "Ours"}, headers=named).text


def test_the_address_of_a_link_is_no_longer_in_the_page_after_it_was_shown(here: TestClient) -> None:
    shown = re.search(rf"{re.escape(BASE)}/calendar/([A-Za-z0-9_-]{{43}})\.ics", unescape(
        here.post("/calendar", data={"name": "Once"}).text
    ))  # fmt: skip
    assert shown
    assert shown[1] not in here.get("/calendar").text
