"""Every page is drawn from invented data: well formed, labelled, and free of anything the content policy forbids."""

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from app.web import pages
from app.web.pages.page import Page
from app.web.templating import draw, environment
from tests.web import sample

MADE = environment(sample.ROOT / "templates", lambda name: f"/static/{name}?v=1")
PAGES = sample.every()
VOID = {"meta", "link", "input", "br", "hr", "img"}
TEXTS = {path.name: path.read_text(encoding="utf-8") for path in (sample.ROOT / "templates").rglob("*.html")}


class Tree(HTMLParser):
    """Elements in order, ids, labels and whether every tag is closed where it was opened."""

    def __init__(self, text):
        super().__init__()
        self.open, self.elements, self.faults, self.title = [], [], [], ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs), tuple(self.open)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.elements.append((tag, dict(attrs), tuple(self.open)))

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(tag)

    def handle_data(self, data):
        if self.open[-1:] == ["title"]:
            self.title += data

    def attributes(self, name):
        return [attrs[name] for _, attrs, _ in self.elements if name in attrs]


@pytest.fixture(scope="module")
def drawn():
    return {name: draw(MADE, page) for name, page in PAGES.items()}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_well_formed_titled_and_in_its_language(drawn, name):
    tree = Tree(drawn[name])
    assert drawn[name].startswith("<!doctype html>")
    assert (tree.faults, tree.open) == ([], [])
    assert tree.title.endswith(" · Twelvemonth")
    assert tree.elements[0][1]["lang"] == "en-GB"
    assert sum(tag == "h1" for tag, _, _ in tree.elements) == 1
    assert sum(tag == "main" for tag, _, _ in tree.elements) == 1


@pytest.mark.parametrize("name", PAGES)
def test_ids_are_used_once_and_what_points_at_one_finds_it(drawn, name):
    tree = Tree(drawn[name])
    ids = tree.attributes("id")
    assert sorted(ids) == sorted(set(ids))
    wanted = {
        i for a in ("aria-labelledby", "aria-describedby", "for") for text in tree.attributes(a) for i in text.split()
    }
    wanted |= {href[1:] for tag, attrs, _ in tree.elements if tag == "use" for href in [attrs["href"]]}
    assert wanted <= set(ids)


@pytest.mark.parametrize("name", PAGES)
def test_every_box_has_a_label(drawn, name):
    tree = Tree(drawn[name])
    labelled = {attrs.get("for") for tag, attrs, _ in tree.elements if tag == "label"}
    for tag, attrs, inside in tree.elements:
        if tag in ("input", "select", "textarea") and attrs.get("type") != "hidden":
            assert attrs.get("id") in labelled or "label" in inside, attrs


PARTS = {"ticked": sample.ticked(), "taking": sample.weather_taking()}


@pytest.mark.parametrize("name", [*PAGES, *PARTS])
def test_nothing_that_the_content_policy_forbids(drawn, name):
    text = drawn.get(name) or draw(MADE, PARTS[name])
    tree = Tree(text)
    assert not [a for _, attrs, _ in tree.elements for a in attrs if a == "style" or a.startswith(("on", "hx-on"))]
    assert all(attrs.get("src") for tag, attrs, _ in tree.elements if tag == "script")
    assert not [tag for tag, _, _ in tree.elements if tag == "style"]
    fetched = [v for _, attrs, _ in tree.elements for k, v in attrs.items() if k in ("src", "action", "hx-post")]
    fetched += [attrs["href"] for tag, attrs, _ in tree.elements if tag == "link"]
    assert all(address.startswith("/") and not address.startswith("//") for address in fetched)


@pytest.mark.parametrize("name", TEXTS)
def test_templates_trust_nothing_that_was_typed_and_reckon_nothing(name):
    text = TEXTS[name]
    assert "|safe" not in text.replace(" ", "")
    assert "Markup" not in text
    assert not re.search(r"\{[{%][^}]*\b(now|today)\(", text)


def test_there_is_a_template_for_each_page_and_each_is_drawn_here():
    kinds = {kind for kind in vars(pages).values() if isinstance(kind, type) and issubclass(kind, Page)} - {Page}
    assert {type(page) for page in (*PAGES.values(), *PARTS.values())} == kinds
    assert all((sample.ROOT / "templates" / kind.template).is_file() for kind in kinds)


def test_what_was_typed_is_escaped_everywhere():
    page = sample.month()
    odd = '<script>"&'
    item = replace(page.groups[0].items[0], title=odd, sub=odd, state=odd, pressing=odd)
    text = draw(MADE, replace(page, groups=(replace(page.groups[0], items=(item,)),)))
    assert odd not in text
    assert text.count("&lt;script&gt;&#34;&amp;") >= 4


def test_a_row_carries_its_key_and_one_plain_form(drawn):
    tree = Tree(drawn["month"])
    rows = [attrs for _, attrs, _ in tree.elements if "data-task" in attrs]
    forms = [attrs for tag, attrs, _ in tree.elements if tag == "form" and attrs["action"] == "/tick"]
    assert len(rows) > 75
    assert forms
    assert all(form["method"] == "post" for form in forms)
    names = {attrs.get("name") for tag, attrs, inside in tree.elements if tag == "input" and "li" in inside}
    assert {"key", "id", "shown", "answers"} <= names


def test_a_ticks_answer_is_under_four_kilobytes_and_speaks_out_of_band():
    text = draw(MADE, sample.ticked())
    assert len(text.encode()) < 4096
    tree = Tree(text)
    swapped = {attrs["id"] for _, attrs, _ in tree.elements if "hx-swap-oob" in attrs}
    assert {"status", "summary"} <= swapped
    assert len(swapped) == 3  # and the one row that moved


def test_the_status_line_is_there_before_anything_is_swapped(drawn):
    for text in drawn.values():
        statuses = [attrs for _, attrs, _ in Tree(text).elements if attrs.get("id") == "status"]
        assert [s["role"] for s in statuses] == ["status"]


def test_the_same_page_is_drawn_the_same_twice_and_with_rows_remembered_or_not(drawn):
    fresh = environment(sample.ROOT / "templates", lambda name: f"/static/{name}?v=1")
    assert draw(fresh, sample.month()) == drawn["month"] == draw(fresh, sample.month())


def test_style_and_script_fetch_nothing_from_elsewhere():
    for path in (sample.ROOT / "static").iterdir():
        if path.suffix == ".png":
            continue
        text = path.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
        assert not re.search(r"https?:|@import|@font-face|url\(", text), path.name
