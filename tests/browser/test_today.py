"""Today on a phone: a thumb, a number, a tick taken back, the weather tapped; the evening on one screen; its bytes.

Sources: WCAG 2.2, 2.5.5 Target Size (Enhanced: 44 CSS px; here 48, for gloves) and 1.4.10 Reflow (a phone at 200 % is
195 CSS px wide).
"""

import re
from collections.abc import Callable
from typing import Any

import pytest

FIRST_VISIT_BYTES, LATER_BYTES = 60_000, 15_000
"""What Today may weigh over the wire: our own budget."""

SMALL = """() => [...document.querySelectorAll('main a, main button, main input:not([type=hidden]), main summary')]
  .filter(e => e.checkVisibility() && !e.closest('.row .x, .off'))
  .filter(e => e.getBoundingClientRect().height < 48)
  .map(e => e.outerHTML.slice(0, 90))"""


def weighs(page: Any, address: str) -> int:
    """The bytes that came over the wire for one visit."""
    client = page.context.new_cdp_session(page)
    client.send("Network.enable")
    came: list[float] = []
    client.on("Network.loadingFinished", lambda what: came.append(what["encodedDataLength"]))
    page.goto(address, wait_until="load")
    page.wait_for_function("document.fonts.status === 'loaded'")
    client.detach()
    return int(sum(came))


def test_today_is_light_over_the_wire(filled: str, window: Callable[..., Any]) -> None:
    page = window("phone")
    assert weighs(page, f"{filled}/today") <= FIRST_VISIT_BYTES
    assert weighs(page, f"{filled}/today") <= LATER_BYTES


def test_every_target_of_today_is_48_px(filled: str, window: Callable[..., Any]) -> None:
    page = window("phone")
    page.goto(f"{filled}/today")
    assert page.evaluate(SMALL) == []
    row = page.locator("li.row:has(button.tick):not(:has(.ask)) >> nth=3")
    box = row.bounding_box()
    row.click(position={"x": box["width"] - 4, "y": box["height"] - 6})
    page.wait_for_url("**/job/**")  # the whole row opens its job; only the box ticks it


@pytest.mark.parametrize("path", ["/today", "/evening"])
def test_at_twice_the_size_nothing_runs_off_the_page(filled: str, window: Callable[..., Any], path: str) -> None:
    page = window("phone")
    page.set_viewport_size({"width": 195, "height": 422})
    page.goto(f"{filled}{path}")
    assert page.evaluate("document.documentElement.scrollWidth") <= 195


def test_a_tick_with_its_number_and_its_undo(filled: str, window: Callable[..., Any]) -> None:
    page = window("phone")
    page.goto(f"{filled}/today")
    row = page.locator("li.row:has(label.ask)").first
    key = row.get_attribute("data-task")
    row = page.locator(f'li.row[data-task="{key}"]')
    row.locator(".ask input").fill("3")
    row.locator(".ask input").press("Enter")
    row.locator("button.tick.on").wait_for()
    undo = page.locator("#status").get_by_role("button", name="Take back")
    assert undo.bounding_box()["height"] >= 44
    page.reload()
    done = page.locator(f'#done li[data-task="{key}"]')
    done.locator("button.tick.on").tap()
    page.locator(f'li[data-task="{key}"] .ask input').wait_for()


def test_the_weather_tapped_changes_the_list_and_tapped_again_changes_it_back(
    filled: str, window: Callable[..., Any]
) -> None:
    page = window("phone")
    page.goto(f"{filled}/today")
    before = page.locator("main").inner_text()
    today = page.get_by_role("group", name="The weather, Today").or_(page.locator("header form.taps"))
    today.get_by_role("button", name="Today: wet").tap()
    page.get_by_role("heading", name="Under cover, while it is wet").wait_for()
    assert "wants a dry day" in page.locator("main").inner_text()
    today.get_by_role("button", name="Today: frost in the night").tap()
    page.get_by_role("heading", name=re.compile("Before tonight")).wait_for()
    assert page.evaluate("document.activeElement.textContent") == "Frost", "the finger's place is kept"
    today.get_by_role("button", name="Today: frost in the night").tap()
    page.get_by_text("Today: wet.").wait_for()
    today.get_by_role("button", name="Today: wet").tap()
    page.get_by_text("no weather is told any more").wait_for()
    assert page.locator("main").inner_text() == before


def test_six_jobs_and_the_save_are_on_one_screen_in_the_evening(filled: str, window: Callable[..., Any]) -> None:
    page = window("phone", scripting=False)
    page.goto(f"{filled}/evening")
    boxes = [box.bounding_box() for box in page.locator(".evenly > .rows .did").all()]
    save = page.get_by_role("button", name="Save").bounding_box()
    assert len(boxes) == 6
    assert boxes[-1]["y"] + boxes[-1]["height"] <= save["y"]
    assert save["y"] + save["height"] <= page.viewport_size["height"]
    page.locator(".evenly > .rows label:not(.ask)").first.tap()
    page.get_by_role("button", name="Save").tap()
    page.get_by_text("One job ticked.").wait_for()
