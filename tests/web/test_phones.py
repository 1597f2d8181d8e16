"""Letting phones in, and nobody else.

Sources: OWASP Authentication, Session Management and CSRF Prevention Cheat Sheets; RFC 6265bis, 4.1.3 (cookies);
RFC 6585, 4 (429).
"""

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from fastapi import FastAPI

from app.main import create_app
from app.settings import House
from tests.web.holding import NOW, ON, TestClient, fill, plain, settings

HOUSE = House(("http://192.168.1.20:8000",))
BASE = "http://192.168.1.20:8000"


class Clock:
    """A clock that stands until it is put on."""

    def __init__(self) -> None:
        self.at = NOW

    def __call__(self):
        return self.at


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def app(tmp_path: Path, clock: Clock) -> Iterator[FastAPI]:
    made = create_app(settings(tmp_path), clock, today=ON, house=HOUSE)
    fill(made.state.book)
    yield made
    made.state.book.close()


def caller(app: FastAPI, number: str = "192.168.1.77") -> TestClient:
    """Somebody on the network."""
    return TestClient(app, base_url=BASE, client=(number, 50000), follow_redirects=False, headers={"origin": BASE})


def laptop(app: FastAPI) -> TestClient:
    """The machine that serves the house."""
    return TestClient(
        app, base_url="http://localhost:8000", client=("127.0.0.1", 50000), follow_redirects=False,
        headers={"origin": "http://localhost:8000"},
    )  # fmt: skip


def code(app: FastAPI, name: str = "Kitchen phone", person: str = "1") -> tuple[str, str]:
    """The digits and the long form of a new code, as the laptop shows them."""
    here = laptop(app)
    assert here.post("/phones", data={"phone": name, "person": person}).status_code == 303
    digits = re.search(r"(\d{3}) (\d{3})", plain(here.get("/phones").text))
    assert digits
    return digits[1] + digits[2], app.state.letting_in.standing().long


def let_in(app: FastAPI, phone: TestClient) -> None:
    assert phone.post("/let-in", data={"code": code(app)[0]}).headers["location"] == "/today"


@pytest.mark.parametrize("path", ["/", "/today", "/2027/09", "/phones", "/household", "/calendar.ics", "/nowhere"])
def test_an_unknown_caller_gets_the_page_of_the_code_and_nothing_of_the_holding(app: FastAPI, path: str) -> None:
    phone = caller(app)
    answer = phone.get(path)
    assert (answer.status_code, answer.headers["location"]) == (303, "/let-in")
    page = phone.get("/let-in").text
    for known in ("Made-up Croft", "Ana", "beet", "Orchard"):
        assert known not in page


@pytest.mark.parametrize("path", ["/tick", "/phones", "/phones/1/out", "/household", "/calendar"])
def test_an_unknown_caller_writes_nothing(app: FastAPI, path: str) -> None:
    answer = caller(app).post(path, data={"key": "late-beet.sow", "id": "a", "phone": "Mine", "name": "Mine"})
    assert answer.status_code == 401
    assert "Made-up Croft" not in answer.text
    assert "done on the 15th" not in laptop(app).get("/2027/09").text
    assert app.state.letting_in.standing() is None


@pytest.mark.parametrize("path", ["/healthz", "/static/{css}", "/let-in"])
def test_what_is_open_is_open(app: FastAPI, path: str) -> None:
    css = re.search(r"/static/(twelvemonth\.[0-9a-f]+\.css)", caller(app).get("/let-in").text)
    assert css
    assert caller(app).get(path.format(css=css[1])).status_code == 200


@pytest.mark.parametrize("form", [0, 1])
def test_a_code_lets_one_phone_in_once(app: FastAPI, form: int) -> None:
    told = code(app)[form]
    phone, other = caller(app), caller(app, "192.168.1.78")
    answer = phone.post("/let-in", data={"code": told})
    cookie = answer.headers["set-cookie"].lower()
    assert answer.status_code == 303
    assert "httponly" in cookie
    assert "samesite=lax" in cookie
    assert phone.get("/today").status_code == 200
    assert other.post("/let-in", data={"code": told}).status_code == 422
    assert other.get("/today").status_code == 303


def test_looking_at_the_page_with_the_code_in_its_address_burns_nothing(app: FastAPI) -> None:
    _, told = code(app)
    phone = caller(app)
    page = phone.get(f"/let-in?code={told}").text
    assert told not in re.findall(r"<title>(.*?)</title>", page)[0]
    assert phone.post("/let-in", data={"code": told}).status_code == 303


def test_digits_may_be_typed_with_a_gap(app: FastAPI) -> None:
    digits, _ = code(app)
    assert caller(app).post("/let-in", data={"code": f" {digits[:3]} {digits[3:]} "}).status_code == 303


