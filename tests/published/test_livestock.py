"""The trade's computations against what their sources print; the cases stand in the TOML files beside this one.

A date in a case stands for its day number, in what is given and in what is expected.
"""

import importlib
from collections.abc import Mapping
from datetime import UTC, date, datetime
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.sheets import livestock_tables as tables
from app.sheets.livestock_tables import broods, hatches, takes, weights
from app.trade.livestock.brooding import brooder_c
from app.trade.livestock.budget import by_month, daily, order, runs_out
from app.trade.livestock.dusk import hen_day
from app.trade.livestock.incubation import hatching
from app.trade.livestock.lay import Layer, eggs_of_weeks
from app.trade.livestock.lay_weeks import against, eggs_by_week
from app.trade.livestock.weights import weight_at_kg
from app.trade.livestock.withdrawal import clear_at, first_ok, first_ok_of
from tests.published.cases import cases, check


def days(value: Any) -> Any:
    """The same with every date as a day number, and lists as tuples, as computations hold them."""
    if isinstance(value, date) and not isinstance(value, datetime):
        return value.toordinal()
    if isinstance(value, dict):
        return {key: days(one) for key, one in value.items()}
    return tuple(days(one) for one in value) if isinstance(value, list) else value


@pytest.mark.parametrize("case", cases("livestock"))
def test_a_livestock_computation_gives_what_its_source_says(case: Mapping[str, Any]) -> None:
    check(case)


@pytest.mark.parametrize("case", cases("livestock-tables"))
def test_a_day_a_ration_or_a_weight_is_what_its_source_says(case: Mapping[str, Any]) -> None:
    case = days(dict(case))
    if "raises" in case or isinstance(case["expected"], int | float | dict):
        check(case)
        return
    module, _, name = case["call"].rpartition(".")
    answer = getattr(importlib.import_module(f"app.trade.{module}"), name)(**case["given"])
    found = (
        tuple(answer.items()) if isinstance(answer, Mapping) else tuple(answer) if isinstance(answer, list) else answer
    )
    assert found == case["expected"], case["source"]


@pytest.mark.published
def test_a_hybrid_that_falls_more_slowly_lays_278_in_a_year() -> None:
    """About 0.5 to 0.6 % a week is what breeders' guides claim; the sum of the formula by hand is 278.1."""
    assert eggs_of_weeks(1, 20, 52, Layer(fall=0.006)) == pytest.approx(278.1, abs=0.05)


@pytest.mark.common_practice
def test_a_missing_figure_never_clears() -> None:
    """'Not for animals whose eggs or milk are eaten', or no figure at all: ask the vet."""
    assert first_ok(739000, None) is None
    assert first_ok_of([(739000, 5), (739001, None)]) is None
    assert clear_at(datetime(2026, 5, 1, 18, tzinfo=UTC), None) is None


@pytest.mark.published
def test_the_tables_hold_what_their_sources_print() -> None:
    """Mississippi State University: 21, 28, 28 days; Mercia, table 14: Embden, 9 weeks, 4.58 kg; IFAS: 95 °F."""
    assert [hatches()[bird].best_days for bird in ("hen", "duck", "turkey")] == [21, 28, 28]
    assert weight_at_kg(9, weights()["Embden goose on range"].rows) == 4.58
    assert brooder_c(1, broods()["hen"].start_c) == 35


@pytest.mark.published
def test_twelve_pullets_to_seventeen_weeks_eat_72_kg() -> None:
    """Feeding your poultry, a feed manufacturer, United Kingdom: 1 kg of crumb and 5 kg of grower each."""
    needs = daily(takes("layer"), 0, [12] * 119, 0)
    assert sum(needs["chick crumb"]) == pytest.approx(12, abs=0.05)
    assert sum(needs["grower feed"]) == pytest.approx(60, abs=0.1)
    assert sum(needs["layers feed"]) == 0


