"""Powder, the household's own batches, boiling points and jam against what their sources print."""

from collections.abc import Mapping
from typing import Any

import pytest

from app.trade.preserving.powder import tomato_name
from tests.published.cases import cases, check


@pytest.mark.parametrize("case", cases("preserving-kitchen"))
def test_a_kitchen_computation_gives_what_its_source_says(case: Mapping[str, Any]) -> None:
    check(case)


@pytest.mark.published
@pytest.mark.parametrize(
    ("percent", "name"),
    [
        (6.9, "pulp or juice"),
        (7.0, "purée by Codex, not in the United States"),
        (8.0, "purée"),
        (23.99, "purée"),
        (24.0, "paste"),
    ],
)
def test_a_concentrate_is_named_by_its_dissolved_solids(percent: float, name: str) -> None:
    """CODEX STAN 57-1981 (2007), 2.1 and 2.2; 21 CFR 155.191."""
    assert tomato_name(percent) == name
