"""A crop's figures in words, on the page of its sheet."""

from pathlib import Path

import pytest

from app.rules.crop import (
    Crop,
    CropWater,
    Crossing,
    Frosts,
    Growth,
    Keeping,
    Ripeness,
    SeedTest,
    Sowing,
    Spacing,
    Sprouting,
    Yield,
)
from app.rules.terms import Source
from app.web.garden.crop_words import said_of, weeks
from tests.web.holding import app, client, plain

HERE = Source("common practice")


def crop(**groups: object) -> Crop:
    return Crop("roots", "biennial", "hardy", HERE, **groups)  # type: ignore[arg-type]


def said(**groups: object) -> dict[str, str]:
    return {name: plain(words) for name, words, _ in said_of(crop(**groups))}


def test_a_carrot_in_words() -> None:
    """The figures of garden-crops.csv; the words by hand."""
    found = said(
        frosts=Frosts(HERE, -4, -7),
        sprouting=Sprouting(HERE, 4, 18, 29, 35, 17, 10, 7, 2.1, 132),
        growth=Growth(HERE, 70, 150, 3),
        spacing=Spacing(HERE, 5, 25),
        sowing=Sowing(HERE, 825, 2, 21, open_from_weeks=-8, open_to_weeks=8),
        keeping=Keeping(HERE, 3),
        crossing=Crossing(HERE, "insect", 500, 30),
        ripeness=Ripeness(HERE, "main umbels brown", "Sep", "dry", 18, 25),
        test=SeedTest(HERE, 55, 65, 7, 14),
        water=CropWater(HERE, 0.7, 1.05, 0.95, 0.5, 1.0, 0.35),
        yields=Yield(HERE, 1.49),
    )

    assert found == {
        "the crop": "biennial, hardy; roots in the rotation",
        "frost": "harmed from −4 °C, killed at −7 °C",
        "coming up": "soil of 4 °C at least; best at 18 to 29 °C; none above 35 °C; up in 17 days at 10 °C, "
        "10 days at 15 °C, 7 days at 20 °C; 132 degree-days above 2.1 °C",
        "growing": "70 to 150 days from sowing or planting; no growth below 3 °C",
        "spacing": "5 cm in the row, rows 25 cm",
        "sowing": "825 seeds a gram; 2 for each plant; again every 21 days; in the open from eight weeks before until "
        "eight weeks after the last frost",
        "water": "0.7, 1.05, 0.95 times what grass draws, at first, in the middle and at the end; "
        "roots 0.5 to 1 m deep; wanting water when 35 % of the store is gone",
        "yield": "1.49 kg a metre of row",
        "its seed lives": "three years",
        "crossing": "pollinated by: insect; 500 m from another; 30 plants at least",
        "ripe seed": "main umbels brown; Sep in the north; threshed dry; drying 18 to 25 days",
        "seed test": "55 % must come up of what is sold in the United States, 65 % in the European Union; "
        "counted on day 7 and 14",
    }


def test_what_is_not_known_is_not_said() -> None:
    found = said(
        frosts=Frosts(HERE, killed_at_c=0),
        sprouting=Sprouting(HERE, days_10c=5),
        sowing=Sowing(HERE, indoors_weeks=8, plant_out_weeks=2),
        keeping=Keeping(HERE, 1),
        crossing=Crossing(HERE, "none", plants=1),
        ripeness=Ripeness(HERE, "soft", cleaning="ferment", ferment_low_days=3, ferment_high_days=3),
    )

    assert found == {
        "the crop": "biennial, hardy; roots in the rotation",
        "frost": "killed at 0 °C",
        "coming up": "up in 5 days at 10 °C",
        "sowing": "under cover from eight weeks before the last frost; planted out two weeks after it",
        "its seed lives": "one year",
        "crossing": "one plant at least",
        "ripe seed": "soft; fermented and rinsed; in the jar 3 days",
    }


@pytest.mark.parametrize(("count", "words"), [(-1, "one week before"), (0, "at"), (3, "three weeks after")])
def test_weeks_from_the_last_frost(count: int, words: str) -> None:
    assert plain(weeks(count)) == words


def test_the_page_of_a_sheet_shows_its_figures_and_their_sources(tmp_path: Path) -> None:
    with client(app(tmp_path)) as browser:
        crop_page, other = (plain(browser.get(f"/sheet/{name}").text) for name in ("carrot", "gutters"))

    assert "The crop in figures" in crop_page
    assert "70 to 150 days from sowing or planting; no growth below 3 °C" in crop_page
    assert "Irrigation and Drainage Paper 56" in crop_page
    assert "The crop in figures" not in other
