"""Units in and out, against the exact definitions."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.units import UNITS, from_metric, said, to_metric, understood


@pytest.mark.published
@pytest.mark.parametrize(
    ("value", "unit", "metric"),
    [(1, "lb", 0.45359237), (1, "oz", 28.349523125), (1, "ft", 0.3048), (1, "in", 25.4), (1, "pint", 0.56826125)],
)
def test_exact_factors(value: float, unit: str, metric: float) -> None:
    """International yard and pound 1959; UK Weights and Measures Act 1985, schedule 1; NIST SP 811, app. B."""
    assert metric == to_metric(value, unit)
    assert value == from_metric(metric, unit)


@pytest.mark.published
@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (-40, -40), (98.6, 37), (0, -17.78)])
def test_temperatures(fahrenheit: float, celsius: float) -> None:
    """NIST SP 811, B.8: °C = (°F - 32) / 1.8."""
    assert abs(celsius - to_metric(fahrenheit, "f")) < 0.005
    assert abs(fahrenheit - from_metric(celsius, "f")) < 0.01


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6, allow_nan=False))
def test_there_and_back_is_the_same(unit: str, value: float) -> None:
    assert abs(value - from_metric(to_metric(value, unit), unit)) <= 1e-9 * max(1.0, abs(value))


def test_written_for_people() -> None:
    assert said(1.5, "lb") == "3.3 lb"
    assert said(0.56826125, "pint") == "1 pint"
    assert said(1.1365225, "pint") == "2 pints"
    assert said(0, "f") == "32 °F"
    assert said(-0.04, "c") == "0 °C"
    assert said(-5.25, "c") == "−5.3 °C"
    assert said(100, "g") == "100 g"
    assert said(2.0, "l") == "2 litres"


def test_read_from_people() -> None:
    assert understood("2.5", "kg") == 2.5
    assert understood(" 2,5 kg ", "kg") == 2.5
    assert understood("5 lb", "kg") == 2.26796185
    assert understood("1 ft", "cm") == 30.48
    assert understood("500 g", "kg") == 0.5
    assert understood("50°F", "c") == 10.0
    assert understood("−3", "c") == -3.0
    assert understood("2", "lb") == 0.90718474


@pytest.mark.parametrize(
    ("text", "unit"), [("", "kg"), ("heavy", "kg"), ("3 stone", "kg"), ("3 ft", "kg"), ("1 2", "kg"), ("nan", "kg")]
)
def test_what_is_no_amount_is_refused_in_a_sentence(text: str, unit: str) -> None:
    with pytest.raises(ValueError, match=r"\.$"):
        understood(text, unit)
