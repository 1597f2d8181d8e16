"""How the house is reached: over https with a cookie that keeps to it, by its plain first steps, and behind a proxy."""

import re
import socket
import ssl
import threading
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import uvicorn
from fastapi import FastAPI

from app import serving
from app.cli import main
from app.main import create_app, create_first_steps
from app.serving import Way, configured
from app.serving_https import Tls, aside
from app.settings import House
from tests.services.croft import ON, Clock
from tests.web.holding import TestClient, fill, plain, settings

MADE_UP = "Made-up Croft"


def served(folder: Path, house: House, hosts: tuple[str, ...] = ()) -> FastAPI:
    made = create_app(settings(folder), Clock(), today=ON, hosts=hosts, house=house)
    fill(made.state.book)
    return made


def code_of(made: FastAPI) -> str:
    return str(made.state.letting_in.invite("A phone", None).digits)


# ── https ─────────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.fixture
def secure(tmp_path: Path) -> Iterator[FastAPI]:
    steps = "http://127.0.0.1:9"
    made = served(tmp_path, House(("https://127.0.0.1:8000",), secure=True, first_steps=steps))
    yield made
    made.state.book.close()


def test_a_page_goes_over_https_to_whoever_trusts_the_house(secure: FastAPI) -> None:
    kept = secure.state.book.settings
    tls = Tls(kept.https, lambda: ["127.0.0.1"])
    listener = socket.create_server(("127.0.0.1", 0))
    config = configured(secure, tls=tls)
    config.lifespan = "off"
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
    thread.start()
    try:
        address = f"https://127.0.0.1:{listener.getsockname()[1]}"
        context = ssl.create_default_context(cadata=kept.house_certificate.read_bytes())
        with urllib.request.urlopen(f"{address}/today", context=context, timeout=5) as answer:
            assert answer.status == 200
            assert "strict-transport-security" not in answer.headers, (
                "a house may go back to http: nobody is locked out"
            )
        with pytest.raises(OSError, match="CERTIFICATE_VERIFY_FAILED"):
            urllib.request.urlopen(f"{address}/today", timeout=5)
    finally:
        server.should_exit = True
        thread.join()


@pytest.mark.published
def test_over_https_the_cookie_keeps_to_this_house(secure: FastAPI) -> None:
    # RFC 6265bis, 4.1.3.2: __Host- wants Secure, Path=/ and no Domain; 5.6.7.1: SameSite.
    web = TestClient(secure, base_url="https://192.168.1.20", follow_redirects=False)
    answer = web.post("/let-in", data={"code": code_of(secure)}, headers={"origin": "https://192.168.1.20"})
    said = answer.headers["set-cookie"]
    name, _, rest = said.partition("=")
    parts = {part.strip().lower() for part in rest.split(";")[1:]}
    assert name == "__Host-twelvemonth"
    assert {"secure", "httponly", "path=/", "samesite=lax"} <= parts
    assert "domain" not in said.lower()
    assert web.get("/today").status_code == 200


def test_the_certificate_and_how_to_trust_it_are_told_to_anybody(secure: FastAPI) -> None:
    kept = secure.state.book.settings
    stranger = TestClient(secure, base_url="https://192.168.1.20", follow_redirects=False)
    assert stranger.get("/house-certificate.crt").status_code == 404
    assert "--https" in stranger.get("/https").text
    tls = Tls(kept.https, lambda: ["192.168.1.20"])
    given = stranger.get("/house-certificate.crt")
    assert given.headers["content-type"] == "application/x-x509-ca-cert"
    assert given.content == kept.house_certificate.read_bytes()
    page = stranger.get("/https")
    assert page.status_code == 200
    assert tls.certified.print_ in page.text
    assert MADE_UP not in page.text
    for path in ("/https/authority.pem", "/authority.pem", "/static/../https/authority.pem"):
        assert b"PRIVATE" not in stranger.get(path).content


def test_the_plain_address_gives_the_first_steps_and_nothing_else(secure: FastAPI) -> None:
    kept = secure.state.book.settings
    Tls(kept.https, lambda: ["127.0.0.1"])
    listener = socket.create_server(("127.0.0.1", 0))
    address = f"http://127.0.0.1:{listener.getsockname()[1]}"
    with aside(create_first_steps(secure), listener):
        with urllib.request.urlopen(f"{address}/", timeout=5) as answer:
            text = answer.read().decode()
            assert answer.url == f"{address}/https"
        with urllib.request.urlopen(f"{address}/house-certificate.crt", timeout=5) as answer:
            assert answer.read() == kept.house_certificate.read_bytes()
    assert "Certificate trust settings" in text
    assert "https://127.0.0.1:8000/let-in" in text
    assert MADE_UP not in text
    web = TestClient(create_first_steps(secure), base_url="http://127.0.0.1", follow_redirects=False)
    for path in ("/today", "/phones", "/calendar.ics", "/larder.csv", "/healthz"):
        answer = web.get(path)
        assert answer.status_code == 404
        assert MADE_UP not in answer.text
    assert web.post("/tick", data={"key": "late-beet.sow"}, headers={"origin": "http://127.0.0.1"}).status_code == 404
    assert web.get("/https", headers={"host": "evil.example"}).status_code == 400


