"""The pages in a real browser: axe finds nothing, fingers find their targets, 320 px is wide enough, A4 is long enough.

Sources: WCAG 2.2, 1.4.10 Reflow (320 CSS px) and 2.5.5 Target Size (Enhanced: 44 CSS px); ISO 216 for A4.
"""

import re
import shutil
from itertools import pairwise

import pytest

from app.web import pages
from app.web.parts import Status
from app.web.templating import draw
from tests.browser.axe import COLOURS, faults
from tests.web import sample
from tests.web.preview import MADE, drawn

playwright = pytest.importorskip("playwright.sync_api")
axe = pytest.importorskip("axe_playwright_python.sync_playwright")
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
pytestmark = [pytest.mark.browser, pytest.mark.skipif(not BROWSER, reason="there is no browser here")]
NAMES = list(sample.every())


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    made = tmp_path_factory.mktemp("pages")
    drawn(made)
    return made


@pytest.fixture(scope="module")
def browser():
    with playwright.sync_playwright() as started:
        options = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
        opened = started.chromium.launch(executable_path=BROWSER, args=options)
        yield opened
        opened.close()


def look(browser, width, height, scheme="light"):
    return browser.new_page(viewport={"width": width, "height": height}, color_scheme=scheme, locale="en-GB")


SMALL = """[...document.querySelectorAll('button, .button, .bottom a, select, textarea, .pick')]
    .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 44).map(e => e.outerHTML.slice(0, 90))"""
PARTS = 6
"""A page is loaded once for all that is looked at, and the pages are shared out, since they are many."""


@pytest.mark.timeout(600)
@pytest.mark.parametrize("part", range(PARTS))
def test_every_page_is_read_hit_and_as_narrow_as_it_must_be(browser, folder, part):
    """axe finds nothing on a laptop in light and on a phone in the dark; thumbs hit; 320 px hold it."""
    page = look(browser, 390, 844)
    found = []
    for name in NAMES[part::PARTS]:
        page.emulate_media(color_scheme="light")
        page.goto((folder / f"{name}.html").as_uri())
        page.set_viewport_size({"width": 390, "height": 844})
        found += [f"{name}: too small for a thumb: {small}" for small in page.evaluate(SMALL)]
        page.set_viewport_size({"width": 1280, "height": 844})
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        found += [f"{name}: light, laptop: {fault}" for fault in faults(page)]
        page.set_viewport_size({"width": 390, "height": 844})
        page.emulate_media(color_scheme="dark")
        found += [f"{name}: dark, phone: {fault}" for fault in faults(page, only=COLOURS)]
        page.set_viewport_size({"width": 320, "height": 640})
        wide = page.evaluate("document.documentElement.scrollWidth")
        found += [f"{name}: {wide} px wide where there are 320"] if wide > 320 else []
    page.close()
    assert found == []


def test_what_is_read_in_the_yard_has_sevenfold_contrast(browser, folder):
    """WCAG 2.2, 1.4.6 Contrast (Enhanced)."""
    for scheme in ("light", "dark"):
        page = look(browser, 390, 844, scheme)
        page.goto((folder / "today.html").as_uri())
        rules = {"runOnly": ["color-contrast-enhanced"], "rules": {"color-contrast-enhanced": {"enabled": True}}}
        answer = axe.Axe().run(page, context="main", options=rules).response
        assert [node["html"] for fault in answer["violations"] for node in fault["nodes"]] == []
        assert answer["passes"]
        page.close()


def test_ticks_are_48_px_with_12_between_on_the_phone_and_44_on_the_laptop(browser, folder):
    page = look(browser, 390, 844)
    page.goto((folder / "today.html").as_uri())
    boxes = page.evaluate("[...document.querySelectorAll('button.tick')].map(b => b.getBoundingClientRect().toJSON())")
    assert len(boxes) > 8
    assert all(box["width"] >= 48 and box["height"] >= 48 for box in boxes)
    assert all(b["top"] - a["bottom"] >= 12 for a, b in pairwise(boxes))
    page.close()
    page = look(browser, 1280, 800)
    page.goto((folder / "month.html").as_uri())
    smallest = page.evaluate(
        "Math.min(...[...document.querySelectorAll('button.tick')].map(b => b.offsetHeight).filter(h => h))"
    )
    assert smallest >= 44
    page.close()


def test_today_is_one_unbroken_line_and_windows_stand_on_the_scale(browser, folder):
    page = look(browser, 1280, 800)
    page.goto((folder / "month.html").as_uri())
    xs = page.evaluate(
        """[...document.querySelectorAll('.list > .group > .rows .w .n')].filter(e => e.checkVisibility())
        .map(e => Math.round(e.getBoundingClientRect().x))"""
    )
    head = page.evaluate(
        "(r => r.x + r.width / 2)(document.querySelector('.scale .today rect').getBoundingClientRect())"
    )
    assert len(set(xs)) == 1
    assert abs(xs[0] - head) <= 1
    page.close()


