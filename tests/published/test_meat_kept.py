"""How long meat keeps, row by row as the charts print it, and how hot ham is cooked."""

from collections.abc import Mapping
from typing import Any

import pytest

from app.trade.meat.after_thaw import thawed
from app.trade.meat.cooking import safe_core
from app.trade.meat.hanging import HANGING_DAYS
from app.trade.meat.keeping import KEEPING
from tests.published.cases import cases, check

CHART = {
    "bacon": ((7, 7), (1, 1)), "raw sausage": ((1, 2), (1, 2)), "cooked sausage": ((7, 7), (1, 2)),
    "mince": ((1, 2), (3, 4)), "stewing meat": ((1, 2), (3, 4)), "chops, steaks and joints": ((3, 5), (4, 12)),
    "fresh ham": ((3, 5), (6, 6)), "cured ham, raw": ((5, 7), (3, 4)), "cooked ham, whole": ((7, 7), (1, 2)),
    "cooked ham, cut": ((3, 5), (1, 2)), "country ham, cooked": ((7, 7), (1, 1)),
    "air-dried ham, cut": ((60, 90), (1, 1)), "poultry, whole": ((1, 2), (12, 12)),
    "poultry, in pieces": ((1, 2), (9, 9)),
}  # fmt: skip
OLDER = {"dry sausage": ((14, 21), (1, 2)), "brined beef": ((5, 7), (1, 1)), "cooked meat": ((3, 4), (2, 6))}
MAKERS = {
    "pork joint": ((3, 5), (4, 8)), "pork chop": ((3, 5), (3, 4)), "lamb chop": ((3, 5), (6, 9)),
    "beef or lamb joint": ((3, 5), (6, 12)), "offal": ((1, 2), (3, 4)), "duck or goose": ((1, 2), (6, 6)),
}  # fmt: skip
FROZEN_ONLY = {
    "venison": (8, 12), "venison, minced or stewing": (2, 3), "game birds": (6, 6),
    "rabbit and other small game": (12, 12),
}  # fmt: skip


@pytest.mark.parametrize("case", cases("meat-kept"))
def test_a_computation_gives_what_its_source_says(case: Mapping[str, Any]) -> None:
    check(case)


@pytest.mark.published
@pytest.mark.parametrize("rows", [CHART, OLDER, MAKERS], ids=["FoodSafety.gov and FDA", "older USDA", "after the USDA"])
def test_days_and_months_are_those_of_the_charts(rows: Mapping[str, tuple[tuple[int, int], tuple[int, int]]]) -> None:
    """Cold Food Storage Chart of FoodSafety.gov and the FDA; its older printings; appliance tables after the USDA."""
    for what, (chilled, frozen) in rows.items():
        found = KEEPING[what]
        assert (found.chilled, found.frozen, found.basis) == (chilled, frozen, "published"), what


@pytest.mark.published
def test_game_has_months_in_the_freezer_and_no_days_in_the_fridge() -> None:
    """Michigan State University Extension 01600806; University of New Hampshire Extension."""
    for what, months in FROZEN_ONLY.items():
        assert (KEEPING[what].chilled, KEEPING[what].frozen) == (None, months)


@pytest.mark.common_practice
def test_what_rests_on_common_practice_says_so() -> None:
    """Home-cured bacon in the slab, four to six weeks; lard, half a year to a year."""
    assert {what for what, one in KEEPING.items() if one.basis == "common practice"} == {
        "lard", "home-cured bacon, in the slab"
    }  # fmt: skip
    assert KEEPING["home-cured bacon, in the slab"].chilled == (28, 42)


@pytest.mark.common_practice
def test_days_hung() -> None:
    """Pork 2 to 7, lamb 5 to 10, mutton 10 to 14, beef 14 to 28, venison 4 to 10, poultry 1 to 2."""
    assert HANGING_DAYS == {
        "pork": (2, 7), "lamb": (5, 10), "mutton": (10, 14), "beef": (14, 28), "venison": (4, 10), "poultry": (1, 2)
    }  # fmt: skip


@pytest.mark.published
def test_the_two_countries_differ_on_thawed_meat_and_are_not_mixed() -> None:
    """University of Illinois after the USDA: 3 to 5 and 1 to 2 days, refrozen; safefood: 24 hours, never raw."""
    assert [(thawed("us", "joint").days, thawed("us", "quick").days)] == [(3, 1)]
    assert [(thawed("uk", "joint").days, thawed("uk", "quick").days)] == [(1, 1)]
    assert thawed("us", "quick").refreeze_raw
    assert not thawed("uk", "quick").refreeze_raw


@pytest.mark.published
@pytest.mark.parametrize(
    ("rule", "dish", "core", "hold"),
    [
        ("us", "ham, raw", 62.8, 180), ("us", "cooked ham, heated again", 73.9, 0),
        ("uk", "ham, raw", 70, 120), ("uk", "cooked ham, heated again", 70, 120), ("us", "leftovers", 73.9, 0),
    ],
)  # fmt: skip
def test_ham_and_what_is_heated_again(rule: str, dish: str, core: float, hold: int) -> None:
    """USDA chart: raw ham 145 °F and three minutes, cooked ham 165 °F unless of a plant; FSA: 70 °C, 2 min."""
    found = safe_core(rule, dish)  # type: ignore[arg-type]
    assert (found.core_c, found.hold_s) == (core, hold)
