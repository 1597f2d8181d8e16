"""The whole way: first run, something put down, the month, a tick, what follows moved, and taken back."""

import re
from collections.abc import Callable
from typing import Any

import pytest

NAME = "The big crock"


def first_run(page: Any, address: str) -> None:
    """The three screens."""
    page.goto(address)
    assert page.url.endswith("/start")
    page.get_by_label("What the holding is called").fill("Nowhere Garth")
    page.get_by_label("Nation").select_option("england")
    page.get_by_label("Latitude").fill("54.3")
    page.get_by_label("Longitude").fill("-2")
    page.get_by_label("Height above the sea").fill("250")
    page.get_by_label("Whose weather is most like yours?").select_option("north-yorkshire")
    page.get_by_role("button", name="On").click()
    page.get_by_label("Mouths to feed").fill("4")
    page.get_by_role("button", name="On").click()
    page.get_by_role("checkbox", name=re.compile("^Gutters")).check()
    page.get_by_role("button", name="Fill my year").click()
    page.wait_for_url("**/2027/09")


def put_down_kraut(page: Any) -> str:
    """A crock of sauerkraut for three days from now, its dates seen before it is saved; gives its id."""
    page.get_by_role("link", name="Add", exact=True).locator("visible=true").first.click()
    page.get_by_role("link", name=re.compile("^Sauerkraut")).click()
    page.get_by_label("Shredded on").fill("2027-09-18")
    page.get_by_label("What you call it").fill(NAME)
    page.get_by_label("Cabbage, trimmed").fill("8")
    page.get_by_role("button", name="Show the dates").click()
    dates = page.locator("#dates")
    dates.get_by_role("listitem").nth(3).wait_for()  # what would follow is shown before it is saved
    dates.get_by_role("button").click()
    page.wait_for_url("**/entry/*")
    assert page.get_by_role("heading", level=1).inner_text() == NAME
    return str(page.url).rpartition("/")[2].partition("?")[0]


def follows(page: Any, address: str, entry: str) -> str:
    """What an entry's page says of its jobs: every one with its days."""
    page.goto(f"{address}/entry/{entry}")
    return str(page.locator("main").inner_text())


def days(text: str) -> list[str]:
    """The windows in a text."""
    return re.findall(r"from\s\d[^\n]*by\s\d+\s[A-Z][a-z]{2}|done on[^\n]*", text.replace("\u00a0", " "))


@pytest.mark.parametrize(("size", "scripting"), [("laptop", False), ("phone", True)], ids=["plain", "scripted"])
def test_from_nothing_to_a_tick_and_back(empty: str, window: Callable[..., Any], size: str, scripting: bool) -> None:
    page = window(size, scripting=scripting)
    first_run(page, empty)
    assert page.locator("[data-task]").count() >= 1, "the year is filled"
    entry = put_down_kraut(page)
    planned = days(follows(page, empty, entry))
    assert len(planned) >= 3

    page.goto(f"{empty}/2027/09")
    row = page.locator(f'[data-task="{entry}.salt"]')
    assert row.count() == 1
    row.get_by_role("button", name=re.compile("^Done: ")).click()
    page.locator("#status").get_by_text(re.compile("^Done: ")).wait_for()
    assert re.search(r"(other jobs? moves?|other jobs move) with it", page.locator("#status").inner_text())
    if scripting:
        assert page.url.endswith("/2027/09"), "the page stayed where it was"
        row.get_by_role("button", name=re.compile("^Take back: ")).wait_for()

    moved = days(follows(page, empty, entry))
    assert moved != planned
    assert sum(old != new for old, new in zip(planned, moved, strict=False)) >= 2, "what follows came three days sooner"

    page.goto(f"{empty}/2027/09")
    page.locator("#done summary").first.click()
    page.locator(f'#done [data-task="{entry}.salt"]').get_by_role("button", name=re.compile("^Take back: ")).click()
    page.locator("#status").get_by_text(re.compile("^Taken back: ")).wait_for()
    assert days(follows(page, empty, entry)) == planned, "all is as it was"


@pytest.mark.parametrize("scripting", [True, False], ids=["scripting on", "scripting off"])
def test_what_was_typed_stays_when_something_is_wrong(filled: str, window: Callable[..., Any], scripting: bool) -> None:
    page = window("phone", scripting=scripting)
    page.goto(f"{filled}/add/sauerkraut")
    page.get_by_label("What you call it").fill(NAME)
    page.get_by_label("Cabbage, trimmed").fill("8")
    page.get_by_label("Warmth of the room").fill("hot")
    with page.expect_response(lambda got: got.request.method == "POST") as answered:
        page.get_by_role("button", name="Show the dates").click()
    assert answered.value.status in (200, 422)
    page.locator(".error").first.wait_for()
    assert page.get_by_label("What you call it").input_value() == NAME
    assert page.get_by_label("Cabbage, trimmed").input_value() == "8"
    assert page.locator(".field.bad").count() == 1


def test_the_month_turns_by_the_keyboard_alone(filled: str, window: Callable[..., Any]) -> None:
    page = window("laptop")
    page.goto(f"{filled}/2027/09")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.getAttribute('href')") == "#main", "the first stop skips the menu"
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.rel") == "next":
            break
    page.keyboard.press("Enter")
    page.wait_for_url("**/2027/10")


def test_a_tick_is_told_to_those_who_do_not_see(filled: str, window: Callable[..., Any]) -> None:
    """WAI-ARIA 1.2, 5.4: a status region stands there before it is filled, and the focus is not lost."""
    page = window("laptop")
    page.goto(f"{filled}/2027/09?by=none")
    assert page.locator("#status").get_attribute("role") == "status"
    button = page.get_by_role("button", name=re.compile("^Done: ")).first
    button.focus()
    page.keyboard.press("Enter")
    page.locator("#status").get_by_text(re.compile("^Done: ")).wait_for()
    page.wait_for_function("document.activeElement.classList.contains('tick')")
    page.locator("#status").get_by_role("button", name="Take back").click()
    page.locator("#status").get_by_text(re.compile("^Taken back: ")).wait_for()
