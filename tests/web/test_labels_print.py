"""Labels in a real browser: each sits in its cell of the sheet, and a sheet is one side of A4.

Source of the sizes and margins: the drawings that several makers print of common A4 label sheets; common practice.
"""

import re
import shutil
from pathlib import Path

import pytest

from app.web.larder.labels import Wish, labels_page
from app.web.templating import draw
from tests.web import sample, sample_larder
from tests.web.preview import MADE
from tests.web.sample_jobs import frame

playwright = pytest.importorskip("playwright.sync_api")
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
pytestmark = [pytest.mark.browser, pytest.mark.skipif(not BROWSER, reason="there is no browser here")]

CELLS = {
    "21": (3, 63.5, 38.1, 7.2, 15.1, 66.0), "24": (3, 63.5, 33.9, 7.2, 12.9, 66.0),
    "40": (4, 45.7, 25.4, 9.7, 21.5, 48.3), "65": (5, 38.1, 21.2, 4.7, 10.7, 40.6),
}  # fmt: skip
"""Labels across; width and height; the first one's left and top; from one to the next: all in mm."""

MEASURE = """() => [...document.querySelectorAll('.jarsheet')].map(sheet => {
  const paper = sheet.getBoundingClientRect(), mm = x => x * 25.4 / 96
  return [...sheet.querySelectorAll('li')].map(l => { const r = l.getBoundingClientRect()
    return [mm(r.left - paper.left), mm(r.top - paper.top), mm(r.width), mm(r.height),
            l.scrollHeight - l.clientHeight, l.scrollWidth - l.clientWidth] }) })"""


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory):
    folder = Path(tmp_path_factory.mktemp("labels"))
    shutil.copytree(sample.ROOT / "static", folder / "static")
    with playwright.sync_playwright() as started:
        opened = started.chromium.launch(executable_path=BROWSER, args=["--no-sandbox", "--disable-gpu"])
        shown = opened.new_page(viewport={"width": 1280, "height": 900})
        shown.emulate_media(media="print")
        yield shown, folder
        opened.close()


@pytest.mark.common_practice
@pytest.mark.parametrize("size", sorted(CELLS))
def test_labels_sit_in_their_cells(page, size: str) -> None:
    shown, folder = page
    long = sample_larder.CHOPS._replace(what="pork sausages and mince of the older sow", left=123.45)
    rows = [long._replace(id=f"b{n}") for n in range(int(size) + 1)]
    made = labels_page(frame("Labels", "larder"), rows, rows, Wish(size, "1", 0), "http://192.168.100.100:8000")
    (folder / "print.html").write_text(draw(MADE, made), encoding="utf-8")
    shown.goto((folder / "print.html").as_uri())
    first, second = shown.evaluate(MEASURE)
    across, wide, high, left, top, pitch = CELLS[size]
    assert (len(first), len(second)) == (int(size), 1)
    for n, (x, y, width, height, below, beside) in enumerate(first):
        assert (x, y) == pytest.approx((left + n % across * pitch, top + n // across * high), abs=0.3)
        assert (width, height) == pytest.approx((wide, high), abs=0.1)
        assert max(below, beside) <= 1, "what stands on it goes beyond it"
    pdf = shown.pdf(prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == 2
    assert re.search(rb"/MediaBox\s*\[0 0 59[45][.\d]* 84[12]", pdf)  # 210 by 297 mm in points
