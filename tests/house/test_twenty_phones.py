"""Twenty phones that tap at once: no error, none lost, none doubled. ``make bench`` has them tap for a minute."""

from pathlib import Path

import httpx

from app.main import create_app
from tests.bench.phones import amiss, tap
from tests.browser.conftest import clock, serving
from tests.browser.killed import rows
from tests.web.holding import ON, settings


def test_twenty_phones_at_once_lose_and_double_nothing(tmp_path: Path) -> None:
    app = create_app(settings(tmp_path), clock(), today=ON)
    rows(app.state.book, 12)
    with serving(app) as house:
        page = httpx.get(f"{house}/2027/09?by=none").text
        keys = [part.partition('"')[0] for part in page.split('data-task="')[1:]]
        assert len(keys) >= 12
        found = tap(house, keys, "2027-09-15", turns=3, now=lambda: app.state.book.now())
        assert len(found.sent) == 60
        assert amiss(app.state.book, found) == []
