"""No signal behind the barn: what is tapped is kept on the phone, sent once, and nothing is lost or doubled.

Where the house itself is killed see `tests.browser.killed`.
"""

import contextlib
import os
import random
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import httpx
import pytest
from fastapi import FastAPI

from app.main import create_app
from app.records import store
from app.settings import House
from tests.browser.conftest import PATIENCE_MS, clock, serving
from tests.browser.killed import WHEN, rows
from tests.web.holding import ON, settings

NOON = "2027-09-15T09:30:00Z"
Error = pytest.importorskip("playwright.sync_api").Error


class Line:
    """A line to the house on a port of its own, that can be cut: what is fetched by a service worker is cut off too."""

    def __init__(self, to: str) -> None:
        self.to, self.up, self.callers = urlsplit(to), True, list[socket.socket]()
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.address = f"http://127.0.0.1:{self.listener.getsockname()[1]}"
        threading.Thread(target=self._listen, daemon=True).start()

    def leads(self, to: str) -> None:
        """From now on it leads to another house; who is talking to the one before is cut off."""
        self.to = urlsplit(to)
        for caller in self.callers:
            with contextlib.suppress(OSError):
                caller.shutdown(socket.SHUT_RDWR)

    def _listen(self) -> None:
        with contextlib.suppress(OSError):
            while True:
                caller, _ = self.listener.accept()
                self.callers.append(caller)
                threading.Thread(target=self._carry, args=(caller,), daemon=True).start()

    def _carry(self, caller: socket.socket) -> None:
        with contextlib.suppress(OSError), caller:
            if not self.up:
                return
            with socket.create_connection((self.to.hostname, self.to.port)) as house:
                threading.Thread(target=self._back, args=(house, caller), daemon=True).start()
                while (data := caller.recv(1 << 20)) and self.up:
                    house.sendall(data)
                house.shutdown(socket.SHUT_RDWR)

    @staticmethod
    def _back(house: socket.socket, caller: socket.socket) -> None:
        with contextlib.suppress(OSError):
            while data := house.recv(1 << 16):
                caller.sendall(data)
            caller.shutdown(socket.SHUT_RDWR)


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    app = create_app(settings(tmp_path_factory.mktemp("kept")), clock(), today=ON)
    rows(app.state.book)
    with serving(app) as address:
        yield address


@pytest.fixture
def line(house: str) -> Iterator[Line]:
    made = Line(house)
    yield made
    made.listener.close()


@pytest.fixture
def phone(browser: Any, line: Line) -> Iterator[Callable[..., Any]]:
    """A phone whose clock is the house's."""
    contexts = []

    def opened(path: str = "/2027/09?by=none", *, workers: str = "block", script: str = "") -> Any:
        context = browser.new_context(
            viewport={"width": 390, "height": 844}, has_touch=True, service_workers=workers, locale="en-GB"
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE_MS)
        page.clock.set_system_time(NOON)
        if script:
            page.add_init_script(script)
        page.goto(line.address + path)
        return page

    yield opened
    for context in contexts:
        context.close()


def waits(page: Any) -> int:
    return int(page.evaluate("Object.keys(localStorage).filter(k => k.startsWith('tm.op.')).length"))


def tap(page: Any, many: int) -> list[str]:
    """Tap the first open jobs; gives their keys."""
    return list(
        page.evaluate(
            """many => {
                const forms = Array.from(document.querySelectorAll('.row:not(.waits) form[action="/tick"]'));
                return forms.slice(0, many).map(form => {
                    const key = form.elements.key.value;
                    form.querySelector('button.tick').click();
                    return key;
                });
            }""",
            many,
        )
    )


def emptied(page: Any) -> None:
    """Send until nothing waits; the script would do so by itself, a little later."""
    end = time.monotonic() + PATIENCE_MS / 1000
    while waits(page):
        assert time.monotonic() < end, page.inner_text("#box")
        prod(page)


def ticks(house: str, keys: list[str]) -> dict[str, int]:
    """How often each job's page says that it was done on the fifteenth."""
    found = {}
    for key in keys:
        text = httpx.get(f"{house}/job/{key}").text.replace("\u00a0", " ")
        found[key] = text.count("Done on 15 September")
    return found


