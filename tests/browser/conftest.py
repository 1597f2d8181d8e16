"""A server of the real program in a thread, and Debian's Chromium to look at it with."""

import shutil
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from fastapi import FastAPI

from app.main import create_app
from app.settings import read_settings
from tests.made_up import put

TODAY = "2027-09-15"
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what drives a browser, and skip it with a reason where there is none."""
    for item in items:
        if "browser" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)
            if not BROWSER:
                item.add_marker(pytest.mark.skip(reason="there is no browser here"))


@contextmanager
def served(folder: Path, *, filled: bool) -> Iterator[str]:
    """The program on a free port, empty or with the made-up holding; gives its address."""
    settings = read_settings({}, folder)
    if filled:
        put(folder, TODAY)
    app = create_app(settings, clock(), today=date.fromisoformat(TODAY), made_up=filled)
    with serving(app) as address:
        yield address


def clock() -> Callable[[], datetime]:
    """The time of day as it goes by from nine of the day that it is."""
    begun = datetime.fromisoformat(f"{TODAY}T09:00:00+00:00")
    since = time.monotonic()
    return lambda: begun + timedelta(seconds=time.monotonic() - since)


@contextmanager
def serving(app: FastAPI) -> Iterator[str]:
    """An application on a free port, in a thread; gives its address."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        server = uvicorn.Server(uvicorn.Config(app, log_level="error", timeout_graceful_shutdown=5))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
        thread.start()
        while not server.started:
            assert thread.is_alive(), "the server did not start"
            time.sleep(0.01)
        yield f"http://127.0.0.1:{listener.getsockname()[1]}"
        server.should_exit = True
        thread.join()


@pytest.fixture(scope="session")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The made-up holding, served."""
    with served(tmp_path_factory.mktemp("filled"), filled=True) as address:
        yield address


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[str]:
    """Nothing yet, served."""
    with served(tmp_path / "empty", filled=False) as address:
        yield address


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """Chromium without a window."""
    playwright = pytest.importorskip("playwright.sync_api")
    with playwright.sync_playwright() as started:
        options = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
        opened = started.chromium.launch(executable_path=BROWSER, args=options)
        yield opened
        opened.close()


WELL = (200, 303, 304, 422)
"""Answers that are no trouble; 422 is a form sent back with what is to be put right (RFC 9110, 15.5.21)."""
PATIENCE_MS = 30_000
"""A machine that is busy with other tests is slow; one that hangs is found out all the same."""
SIZES = {"laptop": (1280, 800), "phone": (390, 844)}


@pytest.fixture
def window(browser: Any) -> Iterator[Callable[..., Any]]:
    """Opens a window of a size, scripting on or off; nothing may be fetched from elsewhere, and nothing may fail."""
    contexts = []
    trouble: list[str] = []

    def opened(size: str, *, scripting: bool = True, scheme: str = "light") -> Any:
        width, height = SIZES[size]
        context = browser.new_context(
            viewport={"width": width, "height": height}, java_script_enabled=scripting, color_scheme=scheme,
            locale="en-GB", has_touch=size == "phone",
        )  # fmt: skip
        contexts.append(context)
        page = context.new_page()
        page.clock.set_system_time(f"{TODAY}T09:00:00Z")  # a phone whose clock is the house's; another is asked
        page.set_default_timeout(PATIENCE_MS)
        page.on("pageerror", lambda error: trouble.append(f"script: {error}"))
        page.on("console", lambda said: trouble.append(f"console: {said.text}") if _grave(said) else None)
        page.on("request", lambda asked: None if _ours(asked.url) else trouble.append(f"asks for {asked.url}"))
        page.on("response", lambda got: trouble.append(f"{got.status} {got.url}") if got.status not in WELL else None)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not trouble, "\n".join(trouble)


def _grave(said: Any) -> bool:
    """An error of a script; that an answer was no 200 is judged by the answer."""
    return bool(said.type == "error" and not said.text.startswith("Failed to load resource"))


def _ours(url: str) -> bool:
    return url.startswith(("http://127.0.0.1:", "data:", "about:"))
