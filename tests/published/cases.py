"""Check cases in TOML: what a computation is given, and what its source says must come of it.

[[case]]
id = "..."            in words
call = "module.name"  of app/trade
given = { .. }
expected = 14         a number, or a table of attributes: { low = 21, best = 25, high = 28 }
raises = "..."        instead: a phrase of the sentence of the OutOfRange that must come
tolerance = 0.5       how far off it may be, and in `why` the reason
basis = "published"   or "common_practice", "from_memory"
source = "..."        title, body, year, table
"""

import importlib
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from app.errors import OutOfRange

KEYS = {"id", "call", "given", "expected", "raises", "tolerance", "why", "basis", "source"}


def cases(topic: str) -> list[Any]:
    """Every case of ``<topic>.toml`` as a parameter, marked by its basis."""
    text = (Path(__file__).parent / f"{topic}.toml").read_text(encoding="utf-8")
    found = tomllib.loads(text)["case"]
    for case in found:
        assert set(case) <= KEYS, case
        assert ("expected" in case) != ("raises" in case), case["id"]
        assert "raises" in case or case["why"], case["id"]
    return [pytest.param(case, id=case["id"], marks=getattr(pytest.mark, case["basis"])) for case in found]


def check(case: Mapping[str, Any]) -> None:
    """Call the computation and compare."""
    module, _, name = case["call"].rpartition(".")
    function = getattr(importlib.import_module(f"app.trade.{module}"), name)
    if "raises" in case:
        with pytest.raises(OutOfRange) as caught:
            function(**case["given"])
        assert case["raises"] in str(caught.value), case["source"]
        return
    answer = function(**case["given"])
    expected = case["expected"]
    wanted = expected if isinstance(expected, dict) else {"": expected}
    for attribute, value in wanted.items():
        found = getattr(answer, attribute) if attribute else getattr(answer, "best", answer)
        assert found == pytest.approx(value, abs=case["tolerance"]), f"{attribute} {case['source']}: {case['why']}"
