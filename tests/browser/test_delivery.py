"""From a delivery to the last pack eaten: typed, shown, saved, packed, found in the larder, eaten up."""

import re
from collections.abc import Callable
from typing import Any

NAME = "A quarter of an invented pig"


def text(page: Any, where: str = "main") -> str:
    """What stands there, with plain spaces."""
    return str(page.locator(where).inner_text()).replace("\u00a0", " ")


def saved(page: Any, address: str) -> None:
    """A delivery typed from the page Meat, looked at, and saved."""
    page.goto(f"{address}/meat")
    page.get_by_role("link", name="A delivery", exact=True).click()
    page.get_by_label("What came, a cut to a line").fill("mince 2 kg\nleg 5 kg\nliver 0.6 kg, fresh")
    page.get_by_label("Meat", exact=True).select_option("pork")
    page.get_by_role("radio", name="At home").check()
    page.get_by_label("What you call it").fill(NAME)
    page.get_by_role("button", name="Show first").click()
    told = text(page, "#told")
    assert "Within one day, by Thursday 16 September\nmince 2 kg and liver 0.6 kg to eat" in told
    assert "neither sold" in told, "home-killed: for the household alone"
    page.get_by_role("button", name="Save it").click()
    page.wait_for_url("**/meat/delivery/delivery-*")


def eat_one(page: Any, address: str) -> None:
    """One pack is used, by the form of the batch's page."""
    page.goto(address)
    form = page.locator('form[action$="/take"]:has(input[name="amount"]:not([type="hidden"]))').first
    form.evaluate("at => { for (; at; at = at.parentElement) if (at.tagName === 'DETAILS') at.open = true }")
    form.locator('input[name="amount"]').fill("1")
    form.get_by_role("button").click()
    page.wait_for_url("**?put=*")


def test_from_a_delivery_to_the_last_pack(filled: str, window: Callable[..., Any]) -> None:
    page = window("phone")
    saved(page, filled)
    assert page.get_by_role("heading", level=1).inner_text() == NAME
    mince = page.get_by_role("group", name="Mince")
    mince.get_by_role("checkbox").check()
    mince.get_by_label("Packs").fill("2")
    page.get_by_role("button", name="The ticked are packed").click()
    batch = page.get_by_role("link", name=re.compile(r"^\d\d-\d+: 2.packs left"))
    number, address = batch.inner_text().partition(":")[0], f"{filled}{batch.get_attribute('href')}"
    assert page.get_by_role("group", name="Leg").count() == 1, "the leg waits still"
    page.get_by_role("button", name="All of it is packed").click()
    page.get_by_text("All of it is dealt with.").wait_for()

    page.goto(f"{filled}/larder")
    assert "Pork mince" in text(page)
    page.goto(address)
    assert number in text(page)
    assert "at home" in text(page).lower(), "how it was killed goes with the batch"
    for _ in range(2):
        eat_one(page, address)
    page.goto(f"{filled}/larder")
    assert "Pork mince" not in text(page), "the last pack is eaten"