@pytest.mark.published
def test_eggs_by_week_are_the_curve_less_the_fox_and_the_short_day() -> None:
    """Oregon State University Extension's 265 a year, by the model 262; half the flock gone is half the eggs."""
    year = eggs_by_week([1] * 364, 0, 140)
    assert sum(week.expected for week in year) == pytest.approx(261.9, abs=0.5)
    halved = eggs_by_week([2] * 182 + [1] * 182, 0, 140)
    assert [week.expected for week in halved[26:]] == pytest.approx([week.expected for week in year[26:]])
    dim = eggs_by_week([10] * 14, 0, 210, [8.0] * 14)
    assert dim[0].expected == pytest.approx(10 * 7 * 0.9 * 0.8)
    beside = against(dim, [(210, 20.0), (213, 21.0)])
    assert (beside[0].came, beside[1].came, beside[1].share) == (41.0, None, None)


@pytest.mark.common_practice
def test_hens_are_shut_up_twenty_minutes_after_sunset() -> None:
    """Greenwich almanac: at 51.5 degrees north the sun of 21 June sets about 20:21 UTC, of 21 December about 15:53."""
    for on, at in (("2026-06-21", 20 * 60 + 41), ("2026-12-21", 16 * 60 + 13)):
        shut = hen_day(51.5, 0.0, UTC, date.fromisoformat(on).toordinal()).shut
        assert shut is not None
        assert shut.hour * 60 + shut.minute == pytest.approx(at, abs=8)
    assert hen_day(70.0, 20.0, UTC, date(2026, 6, 21).toordinal()).shut is None


def test_every_row_of_the_tables_is_in_order_and_says_where_it_comes_from() -> None:
    """A lowest above the usual, or a row without a source, is a slip."""
    spans = [*tables.births().values(), *tables.hatches().values(), *tables.heats().values()]
    assert all(one.low_days <= one.best_days <= one.high_days for one in spans)
    assert all(one.low <= one.best <= one.high for kind in tables.eats().values() for one in kind)
    assert all(one.low_percent <= one.best_percent <= one.high_percent for one in tables.dressings().values())
    rows: list[Any] = [*spans, *(one for kind in tables.eats().values() for one in kind), *tables.drinks().values()]
    rows += [*tables.broods().values(), *tables.weights().values(), *tables.layers().values()]
    rows += tables.dressings().values()
    assert all(one.source and one.basis in ("published", "common practice", "from memory") for one in rows)
    assert all(list(one.rows) == sorted(one.rows) for one in (*tables.weights().values(), *tables.drinks().values()))


@settings(max_examples=40)
@given(first=st.integers(700000, 760000), weeks=st.integers(2, 6))
def test_a_clutch_of_whole_weeks_hatches_on_the_weekday_it_was_set(first: int, weeks: int) -> None:
    clutch = hatching(first, 7 * weeks)
    assert (clutch.hatch - first) % 7 == 0
    assert all(first < day <= clutch.lockdown < clutch.hatch for day in clutch.candle)


@settings(max_examples=40)
@given(
    needs=st.lists(st.floats(0.01, 50), min_size=1, max_size=120),
    first=st.integers(738000, 740000),
    stock=st.floats(0, 500),
    lead=st.integers(0, 20),
)
def test_months_add_up_and_an_order_is_due_before_the_stock_is_out(
    needs: list[float], first: int, stock: float, lead: int
) -> None:
    assert sum(by_month(needs, first).values()) == pytest.approx(sum(needs))
    empty, found = runs_out(stock, needs, first), order(stock, needs, first, 20, lead)
    assert (empty is None) == (found is None)
    if found is not None:
        assert found.runs_out == empty
        assert found.by == found.runs_out - lead - 3
        until = min(len(needs), found.runs_out - first + 90)
        assert 0 <= stock + found.amount - sum(needs[:until]) + 1e-6 <= 20 + 1e-3