# ── Behind a proxy ────────────────────────────────────────────────────────────────────────────────────────────────

NAME = "holding.example"
WAY = Way(behind=True, names=(NAME,), proxy="192.0.2.9")


@pytest.fixture
def behind(tmp_path: Path) -> Iterator[Callable[[str], TestClient]]:
    """A client that calls from an address, through the server as it is run behind a proxy at 192.0.2.9."""
    house = serving._house("127.0.0.1", socket.socket(), WAY)
    assert house == House((f"https://{NAME}",), secure=True, behind=True)
    made = served(tmp_path, house, serving._names("127.0.0.1", WAY))
    config = configured(made, WAY)
    config.load()

    def calling(address: str) -> TestClient:
        web = TestClient(
            config.loaded_app, base_url=f"http://{NAME}", follow_redirects=False, client=(address, 50000)
        )  # fmt: skip
        web.headers["origin"] = f"https://{NAME}"
        web.app_state = made.state  # type: ignore[attr-defined]
        return web

    yield calling
    made.state.book.close()


@pytest.mark.parametrize("address", ["127.0.0.1", "192.0.2.9", "::1"])
def test_behind_a_proxy_nobody_is_this_machine(behind: Callable[[str], TestClient], address: str) -> None:
    for headers in ({}, {"x-forwarded-for": "127.0.0.1"}, {"x-forwarded-for": "::1", "x-forwarded-proto": "https"}):
        answer = behind(address).get("/today", headers=headers)
        assert (answer.status_code, answer.headers.get("location")) == (303, "/let-in")


def test_the_word_of_the_proxy_is_taken_and_of_nobody_else(behind: Callable[[str], TestClient]) -> None:
    told = {"x-forwarded-for": "192.168.1.77", "x-forwarded-proto": "https"}
    proxy, other = behind("192.0.2.9"), behind("203.0.113.5")
    state = proxy.app_state  # type: ignore[attr-defined]
    code = state.letting_in.invite("A phone", None).digits
    answer = proxy.post("/let-in", data={"code": code}, headers=told)
    assert answer.status_code == 303
    assert answer.headers["set-cookie"].startswith("__Host-twelvemonth=")
    cookie = answer.headers["set-cookie"].partition(";")[0]
    made = proxy.post("/calendar", data={"name": "Invented"}, headers={**told, "cookie": cookie})
    assert f"https://{NAME}/calendar/" in made.text
    secret = re.search(r"/calendar/([A-Za-z0-9_-]{43})\.ics", made.text)
    assert secret
    path = f"/calendar/{secret[1]}.ics"
    assert f"SOURCE;VALUE=URI:https://{NAME}{path}" in proxy.get(path, headers=told).text.replace("\r\n ", "")
    plainly = other.get(path, headers=told).text.replace("\r\n ", "")
    assert f"SOURCE;VALUE=URI:http://{NAME}{path}" in plainly, "a caller can't make itself out to be the proxy"


def test_only_the_trusted_names_are_answered(behind: Callable[[str], TestClient]) -> None:
    web = behind("192.0.2.9")
    assert web.get("/let-in", headers={"x-forwarded-proto": "https"}).status_code == 200
    wrong = {"x-forwarded-host": NAME, "host": "other.example"}
    assert web.get("/let-in", headers=wrong).status_code == 400


# ── What is asked for ─────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--https",), "say --house too"),
        (("--house", "--https", "--behind-proxy", "--trusted-host", NAME), "--https or --behind-proxy"),
        (("--behind-proxy",), "--trusted-host"),
        (("--house", "--trusted-host", "no name"), "no name of a machine"),
        (("--behind-proxy", "--trusted-host", NAME, "--proxy-address", "everybody"), "is no address"),
    ],
)
def test_ways_that_make_no_sense_are_said(
    options: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    try:
        code = main(["serve", *options])
    except SystemExit as left:
        code = int(left.code or 0)
    assert code == 2
    assert says in plain(capsys.readouterr().err)


def test_a_house_has_its_further_names(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "_own_numbers", lambda: ["192.168.1.20"])
    monkeypatch.setattr(socket, "gethostname", lambda: "barn")
    way = Way(https=True, names=("holding.example",))
    assert serving._names("0.0.0.0", way) == ("barn", "barn.local", "holding.example")
    assert set(serving._certified("0.0.0.0", way)) == {
        "localhost", "127.0.0.1", "::1", "barn", "barn.local", "holding.example", "192.168.1.20",
    }  # fmt: skip
    with socket.create_server(("127.0.0.1", 0)) as listener:
        port = listener.getsockname()[1]
        house = serving._house("0.0.0.0", listener, way)
    assert house is not None
    assert house.secure
    assert house.addresses == tuple(
        f"https://{name}:{port}" for name in ("192.168.1.20", "barn.local", "holding.example")
    )