def test_a_code_is_good_for_ten_minutes(app: FastAPI, clock: Clock) -> None:
    digits, _ = code(app)
    clock.at += timedelta(minutes=10)
    answer = caller(app).post("/let-in", data={"code": digits})
    assert answer.status_code == 422
    assert "older than ten minutes" in answer.text


def test_a_thousand_wrong_codes_find_nothing(app: FastAPI) -> None:
    digits, _ = code(app)
    phone = caller(app)
    came = [phone.post("/let-in", data={"code": f"{n:06}"}).status_code for n in range(1000) if f"{n:06}" != digits]
    assert set(came) == {422, 429}
    assert came.count(422) == 20
    assert phone.post("/let-in", data={"code": digits}).headers["retry-after"] == "60"
    assert phone.get("/today").status_code == 303


def test_after_five_wrong_ones_the_right_one_holds_no_longer(app: FastAPI) -> None:
    digits, _ = code(app)
    phone = caller(app)
    for wrong in ("1", "", "🥕", "x" * 100_000, digits[::-1] + "0"):
        assert phone.post("/let-in", data={"code": wrong}).status_code == 422
    assert phone.post("/let-in", data={"code": digits}).status_code == 422


def test_a_guest_uses_up_its_own_tries_and_not_those_of_the_house(app: FastAPI) -> None:
    digits, _ = code(app)
    guest = caller(app, "192.168.1.66")
    for _ in range(8):
        guest.post("/let-in", data={"code": "no"})
    assert guest.post("/let-in", data={"code": digits}).status_code == 422
    assert caller(app).post("/let-in", data={"code": digits}).status_code == 303


def test_many_guests_use_up_the_digits_and_the_square_lets_in_all_the_same(app: FastAPI) -> None:
    digits, square = code(app)
    for n in range(4):
        guest = caller(app, f"192.168.1.{n + 60}")
        for _ in range(21):
            guest.post("/let-in", data={"code": "no"})
    assert caller(app).post("/let-in", data={"code": digits}).status_code == 422
    shown = laptop(app).get("/phones").text
    assert "use the square" in shown
    assert f"{digits[:3]} {digits[3:]}" not in plain(shown)
    assert guest.post("/let-in", data={"code": "no"}).status_code == 429
    assert guest.post("/let-in", data={"code": square}).status_code == 303


def test_a_phone_that_is_shown_the_door_is_answered_no_more(app: FastAPI) -> None:
    phone = caller(app)
    let_in(app, phone)
    here = laptop(app)
    assert "Kitchen phone" in here.get("/phones").text
    assert here.post("/phones/1/out").status_code == 303
    assert phone.get("/today").status_code == 303
    assert phone.post("/tick", data={"key": "late-beet.sow", "id": "a"}).status_code == 401
    assert "Kitchen phone" not in here.get("/phones").text
    assert here.post("/phones/1/out").status_code == 404


def test_a_tick_says_who(app: FastAPI) -> None:
    phone = caller(app)
    let_in(app, phone)
    assert phone.post("/tick", data={"key": "late-beet.sow", "id": "a"}).status_code == 303
    assert "by Ana" in plain(laptop(app).get("/job/late-beet.sow").text)


def test_only_a_hash_is_kept_and_a_made_up_cookie_is_nobody(app: FastAPI) -> None:
    phone = caller(app)
    let_in(app, phone)
    secret = phone.cookies["twelvemonth"]
    assert len(secret) >= 43  # 32 random bytes
    stored = app.state.book.settings.database.read_bytes()
    assert secret.encode() not in stored
    stranger = caller(app)
    stranger.cookies.set("twelvemonth", secret[:-1] + ("A" if secret[-1] != "A" else "B"))
    assert stranger.get("/today").status_code == 303


def test_what_is_wrong_with_the_form_is_said_beside_it(app: FastAPI) -> None:
    here = laptop(app)
    for sent in ({"phone": ""}, {"phone": "x", "person": "99"}, {"phone": "x", "person": "x"}, {"phone": "x" * 100}):
        answer = here.post("/phones", data=sent)
        assert answer.status_code == 422
        assert 'class="error"' in answer.text


def test_nobody_writes_without_end(app: FastAPI) -> None:
    phone = caller(app)
    let_in(app, phone)
    came = [phone.post("/tick", data={"key": "nothing"}).status_code for _ in range(241)]
    assert came[:240].count(429) == 0
    assert came[240] == 429


def test_a_machine_that_is_served_to_nobody_says_how(tmp_path: Path) -> None:
    made = create_app(settings(tmp_path), Clock(), today=ON)
    fill(made.state.book)
    here = laptop(made)
    page = here.get("/phones").text
    assert "serve --house" in page
    assert 'action="/phones"' not in page
    assert here.get("/let-in").headers["location"] == "/today"
    made.state.book.close()
