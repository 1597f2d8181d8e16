"""A glut's arithmetic, worked by hand from published figures."""

import pytest

from app.errors import OutOfRange
from app.trade.preserving.glut import by_bottling, by_drying, by_freezing, jars_a_week, prepared_kg, short_of


@pytest.mark.published
def test_trimming() -> None:
    """USDA SR26, 2013, no. 11529 (tomato, 9 % refuse) and 11304 (pea in the pod, 62 %)."""
    assert prepared_kg(10, 9) == pytest.approx(9.1)
    assert prepared_kg(10, 62) == pytest.approx(3.8)
    with pytest.raises(OutOfRange):
        prepared_kg(0, 9)


@pytest.mark.published
def test_drying_ten_kilos_of_tomato() -> None:
    """9.391 kg of water, 6.15 kWh at the least: SR26 no. 11529 and the latent heat at 60 °C, 2358 kJ/kg."""
    way = by_drying(10, 94.52, 10, 1, 4.88, 12)
    assert way.made_kg == pytest.approx(0.6089, abs=0.0005)
    assert way.kwh == pytest.approx((1.5 * 6.15, 3 * 6.15), abs=0.02)
    assert way.needs["dryer loads"] == 3
    assert way.hours == 36


@pytest.mark.published
def test_nine_kilos_of_pulp_are_three_loads() -> None:
    """NCHFP, fruit leather: 2 cups on 13 by 15 inches is 3.76 litres a square metre."""
    assert by_drying(9, 94.52, 4, 1, 3.76, 12).needs["dryer loads"] == 3


@pytest.mark.published
def test_bottling_fills_whole_jars_and_leaves_the_rest() -> None:
    """0.96 kg of plums a litre (MSU Extension 01600415): 10 kg fill 20 jars of half a litre with 0.4 kg over."""
    way = by_bottling(10, 0.96, 500, 7, 60, 1.5)
    assert way.needs == {"jars": 20, "new lids": 20, "pan loads": 3}
    assert (way.hours, way.kwh) == (3, (4.5, 4.5))
    assert way.left_kg == pytest.approx(0.4)


@pytest.mark.published
def test_freezing_thirty_kilos_takes_four_days() -> None:
    """200 litres take 6.4 to 9.6 kg a day: USDA, Canning, Freezing, Storing Garden Produce."""
    way = by_freezing(30, 0.5, 200, 80, 2, 20)
    assert way.needs == {"freezer litres": 60, "days of freezing": 4}
    assert (way.made_kg, way.left_kg, way.hours) == (30, 0, 5)


@pytest.mark.common_practice
def test_what_does_not_fit_is_left_and_what_is_short_is_named() -> None:
    """Worked by hand: 20 litres at half a kilo a litre hold 10 kg."""
    way = by_freezing(30, 0.5, 200, 20, 2, 20)
    assert (way.made_kg, way.left_kg) == (10, 20)
    assert short_of(way.needs, {"freezer litres": 20}) == {"freezer litres": 40}
    assert short_of({"jars": 20, "new lids": 20}, {"jars": 20}) == {}
    with pytest.raises(OutOfRange):
        short_of({"jars": 1}, {"jars": -1})


@pytest.mark.common_practice
def test_forty_jars_in_140_days_are_two_a_week() -> None:
    """Worked by hand: twenty weeks."""
    assert jars_a_week(40, 140) == 2
    assert jars_a_week(3, 2) == 3
