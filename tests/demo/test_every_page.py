"""Every page that can be reached from the made-up holding's first one is there, on whatever day it is started."""

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import date, datetime
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from app.main import create_app
from app.settings import read_settings
from tests.made_up import put

NO_PAGES = ("/calendar/", "/calendar.ics")
"""What is linked to and is a calendar."""
MOST = {"2026-11-25": 260, "2028-02-29": 130}
"""So many pages are looked at, of those that are alike the first few: on a day of winter and on the leap day."""
FEW = 40
"""And on the other days, with those named below."""
ALIKE = {
    r"/job/": 25,
    r"/entry/": 45,
    r"/sheet/": 45,
    r"/\d{4}/\d{2}": 30,
    r"/add/": 12,
    r"/found/": 4,
    r"/garden/bed/": 20,
    r"/garden/seed/": 12,
    r"/larder/": 12,
    r"/livestock/": 8,
    "": 1000,
}


@contextmanager
def demonstration(folder: Path, today: str) -> Iterator[TestClient]:
    """The made-up holding as of a day, to be asked for its pages."""
    put(folder, today)
    app = create_app(
        read_settings({}, folder),
        lambda: datetime.fromisoformat(f"{today}T09:00:00+00:00"),
        today=date.fromisoformat(today),
        made_up=True,
    )
    with TestClient(app, base_url="http://localhost") as client:
        yield client


def links(page: str) -> list[str]:
    """The addresses of our own that a page links to, without what follows a #."""
    found = [unescape(href).partition("#")[0] for href in re.findall(r'<a [^>]*?href="([^"]+)"', page)]
    return [
        href
        for href in dict.fromkeys(found)
        if href.startswith("/")
        and not href.startswith(("/calendar/", "/calendar.ics", "/round"))
        and not href.endswith(".csv")
    ]


def crawled(client: TestClient, most: int) -> dict[str, str]:
    """Pages reached by links from the first one, at most so many, by address."""
    left = dict(ALIKE)
    queue, pages = ["/"], {}
    seen = {"/"}
    while queue and len(pages) < most:
        address = queue.pop(0)
        kind = next(kind for kind in left if re.match(kind, address))
        left[kind] -= 1
        if left[kind] < 0:
            continue
        answer = client.get(address)
        assert answer.status_code == 200, f"{address} answers {answer.status_code}"
        pages[address] = answer.text
        for href in links(answer.text):
            if href not in seen:
                seen.add(href)
                queue.append(href)
    return pages


def kept(folder: Path) -> list[str]:
    """Every row there is."""
    (file,) = folder.rglob("twelvemonth.sqlite3")
    with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as database:
        return list(database.iterdump())


@pytest.mark.parametrize("today", ["2026-11-25", "2026-12-31", "2028-02-29", "2027-06-21"])
def test_every_page_is_there_and_has_something_on_it(today: str, tmp_path: Path) -> None:
    with demonstration(tmp_path, today) as client:
        client.get("/today")
        before = kept(tmp_path)
        pages = crawled(client, MOST.get(today, FEW))
        first = f"/{today[:4]}/{today[5:7]}"
        for address in (
            "/today",
            "/entries",
            "/found",
            "/calendar",
            "/household",
            "/add",
            "/evening",
            "/weather",
            "/weather/record",
            "/weather/reading",
            "/weather/months",
            "/garden",
            "/garden/sums?sheet=carrot&basis=mouths&amount=4",
            "/garden/table",
            "/garden/seed",
            "/garden/seed/crossing",
            "/garden/seed/labels",
            "/garden/ways?sheet=apple",
            "/larder",
            "/larder/add",
            "/larder/labels?size=65",
            "/livestock",
            "/livestock/hens",
            "/livestock/pigs",
            "/livestock/medicine",
            "/livestock/register/movements",
            "/kit",
            "/search?q=leek",
            first,
        ):
            pages.setdefault(address, client.get(address).text)
        assert kept(tmp_path) == before, "to look at a page changes nothing"
    assert len(pages) > (80 if today in MOST else 40)
    for address, text in pages.items():
        assert "</html>" in text, address
        assert not re.search(
            r"(?<!<span>)\bNone\b|\bnan\b|undefined|&lt;[a-z_.]+ object at", text.partition("<main")[2]
        ), address
        assert not re.search(r'\sstyle="|\son[a-z]+="', text), address
    rows = {address: text.count("data-task=") for address, text in pages.items()}
    assert rows[first] >= 30
    assert rows["/today"] >= 4
    assert "late" in pages[first]
    assert pages["/entries"].count('href="/entry/') >= 30
    chains = [text.count('href="/job/') for address, text in pages.items() if address.startswith("/entry/")]
    if today in MOST:
        assert sum(jobs >= 3 for jobs in chains) > MOST[today] / 13, "most entries have a chain to show"
        assert any("Why these days" in text for address, text in pages.items() if address.startswith("/job/"))
    for name in ("Maud", "Ansel", "Tib", "Old Jory"):
        assert name in pages["/household"]


def test_far_months_are_there_and_impossible_ones_are_not(tmp_path: Path) -> None:
    with demonstration(tmp_path, "2026-11-25") as client:
        for month in ("2025/12", "2029/11", "2029/12", "2046/06"):
            answer = client.get(f"/{month}")
            assert answer.status_code == 200, month
            assert "data-task=" in answer.text, month
        for month in ("2027/13", "2027/00", "0000/01", "9999/12"):
            assert client.get(f"/{month}").status_code == 404, month
