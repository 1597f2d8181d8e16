"""Every page of the real program: axe finds nothing, it is wide enough, and light enough to fetch in a field.

Sources: WCAG 2.2 by axe-core's rules; 1.4.10 Reflow (320 CSS px).
"""

import gzip
import re
import urllib.request
from collections.abc import Callable
from http.client import HTTPMessage
from typing import Any
from urllib.parse import urlencode

import pytest

from tests.browser.axe import COLOURS, faults

pytest.importorskip("axe_playwright_python")

MAIN = (
    "/2027/09",
    "/2027/09?as=grid",
    "/today",
    "/evening",
    "/entry/parsnips-to-seed",
    "/job/leeks.plant",
    "/calendar",
    "/weather",
    "/garden",
    "/garden/bed/2",
)
PAGES = (
    *MAIN, "/2027/09?by=entry", "/2028/02", "/2046/06", "/entries", "/found", "/household", "/add", "/entry/house-wall",
    "/entry/pigs", "/entry/last-pigs.kill+pork", "/add/tomato", "/add/bacon", "/sheet/parsnip-seed", "/sheet/bacon",
    "/sheet/weaners", "/round", "/weather/record", "/weather/reading", "/weather/months",
    "/garden/sums", "/garden/sums?sheet=carrot&basis=mouths&amount=4", "/garden/table",
    "/garden/ways", "/garden/ways?sheet=apple",
    "/livestock/days", "/livestock/feed", "/livestock/expect", "/livestock/grass",
    "/larder", "/larder/add", "/larder/labels", "/kit", "/search?q=leek",
    "/meat/cure", "/entry/leg-in-salt",
    "/livestock", "/livestock/hens", "/livestock/pigs", "/livestock/medicine", "/livestock/medicine/treat?group=hens",
    "/livestock/register/medicine", "/livestock/register/movements", "/livestock/in",
    "/upkeep", "/upkeep/years", "/upkeep/winter", "/upkeep/fit", "/upkeep/amounts", "/upkeep/wood", "/upkeep/law",
    "/upkeep/fit?air=8&humidity=80&surface=7&coating=bitumen",
    "/garden/seed", "/garden/seed/crossing", "/garden/seed/labels", "/garden/seed/bought-1",
)  # fmt: skip
FIRST_VISIT, LATER_VISIT, OUR_SCRIPT, ANSWER = 60 * 1024, 15 * 1024, 6 * 1024, 4 * 1024
FIRST_MONTH = 72 * 1024
"""A full September with every window drawn; it is planned on a laptop, and the budget of 60 KB is that of Today."""


PARTS = 6
"""A page is loaded once for all that is looked at, and the pages are shared out, since they are many."""


@pytest.mark.timeout(600)
@pytest.mark.parametrize("part", range(PARTS))
def test_axe_finds_nothing_and_no_page_is_wider_than_the_narrowest_phone(
    filled: str, window: Callable[..., Any], part: int
) -> None:
    """Of contrast, which hangs on the template and is most of axe's work, only the pages looked at each day are
    tried here; `tests/web/test_look.py` tries every template, light and dark."""
    page, found = window("laptop"), []
    for path in PAGES[part::PARTS]:
        page.set_viewport_size({"width": 1280, "height": 800})
        page.goto(filled + path)
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        found += [f"{path}: {one}" for one in faults(page, without=() if path in MAIN else ("color-contrast",))]
        page.set_viewport_size({"width": 320, "height": 640})
        wide = page.evaluate("document.documentElement.scrollWidth")
        found += [f"{path}: {wide} px wide where there are 320"] if wide > 320 else []
    assert found == []


@pytest.mark.timeout(400)
def test_the_pages_of_each_day_are_read_in_the_yard_in_the_dark(filled: str, window: Callable[..., Any]) -> None:
    page, found = window("phone", scheme="dark"), []
    for path in MAIN:
        page.goto(filled + path)
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        found += [f"{path}: {one}" for one in faults(page, only=COLOURS)]
    assert found == []


@pytest.mark.parametrize("path", ["/2027/09", "/today", "/2028/05"])
def test_a_first_visit_weighs_little(filled: str, path: str) -> None:
    """The page with all it needs, as it comes over the wire."""
    page, head = fetched(filled + path)
    html = gzip.decompress(page).decode()
    # An icon for the home screen is fetched only by who puts it there.
    parts = sorted({part for part in re.findall(r'(?:src|href)="(/static/[^"]+)"', html) if not part.endswith(".png")})
    assert any("htmx" in part for part in parts)
    weight = len(page) + len(str(head))
    for part in parts:
        body, head = fetched(filled + part)
        assert "immutable" in head["Cache-Control"], "fetched once and kept"
        weight += len(body) + len(str(head))
    assert weight < (FIRST_VISIT if path == "/today" else FIRST_MONTH)


def test_our_own_script_and_a_later_visit_weigh_little(filled: str) -> None:
    page, head = fetched(f"{filled}/today")
    assert len(page) + len(str(head)) < LATER_VISIT
    ours = re.findall(r'src="(/static/(?:twelvemonth|outbox)[^"]+)"', gzip.decompress(page).decode())
    assert len(ours) == 2
    assert sum(len(fetched(filled + part)[0]) for part in (*ours, "/sw.js")) <= OUR_SCRIPT


def test_a_ticks_answer_weighs_little(filled: str) -> None:
    html = gzip.decompress(fetched(f"{filled}/2027/09?by=none")[0]).decode()
    heaviest = 0
    forms = re.findall(r'<form method="post" action="/tick".*?</form>', html)
    assert forms
    for form in forms[:12]:
        fields = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
        body, head = fetched(f"{filled}/tick", fields, f"{filled}/2027/09")
        heaviest = max(heaviest, len(body) + len(str(head)))
        text = gzip.decompress(body).decode() if head["Content-Encoding"] == "gzip" else body.decode()
        answers = re.search(r'action="/undo".*?name="answers" value="([^"]+)"', text, re.DOTALL)
        ident = re.search(r'action="/undo".*?name="id" value="([^"]+)"', text, re.DOTALL)
        assert answers
        assert ident
        fetched(
            f"{filled}/undo",
            {"key": fields["key"], "answers": answers[1], "id": ident[1]},
            f"{filled}/2027/09",
        )
    assert 0 < heaviest < ANSWER


def fetched(url: str, form: dict[str, str] | None = None, page: str = "") -> tuple[bytes, HTTPMessage]:
    """What comes over the wire, packed as a browser asks for it."""
    headers = {"Accept-Encoding": "gzip"}
    if form is not None:
        headers |= {"HX-Request": "true", "HX-Current-URL": page, "Referer": page, "Origin": url.rpartition("/")[0]}
    body = urlencode(form).encode() if form is not None else None
    with urllib.request.urlopen(urllib.request.Request(url, body, headers), timeout=10) as answer:
        return answer.read(), answer.headers
