"""Degree-days as crop growers sum them, and sowing back from the last frost: worked cases."""

from datetime import date

import pytest

from app.rules.facts import Holding, Law
from app.rules.plan import Planner
from app.sheets.library import load
from app.trade.climate.degreedays import averaging_1, averaging_2, single_sine
from tests.rules.kit import PlainSeason, day, entry, iso


@pytest.mark.published
@pytest.mark.parametrize(
    ("max_c", "min_c", "base_c", "by_1", "by_2", "by_sine"),
    [(15, -3, 0, 6.00, 7.50, 6.53), (18, 8, 10, 3.00, 4.00, 3.39), (12, 2, 4.4, 2.60, 3.80, 3.11),
     (20, 10, 4.4, 10.6, 10.6, 10.6), (9, 1, 10, 0, 0, 0)],
)  # fmt: skip
def test_the_two_readings_of_the_mean_and_the_sine(
    max_c: float, min_c: float, base_c: float, by_1: float, by_2: float, by_sine: float
) -> None:
    """McMaster and Wilhelm 1997, methods 1 and 2 worked by hand; the sine by numerical integration."""
    assert averaging_1(min_c, max_c, base_c) == pytest.approx(by_1, abs=0.01)
    assert averaging_2(min_c, max_c, base_c) == pytest.approx(by_2, abs=0.01)
    assert single_sine(min_c, max_c, base_c) == pytest.approx(by_sine, abs=0.01)


@pytest.mark.published
def test_a_day_of_which_only_the_top_is_warm() -> None:
    """TrenchR, reference page of degree_days: 7 to 14 °C, thresholds 12 and 33 °C; the single sine prints 0.47."""
    assert single_sine(7, 14, 12, 33) == pytest.approx(0.47, abs=0.005)
    assert averaging_1(7, 14, 12) == 0
    assert averaging_2(7, 14, 12, 33) == pytest.approx(1.0, abs=0.01)


@pytest.mark.published
def test_a_hot_day_is_cut_off_as_for_corn() -> None:
    """8 to 35 °C between 10 and 30 °C: method 2 by hand (50/86 °F style), the sine by numerical integration."""
    assert averaging_2(8, 35, 10, 30) == pytest.approx(10.0, abs=0.01)
    assert single_sine(8, 35, 10, 30) == pytest.approx(10.80, abs=0.01)


class _Frost(PlainSeason):
    """The last frost on one day of the year, whatever the chance."""

    def __init__(self, month: int, on: int) -> None:
        super().__init__()
        self.month, self.on = month, on

    def mark(self, name: str, value: float, year: int) -> int | None:
        if name == "last frost":
            return date(year, self.month, self.on).toordinal()
        if name == "first frost":
            return date(year + (self.month > 6), 5 if self.month > 6 else 10, 20).toordinal()
        return super().mark(name, value, year)


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("month", "put_down", "sown", "planted"),
    [(5, "2026-01-15", "2026-03-20", "2026-05-29"), (11, "2026-07-15", "2026-09-20", "2026-11-29")],
)
def test_tomatoes_are_sown_back_from_the_last_frost(month: int, put_down: str, sown: str, planted: str) -> None:
    """Last frost on the 15th: eight weeks before it under cover, out two weeks after it. Plain counting of days."""
    known = Planner(Holding("england", _Frost(month, 15)), load().sheets, Law())
    plan = known.plan([entry("t", "tomato", put_down)], [], [], day(put_down), day(put_down) + 400)
    found = {task.step: iso(task.best) for task in plan.tasks}
    assert (found["sow"], found["plant"]) == (sown, planted)
