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


@pytest.mark.published
@pytest.mark.parametrize(
    ("crop", "minutes"),
    [
        ("asparagus, thin", 2), ("asparagus, medium", 3), ("asparagus, thick", 4), ("green beans", 3),
        ("runner beans", 3), ("sweetcorn kernels", 4), ("broad beans, medium", 3),
        ("peas, shelled", 1.5), ("rhubarb", 1.5),
    ],
)  # fmt: skip
def test_scalding_is_as_printed(crop: str, minutes: float) -> None:
    """Utah State University Extension, Vegetable Freezing; University of Illinois VISTA, table 1 (corn and after)."""
    assert blanching()[crop].minutes == minutes
    assert blanching()[crop].basis == "published"


@pytest.mark.published
@pytest.mark.parametrize(
    ("crop", "store_c", "least", "most"),
    [
        ("carrots", 0, 5, 9), ("beetroot", 0, 4, 6), ("turnips", 0, 4, 5), ("swedes", 0, 4, 5),
        ("winter radishes", 0, 2, 4), ("parsnips", 0, 2, 6), ("cabbages, late", 0, 4, 6), ("onions", 0, 1, 8),
        ("garlic", 0, 6, 7), ("leeks", 0, 1, 3), ("potatoes, main", 4, 5, 8),
        ("pumpkins", 12.5, 2, 3), ("hubbard squashes", 12.5, 3, 6),
        ("acorn squashes", 12.5, 1, 2), ("apples, hardy to cold", 0, 3, 6), ("pears", 0, 2, 7), ("celeriac", 0, 3, 4),
    ],
)  # fmt: skip
def test_raw_stores_are_as_printed(crop: str, store_c: float, least: float, most: float) -> None:
    """UMass Extension (carrots to garlic); New England guide, table 16 (onions, leeks); Iowa State; UC Davis."""
    row = raw_stores()[crop]
    assert (row.store_c, row.least_months, row.most_months) == (store_c, least, most)


@pytest.mark.published
def test_what_is_cured_first() -> None:
    """Oregon State and notes on curing (onions 14 to 28 days, 3 to 5 %); Nebraska (potatoes); Alabama (acorn: none)."""
    assert "3 to 5 %" in raw_stores()["onions"].cure
    assert "7 to 21 days" in raw_stores()["potatoes, main"].cure
    assert raw_stores()["acorn squashes"].cure.startswith("none")
    assert not raw_stores()["carrots"].cure