class Keeper:
    """A house in a process of its own that is killed as often as it is said, and each time served again."""

    def __init__(self, folder: Path, whens: list[str]) -> None:
        with socket.create_server(("127.0.0.1", 0)) as found:
            port = found.getsockname()[1]
        self.address = f"http://127.0.0.1:{port}"
        command = [sys.executable, "-m", "tests.browser.killed", str(folder), str(port), *whens]
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, start_new_session=True
        )
        self.said: list[str] = []
        self.begun = time.monotonic()
        self.listens = threading.Thread(target=self._listen)
        self.listens.start()

    def _listen(self) -> None:
        for line in self.process.stdout or ():
            self.said.append(line.strip())

    def lives(self) -> bool:
        """Whether the keeper is there and has not been at it for too long."""
        assert self.process.poll() is None
        assert time.monotonic() < self.begun + 240, self.said
        return True

    def leave(self) -> None:
        """The house ends as it should."""
        if self.process.stdin:
            self.process.stdin.close()
        self.process.wait(20)
        self.listens.join()


@pytest.fixture
def killed(browser: Any, tmp_path: Path) -> Iterator[Keeper]:
    """Ten deaths, drawn by lot but the same each time: at first nothing is kept, then one tick is, then as it comes."""
    lot = random.Random(6)
    keeper = Keeper(tmp_path, [*lot.choices(WHEN[:3], k=4), "kept", *lot.choices(WHEN, k=5)])
    yield keeper
    with contextlib.suppress(ProcessLookupError):
        os.killpg(keeper.process.pid, signal.SIGKILL)
    keeper.leave()


def opened(page: Any, keeper: Keeper) -> None:
    """The page, as soon as there is a house again."""
    while keeper.lives():
        with contextlib.suppress(Error):
            page.goto(f"{keeper.address}/2027/09?by=none")
            return
        time.sleep(0.05)


def until(page: Any, expression: str) -> None:
    """Wait until something is so; the page's own policy keeps the browser's way of waiting out."""
    end = time.monotonic() + PATIENCE_MS / 1000
    while not page.evaluate(expression):
        assert time.monotonic() < end, expression
        page.wait_for_timeout(30)


def prod(page: Any) -> None:
    """As a phone that comes back into reach; by itself it would try a little later."""
    page.evaluate("window.dispatchEvent(new Event('online'))")
    page.wait_for_timeout(30)


def test_thirty_ticks_and_a_house_killed_ten_times_in_the_midst_of_them_are_thirty_ticks(
    killed: Keeper, browser: Any, tmp_path: Path
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, timezone_id="Europe/London")
    page = context.new_page()
    opened(page, killed)
    page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
    page.reload()  # now it is kept, to be opened without signal
    context.set_offline(True)
    page.clock.set_system_time(datetime.now(UTC) - timedelta(days=1))
    keys = tap(page, 10)
    page.clock.set_system_time(datetime.now(UTC))
    keys += tap(page, 20)
    assert len(set(keys)) == 30
    assert waits(page) == 30
    assert "30 waiting to be sent" in page.inner_text("#box")
    assert page.locator(".row.waits").count() == 30
    context.set_offline(False)
    while len(killed.said) < 5 and killed.lives():
        prod(page)
    page.reload()  # the box outlives the page, and the page opens whether the house is there or not
    while waits(page) and killed.lives():
        prod(page)
    page.wait_for_selector(".row.waits", state="detached")
    context.close()
    killed.leave()
    assert len(killed.said) == 10
    assert {one.partition(" ")[0] for one in killed.said} == {"killed"}
    with sqlite3.connect(tmp_path / "data" / "twelvemonth.sqlite3") as kept:
        ticks = sorted(kept.execute("SELECT key, on_day FROM tick WHERE tied_to = ''"))
        assert ticks == sorted([(key, "2027-09-14") for key in keys[:10]] + [(key, "2027-09-15") for key in keys[10:]])
        assert kept.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_one_tap_with_signal_is_sent_at_once_and_one_whose_answer_is_lost_counts_once(
    house: str, phone: Callable[..., Any]
) -> None:
    page = phone()
    got = []

    def lost(route: Any) -> None:
        got.append(route.fetch().status)
        route.abort()

    page.route("**/tick", lost)
    (key,) = tap(page, 1)
    page.wait_for_selector(".row.waits")
    assert got == [200]
    page.unroute("**/tick")
    emptied(page)
    assert ticks(house, [key]) == {key: 1}
    (other,) = tap(page, 1)
    page.wait_for_selector(f'[data-task="{other}"] .tick.on', state="attached")  # it may be folded with the done ones
    until(page, "!Object.keys(localStorage).some(k => k.startsWith('tm.op.'))")
    assert ticks(house, [other]) == {other: 1}


