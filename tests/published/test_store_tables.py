"""What the tables of keeping say, against what is printed, through the arithmetic."""

import pytest

from app.sheets.store_tables import blanching, dry_crops, raw_stores
from app.trade.preserving.drying import dried_kg
from app.trade.preserving.freezing import blanch_minutes


@pytest.mark.published
@pytest.mark.parametrize(
    ("crop", "left_kg"),
    [("courgette, with skin", 0.579), ("carrot", 1.301), ("kale", 1.773), ("apple, with skin", 1.805), ("plum", 1.596)],
)
def test_ten_kilos_prepared_leave_so_much(crop: str, left_kg: float) -> None:
    """Water: USDA National Nutrient Database SR26, 2013; mass balance, vegetables to 10 % and fruit to 20 %."""
    row = dry_crops()[crop]
    assert dried_kg(10, row.water_percent, row.target_percent) == pytest.approx(left_kg, abs=0.001)


@pytest.mark.published
def test_blanching_minutes() -> None:
    """Utah State University Extension (beans); University of Illinois VISTA, table 1 (peas)."""
    assert blanching()["green beans"].minutes == 3
    assert blanch_minutes(blanching()["peas, shelled"].minutes, 1600) == 2.5


@pytest.mark.published
def test_cold_hurts_squash_and_not_carrots() -> None:
    """UC Davis, Produce Facts (12.5 to 15 °C); University of Massachusetts Extension (carrots 0 °C, 5 to 9 months)."""
    assert raw_stores()["pumpkins"].chill_c >= 10
    carrots = raw_stores()["carrots"]
    assert (carrots.store_c, carrots.least_months, carrots.most_months) == (0, 5, 9)
