"""The trade's computations against what their sources print; the cases stand in the TOML file beside this one."""

from collections.abc import Mapping
from typing import Any

import pytest

from tests.published.cases import cases, check


@pytest.mark.parametrize("case", cases("seed"))
def test_a_computation_about_seed_gives_what_its_source_says(case: Mapping[str, Any]) -> None:
    check(case)
