"""A phone that goes out of reach in the midst of sending: nothing is done, nothing hangs, and the house can be left.

Source: RFC 9110, 15.5.9 (408, and that the connection is closed).
"""

import logging
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn

from app import serving
from app.main import create_app
from app.serving import configured
from app.web import guard
from tests.services.croft import ON, Clock
from tests.web.holding import TestClient, fill, settings

BODY = b"key=late-beet.sow&id=half"


class Served(uvicorn.Server):
    """The house in a thread, at ``address``."""

    def __init__(self, folder: Path) -> None:
        self.app = create_app(settings(folder), Clock(), today=ON)
        fill(self.app.state.book)
        config = configured(self.app)
        config.lifespan = "off"
        super().__init__(config)
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.address = self.listener.getsockname()
        self.thread = threading.Thread(target=self.run, kwargs={"sockets": [self.listener]})
        self.thread.start()

    def leave(self) -> float:
        """End it; gives the seconds that took."""
        begun = time.monotonic()
        self.should_exit = True
        self.thread.join(30)
        assert not self.thread.is_alive()
        return time.monotonic() - begun

    def half(self) -> socket.socket:
        """A caller who sends all but the last ten bytes."""
        host = f"127.0.0.1:{self.address[1]}"
        head = f"POST /tick HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nContent-Length: {len(BODY)}\r\n"
        kind = "Content-Type: application/x-www-form-urlencoded\r\n\r\n"
        one = socket.create_connection(self.address, timeout=10)
        one.sendall(f"{head}{kind}".encode() + BODY[:-10])
        return one

    def is_done(self) -> bool:
        web = TestClient(self.app, base_url="http://localhost")
        return "done on the 15th" in web.get("/2027/09").text


@pytest.fixture
def house(tmp_path: Path) -> Iterator[Served]:
    made = Served(tmp_path)
    yield made
    made.leave()
    made.app.state.book.close()


@pytest.mark.published
def test_what_never_comes_whole_is_answered_and_the_line_is_closed(
    house: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(guard, "STALLED", 0.2)
    with house.half() as one:
        answer = b"".join(iter(lambda: one.recv(1 << 16), b""))
    assert answer.startswith(b"HTTP/1.1 408 ")
    assert b"\r\nconnection: close\r\n" in answer.lower()
    assert b"nothing was changed" in answer
    assert not house.is_done()


def test_one_who_hangs_up_is_no_error(house: Served, caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING):
        house.half().close()
        assert not house.is_done()
        assert house.leave() < serving.LEAVING
    assert caplog.records == []


def test_one_who_fell_silent_does_not_keep_the_house_from_ending(house: Served) -> None:
    house.config.timeout_graceful_shutdown = 1
    assert serving.LEAVING <= 10
    with house.half():
        assert not house.is_done()
        assert house.leave() < 10
    assert not house.is_done()