def test_one_that_waits_is_taken_back_by_another_tap_and_never_sent(
    house: str, line: Line, phone: Callable[..., Any]
) -> None:
    page = phone()
    page.context.set_offline(True)
    (key,) = tap(page, 1)
    page.wait_for_selector(".row.waits")
    page.locator(f'[data-task="{key}"] button.tick').click()
    page.wait_for_selector(".row.waits", state="detached")
    assert waits(page) == 0
    page.context.set_offline(False)
    assert ticks(house, [key]) == {key: 0}


def test_a_reading_made_without_signal_is_kept_and_one_that_is_wrong_is_told_beside_its_box(
    house: str, phone: Callable[..., Any]
) -> None:
    page = phone("/weather/reading")
    page.context.set_offline(True)
    page.fill("[name=min_c]", "4")
    page.fill("[name=max_c]", "15")
    page.click("form.big button")
    page.wait_for_selector("#box li", state="attached")
    assert page.input_value("[name=min_c]") != "4"
    page.context.set_offline(False)
    emptied(page)
    assert "The reading is kept." in page.inner_text("#status")
    assert 'value="4"' in httpx.get(f"{house}/weather/reading").text
    page.goto(page.url)
    page.fill("[name=min_c]", "lots")
    page.click("form.big button")
    page.wait_for_selector("form.big .error")
    assert waits(page) == 0


def test_a_phone_without_room_says_so_and_sends_the_ordinary_way(house: str, phone: Callable[..., Any]) -> None:
    full = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };"
    page = phone(script=full)
    (key,) = tap(page, 1)
    assert "no room to keep" in page.inner_text("#box")
    page.wait_for_selector(f'[data-task="{key}"] .tick.on')
    assert ticks(house, [key]) == {key: 1}


def test_a_wrong_clock_is_asked_and_the_day_given_is_taken(house: str, phone: Callable[..., Any]) -> None:
    page = phone()
    page.clock.set_system_time("2031-05-02T09:00:00Z")
    page.context.set_offline(True)
    (key,) = tap(page, 1)
    page.context.set_offline(False)
    page.wait_for_selector("#box input[type=date]")
    assert "It says 2 May 2031; when was it?" in page.inner_text("#box")
    page.click("text=It was then")
    emptied(page)
    assert ticks(house, [key]) == {key: 1}


def test_two_phones_with_the_same_job_make_one_tick_and_the_second_is_told(
    house: str, phone: Callable[..., Any]
) -> None:
    one, other = phone(), phone()
    other.context.set_offline(True)
    (key,) = tap(one, 1)
    one.wait_for_selector(f'[data-task="{key}"] .tick.on')
    assert tap(other, 1) == [key]
    other.context.set_offline(False)
    emptied(other)
    assert "did it at" in other.inner_text("#status")
    assert ticks(house, [key]) == {key: 1}


def test_the_pages_open_without_signal_as_last_seen(line: Line, phone: Callable[..., Any]) -> None:
    page = phone("/today", workers="allow")
    page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
    for path in ("/today", "/2027/09", "/larder"):
        page.goto(line.address + path)
    page.context.set_offline(True)
    line.up = False
    for path, heading in (("/today", "Wednesday"), ("/", "September"), ("/larder", "Larder")):
        page.goto(line.address + path)
        assert heading in page.inner_text("h1")
        assert "As last seen on" in page.inner_text(".seen")
    assert tap(page, 1) == []
    page.goto(f"{line.address}/evening")
    assert "not kept on this phone" in page.inner_text("body")


def test_what_the_house_has_no_time_for_now_is_kept_and_sent_later(house: str, phone: Callable[..., Any]) -> None:
    """RFC 6585, 4: 429 with Retry-After."""
    page = phone()
    page.context.set_offline(True)
    (key,) = tap(page, 1)
    busy = {"status": 429, "headers": {"Retry-After": "2"}, "body": ""}
    page.route("**/outbox", lambda route: route.fulfill(**busy), times=1)
    page.context.set_offline(False)
    page.get_by_text("The house asks to wait a little.").wait_for()
    assert waits(page) == 1
    emptied(page)
    assert ticks(house, [key]) == {key: 1}


