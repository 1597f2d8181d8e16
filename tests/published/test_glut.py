"""A glut's arithmetic, worked by hand from published figures."""

import pytest

from app.errors import OutOfRange
from app.trade.preserving.drying import dried_kg
from app.trade.preserving.glut import (
    by_bottling,
    by_crock,
    by_drying,
    by_freezing,
    by_pan,
    jars_a_week,
    prepared_kg,
    short_of,
)
from app.trade.preserving.own_batches import log_drying
from app.trade.preserving.thin_layer import moisture_ratio, weight_at_kg


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


@pytest.mark.published
def test_jam_and_crocks() -> None:
    """A kilo of fruit and one of sugar make about 1.67 kg at 66 % (1.1 kg of solids); 1.3 kg a litre."""
    way = by_pan(6, 1.667, 1.3, 350, 3, (0.4, 1.2))
    assert way.made_kg == pytest.approx(10.0, abs=0.01)
    assert way.needs == {"jars": 22, "new lids": 22, "panfuls": 2}
    assert way.kwh == pytest.approx((2.4, 7.2))
    assert by_crock(8, 0.8).needs == {"litres of crock": pytest.approx(10)}
    for wrong in (lambda: by_pan(0, 1.7, 1.3, 350, 3, (0, 0)), lambda: by_crock(5, 2)):
        with pytest.raises(OutOfRange):
            wrong()


@pytest.mark.published
def test_the_newton_model_of_a_published_table() -> None:
    """Ultrasonics Sonochemistry 100, 2023, 106633, table 1: k = 0.0198 a minute, at 0, 15 … 90 minutes."""
    printed = [1.000, 0.743, 0.552, 0.410, 0.305, 0.227, 0.168]
    assert [moisture_ratio(0.0198, 15 * n) for n in range(7)] == pytest.approx(printed, abs=0.001)


@pytest.mark.published
def test_a_load_falls_to_its_solids_and_a_little_water() -> None:
    """10 kg of tomato, 94.52 % (SR26 no. 11529), with k = 5.045 / 12 an hour weigh 0.609 kg after 12 hours."""
    assert weight_at_kg(10, 94.52, 5.045 / 12, 12) == pytest.approx(0.6089, abs=0.001)
    assert weight_at_kg(10, 94.52, 0.4, 0) == 10
    with pytest.raises(OutOfRange):
        weight_at_kg(10, 100, 0.4, 1)
    with pytest.raises(OutOfRange):
        moisture_ratio(-1, 1)


@pytest.mark.published
def test_powder_as_dry_as_it_is_sold_and_the_dry_basis() -> None:
    """USDA SR26, no. 11548: tomato powder holds 3.06 %, so 10 kg (no. 11529) leave 0.5653 kg. Doymaz, J. Food Eng. 78,
    2007, dried from 94.5 to 11 %: X falls from 17.18 to 0.1236, and ln(17.18 / 0.1236) is 4.934."""
    assert dried_kg(10, 94.52, 3.06) == pytest.approx(0.5653, abs=0.0005)
    assert log_drying(94.5, 11) == pytest.approx(4.934, abs=0.001)
