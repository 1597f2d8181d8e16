"""The trade's computations against what their sources print; the cases stand in the TOML files beside this one."""

from collections.abc import Mapping
from typing import Any

import pytest

from tests.published.cases import cases, check


@pytest.mark.parametrize("case", [*cases("upkeep"), *cases("upkeep-works")])
def test_an_upkeep_computation_gives_what_its_source_says(case: Mapping[str, Any]) -> None:
    check(case)
