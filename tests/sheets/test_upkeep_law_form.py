"""The form of a nation's law: dated bars and rules, what is wrong with them said by key. The law here is made up."""

from copy import deepcopy
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.rules.bars import closed_seasons
from app.rules.facts import Law
from app.sheets.law import read_law, read_rules, rules_for
from app.sheets.values import Known

DOC: dict[str, Any] = {
    "nation": "england",
    "bar": [{
        "id": "winter", "acts": ["fell"], "from": {"day": "--11-01"}, "to": {"day": "--02-28"}, "says": "No felling.",
        "in_force": date(2026, 1, 10), "ends": date(2028, 12, 31), "checked": date(2026, 11, 25),
        "source": "common practice",
    }],
    "rule": [{
        "id": "tanks", "sheets": ["tank"], "who": "everybody", "says": "A bund.", "every": "P5Y",
        "figures": {"from_l": 200}, "in_force": date(2026, 1, 10), "checked": date(2026, 11, 25),
        "source": "common practice",
    }],
}  # fmt: skip
KNOWN = Known(docs={"tank": {}})


def spoilt(table: str, key: str, value: object) -> list[tuple[str, str]]:
    """The faults, as (key, reason), of the law with one key changed, or left out when the value is None."""
    doc = deepcopy(DOC)
    if value is None:
        del doc[table][0][key]
    else:
        doc[table][0][key] = value
    _, faults = read_law(doc, "england.toml", KNOWN)
    assert all(fault.step == f"{table} {doc[table][0]['id']}" for fault in faults)
    return [(fault.key, fault.reason) for fault in faults]


def test_law_is_read_with_its_days_and_figures() -> None:
    (bar,), faults = read_law(DOC, "england.toml", KNOWN)
    (rule,) = read_rules(DOC, "england.toml", KNOWN)

    assert faults == []
    assert (bar.in_force, bar.checked) == (date(2026, 1, 10).toordinal(), date(2026, 11, 25).toordinal())
    assert (rule.nation, rule.sheets, rule.figures, rule.every and rule.every.months) == (
        "england", ("tank",), {"from_l": 200}, 60)  # fmt: skip
    first = date(2026, 1, 10).toordinal()
    assert rules_for((rule,), "england", "tank", first) == [rule]
    assert [rules_for((rule,), *at) for at in (("england", "tank", first - 1), ("wales", "tank", first))] == [[], []]
    assert rules_for((rule,), None, "tank", first) == rules_for((rule,), "england", "well", first) == []


@pytest.mark.parametrize(
    ("table", "key", "value", "wrong", "reason"),
    [
        ("rule", "checked", None, "checked", "is missing"),
        ("rule", "sheets", ["tanc"], "sheets", "no sheet 'tanc'"),
        ("rule", "sheets", [], "sheets", "names no sheet"),
        ("rule", "who", None, "who", "is missing"),
        ("rule", "figures", {"from_l": "many"}, "figures.from_l", "expected a number"),
        ("rule", "in_force", "2026-01-10", "in_force", "expected a date"),
        ("rule", "in_force", None, "in_force", "is missing"),
        ("bar", "in_force", None, "in_force", "is missing"),
        ("rule", "ends", date(2025, 1, 1), "ends", "before in_force"),
        ("bar", "ends", date(2025, 1, 1), "ends", "before in_force"),
        ("bar", "checked", 2026, "checked", "expected a date"),
    ],
)
def test_what_is_wrong_with_it_is_said(table: str, key: str, value: object, wrong: str, reason: str) -> None:
    assert any(at == wrong and reason in why for at, why in spoilt(table, key, value)), spoilt(table, key, value)


def test_law_of_which_nobody_knows_the_first_day_says_so_and_is_taken_to_hold() -> None:
    assert spoilt("bar", "in_force", "not known") == spoilt("rule", "in_force", "not known") == []
    doc = deepcopy(DOC)
    doc["rule"][0]["in_force"] = "not known"
    (rule,) = read_rules(doc, "england.toml", KNOWN)
    assert rule.in_force is None
    assert rule.holds_on(date(1950, 1, 1).toordinal())


@settings(max_examples=80)
@given(st.dates(date(2025, 1, 1), date(2030, 12, 31)))
def test_a_season_holds_from_its_first_day_in_force_to_its_last(on: date) -> None:
    """November to February over the new year, from 10 January 2026 to 31 December 2028, 29 February free."""
    (bar,), _ = read_law(DOC, "england.toml", KNOWN)
    day = on.toordinal()
    held = any(
        one.first <= day <= (one.last or day) for one in closed_seasons(Law((bar,)), "england", day - 40, day + 40)
    )
    in_season = on.month in (11, 12, 1) or (on.month == 2 and on.day < 29)
    assert held is (in_season and date(2026, 1, 10) <= on <= date(2028, 12, 31))