SIGNAL = "window.signal = false; Object.defineProperty(navigator, 'onLine', { get: () => window.signal })"


def test_of_two_tabs_one_sends_for_both_and_each_tap_once(house: str, phone: Callable[..., Any]) -> None:
    one = phone(script=SIGNAL)
    other = one.context.new_page()
    other.clock.set_system_time(NOON)
    other.add_init_script(SIGNAL)
    other.goto(one.url)
    sent: list[str] = []
    one.context.on("request", lambda asked: sent.append(asked.post_data) if asked.url.endswith("/outbox") else None)
    keys = tap(one, 2)
    until(other, "document.querySelectorAll('.row.waits').length === 2")
    keys += tap(other, 2)
    held: list[Any] = []
    one.route("**/outbox", lambda route: held.append(route))
    one.evaluate("window.signal = true")
    while not held:
        prod(one)
    other.evaluate("window.signal = true")
    for _ in range(3):
        prod(other)
    assert len(held) == len(sent) == 1
    held[0].continue_()
    for page in (one, other):
        page.wait_for_selector(".row.waits", state="detached")
        assert waits(page) == 0
    assert len(sent) == 1
    assert sent[0].count('"id":') == 4
    assert ticks(house, keys) == dict.fromkeys(keys, 1)


def let_in(page: Any, app: FastAPI, address: str) -> None:
    """The phone with a code that was just made."""
    page.goto(f"{address}/let-in")
    page.get_by_label("Code").fill(app.state.letting_in.invite("Invented phone", None).digits)
    page.get_by_role("button", name="Let this phone in").click()
    page.wait_for_url("**/today")


def is_kept(page: Any) -> bool:
    """Whether any page is kept on the phone to be opened without signal."""
    return bool(page.evaluate("caches.has('seen')"))


def test_a_phone_that_is_shown_the_door_keeps_its_taps_and_no_page(
    tmp_path: Path, phone: Callable[..., Any], line: Line
) -> None:
    app = create_app(settings(tmp_path), clock(), today=ON, house=House(("http://127.0.0.1",), behind=True))
    rows(app.state.book, 3)
    with serving(app) as house:
        line.leads(house)
        page = phone("/let-in", workers="allow")
        page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
        let_in(page, app, line.address)
        page.goto(f"{line.address}/2027/09?by=none")
        assert is_kept(page)
        page.context.set_offline(True)
        tap(page, 2)
        app.state.devices.show_out(1)
        page.context.set_offline(False)
        page.get_by_text("Let this phone in again; what waits stays here.").wait_for()
        until(page, "caches.has('seen').then(has => !has)")
        line.up = False
        page.goto(f"{line.address}/2027/09")
        assert "not kept on this phone" in page.inner_text("body")
        line.up = True
        let_in(page, app, line.address)
        page.goto(f"{line.address}/2027/09?by=none")
        emptied(page)
        assert is_kept(page)
        app.state.devices.show_out(2)
        page.goto(f"{line.address}/today")
        assert page.url.endswith("/let-in")
        assert not is_kept(page)
        with app.state.book.reading() as session:
            assert len([one for one in store.ticks(session) if one.id != "sown"]) == 2


def test_another_version_takes_the_place_of_the_one_that_is_kept(
    tmp_path: Path, phone: Callable[..., Any], line: Line
) -> None:
    page = phone("/today", workers="allow")
    page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
    for path in ("/today", "/larder"):
        page.goto(line.address + path)
    before = page.evaluate("caches.keys()")
    changed = replace(settings(tmp_path), static=shutil.copytree(settings(tmp_path).static, tmp_path / "static"))
    with (changed.static / "twelvemonth.css").open("a") as sheet:
        sheet.write("\nmain { outline: 3px solid; }\n")
    app = create_app(changed, clock(), today=ON)
    rows(app.state.book, 3)
    with serving(app) as house:
        line.leads(house)
        page.goto(f"{line.address}/today")
        until(page, f"caches.keys().then(now => now.length === 2 && !now.every(name => {before}.includes(name)))")
        line.up = False
        page.goto(f"{line.address}/larder")  # not asked for since, and yet dressed as the new version is
        assert "As last seen on" in page.inner_text(".seen")
        assert page.evaluate("getComputedStyle(document.querySelector('main')).outlineStyle") == "solid"
