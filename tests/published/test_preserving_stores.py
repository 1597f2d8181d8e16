"""Freezing, jam, pickles and raw stores against what their sources print."""

from collections.abc import Mapping
from typing import Any

import pytest

from app.errors import Refused
from app.trade.preserving.freezing import day_load_kg, long_enough
from app.trade.preserving.pickle import shelf_acid_percent
from app.trade.preserving.raw_store import cured_kg
from tests.published.cases import cases, check


@pytest.mark.parametrize("case", cases("preserving-stores"))
def test_a_store_computation_gives_what_its_source_says(case: Mapping[str, Any]) -> None:
    check(case)


@pytest.mark.published
def test_a_freezer_of_200_litres_takes_six_to_ten_kilos_a_day() -> None:
    """USDA, Canning, Freezing, Storing Garden Produce: 2 to 3 lb a cubic foot."""
    assert day_load_kg(200) == pytest.approx((6.4, 9.6), abs=0.1)


@pytest.mark.published
def test_blanched_too_short_is_not_long_enough() -> None:
    """Utah State University Extension: beans 3 minutes."""
    assert long_enough(3, 3, 0)
    assert not long_enough(2.5, 3, 0)
    assert not long_enough(3, 3, 1600)


@pytest.mark.published
def test_25_kg_of_onions_are_cured_at_23_75_to_24_25() -> None:
    """Curing notes for onions: 3 to 5 % of the weight."""
    assert cured_kg(25) == pytest.approx((23.75, 24.25))


@pytest.mark.from_memory
def test_thin_vinegar_is_refused_for_the_shelf() -> None:
    """USDA guide 6: vinegar of 5 %."""
    assert shelf_acid_percent(500, 6, 100) == pytest.approx(5)
    with pytest.raises(Refused, match=r"4\.29 %"):
        shelf_acid_percent(500, 6, 200)