def test_the_month_is_printed_on_one_side_of_a4(browser, folder, tmp_path):
    page = look(browser, 1280, 800)
    page.goto((folder / "month.html").as_uri())
    pdf = page.pdf(prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == 1
    assert re.search(rb"/MediaBox\s*\[0 0 59[45][.\d]* 84[12]", pdf)  # 210 by 297 mm in points
    page.close()


POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "form-action 'self'; frame-ancestors 'none'; base-uri 'none'; object-src 'none'; manifest-src 'self'"
)
KINDS = {".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}


def serve(page, folder, tick):
    """Answer a page's requests from ``folder`` under the content policy, and a tick with ``tick``."""

    def answer(route):
        path = folder / route.request.url.removeprefix("http://holding.test/")
        headers = {"Content-Security-Policy": POLICY, "Content-Type": KINDS.get(path.suffix, KINDS[".html"])}
        if route.request.method == "POST":
            tick(route, headers)
        elif path.is_file():
            route.fulfill(body=path.read_bytes(), headers=headers)
        else:
            route.fulfill(body="another page", headers=headers)

    page.route("http://holding.test/**", answer)


def test_a_tick_swaps_its_row_says_so_and_keeps_the_focus(browser, folder):
    sent, complaints = [], []

    def tick(route, headers):
        sent.append(route.request.post_data)
        route.fulfill(body=draw(MADE, sample.ticked()), headers=headers)

    page = look(browser, 1280, 800)
    page.on("console", lambda message: complaints.append(message.text) if message.type == "error" else None)
    serve(page, folder, tick)
    page.goto("http://holding.test/month.html")
    row = page.locator("li[data-task]").first
    before = page.locator("li[data-task]").nth(2).get_attribute("id")
    moved = page.locator("#" + sample.ticked().moved[0].anchor)
    assert "4 Oct" not in moved.inner_text()
    row.locator("button").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("#status:not(:empty)")
    assert "key=sieve" in sent[0]
    assert "shown=2027-09-13%2F2027-09-14%2F2027-09-17" in sent[0]
    assert "past" in row.get_attribute("class")
    assert row.locator("button").get_attribute("aria-label").startswith("Take back")
    assert page.evaluate("document.activeElement.id") == row.locator("button").get_attribute("id")
    assert "One job moves" in page.locator("#status").inner_text()
    assert page.locator("li[data-task]").nth(2).get_attribute("id") == before
    assert "by 22 Sep" in moved.locator(".when").text_content().replace("\u00a0", " ")
    assert page.locator("#summary").count() == 1
    assert complaints == []
    page.close()


def test_a_tick_that_is_not_sent_is_kept_and_shown_as_waiting(browser, folder):
    page = look(browser, 390, 844)
    serve(page, folder, lambda route, headers: route.abort())
    page.goto("http://holding.test/today.html")
    button = page.locator("button.tick:not(.on)").first
    button.click()
    page.wait_for_selector("li.waits[data-task]")
    assert "waits to be sent" in page.locator("li.waits[data-task]").inner_text()
    assert "1 waiting to be sent" in page.locator("#box").inner_text()
    assert button.get_attribute("aria-label").startswith("Done")
    page.close()


def test_a_refusal_speaks_and_leaves_the_row(browser, folder):
    refusal = pages.Ticked(None, Status("Not before the 23rd: it is inside the withdrawal.", alert=True))

    def tick(route, headers):
        route.fulfill(status=409, body=draw(MADE, refusal), headers={**headers, "HX-Reswap": "none"})

    page = look(browser, 1280, 800)
    serve(page, folder, tick)
    page.goto("http://holding.test/month.html")
    rows = page.locator("li[data-task]").count()
    page.locator("button.tick").first.click()
    page.wait_for_selector("#status.alert")
    assert "Not before the 23rd" in page.locator("#status").inner_text()
    assert page.locator("li[data-task]").count() == rows
    page.close()


def test_a_tick_works_as_a_plain_form_without_scripting(browser, folder):
    sent = []
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()

    def tick(route, headers):
        sent.append((route.request.url, route.request.post_data))
        route.fulfill(body="ticked", headers=headers)

    serve(page, folder, tick)
    page.goto("http://holding.test/today.html")
    page.locator("button.tick:not(.on)").first.click()
    page.wait_for_url("**/tick")
    assert sent[0][1].startswith("key=flock.evening")
    context.close()


def test_arrows_turn_the_month_but_not_while_typing(browser, folder):
    page = look(browser, 1280, 800)
    serve(page, folder, lambda route, headers: route.abort())
    page.goto("http://holding.test/month.html")
    page.keyboard.press("ArrowRight")
    page.wait_for_url("**/2027/10")
    page.goto("http://holding.test/month.html")
    page.keyboard.press("ArrowLeft")
    page.wait_for_url("**/2027/08")
    page.goto("http://holding.test/entries.html")
    page.focus("#q")
    page.keyboard.press("ArrowRight")
    assert page.url.endswith("entries.html")
    page.close()
