"""Figures of beans, tender crops, lasting vegetables, herbs and fruit, against the tables that they come from.

The vegetables and herbs: tests/published/garden-crops.csv. The fruit: FAO-56 (1998), tables 11, 12 and 22, and
the tables of killing temperatures of Pennsylvania State, Michigan State and North Carolina State extension services.
"""

import pytest

from app.rules.crop import CropWater, Frosts
from tests.sheets.test_crop_tables import BASES, LIBRARY, TABLE, by_name, crop_of, printed, said

CROPS = {
    "potato": "potato",
    "tomato": "tomato",
    "chilli": "chilli",
    "sweet-pepper": "sweet pepper",
    "aubergine": "aubergine",
    "broad-bean": "broad bean",
    "runner-bean": "runner bean",
    "french-bean-dwarf": "French bean (dwarf)",
    "french-bean-climbing": "French bean (climbing)",
    "pea": "pea",
    "lettuce": "lettuce",
    "spinach": "spinach",
    "chard": "chard / leaf beet",
    "cucumber-ridge": "cucumber (ridge)",
    "courgette": "courgette",
    "squash": "winter squash",
    "pumpkin": "pumpkin",
    "sweetcorn": "sweetcorn",
    "asparagus": "asparagus",
    "rhubarb": "rhubarb",
    "globe-artichoke": "globe artichoke",
    "coriander": "coriander",
    "dill": "dill",
    "basil": "basil",
    "chives": "chives",
    "mint": "mint",
    "thyme": "thyme",
    "sage": "sage",
}
"""Sheets, and the row of the table that each must agree with."""


@pytest.mark.published
@pytest.mark.parametrize("sheet", CROPS)
def test_every_figure_is_the_tables_and_none_is_left_out(sheet: str) -> None:
    """Both ways: nothing on the sheet that the table has not, nothing in the table that the sheet has not."""
    assert dict(by_name(said(crop_of(sheet)))) == dict(by_name(printed(TABLE[CROPS[sheet]])))


@pytest.mark.parametrize("sheet", CROPS)
def test_every_group_says_what_it_rests_on_as_the_table_does(sheet: str) -> None:
    row, crop = TABLE[CROPS[sheet]], crop_of(sheet)
    for group, column in BASES.items():
        one = getattr(crop, group)
        if one is not None:
            assert row[column].startswith(one.source.basis), (group, row[column], one.source)


@pytest.mark.common_practice
@pytest.mark.parametrize("sheet", CROPS)
def test_group_life_and_hardiness_are_the_tables(sheet: str) -> None:
    """A perennial grown as an annual crop is planned as one; lasting beds and herbs lie outside the rotation."""
    row, crop = TABLE[CROPS[sheet]], crop_of(sheet)
    life = "annual" if "annual crop" in row["life_cycle"] else row["life_cycle"]
    lasting = "permanent" if life == "perennial" else "anywhere"
    rotation = lasting if row["rotation_group"] in ("herbs", "perennial bed") else row["rotation_group"]

    assert (crop.rotation, crop.life, crop.frost) == (rotation, life, row["frost_class"])


@pytest.mark.parametrize("sheet", CROPS)
def test_species_and_family_are_the_tables(sheet: str) -> None:
    """The genus and species by which crossings are found; mints are many, and the sheet's is spearmint."""
    found, row = LIBRARY.sheets[sheet], TABLE[CROPS[sheet]]
    words = 3 if " x " in row["latin"] else 2
    latin = {"Mentha spp.": "Mentha spicata"}.get(row["latin"], " ".join(row["latin"].split()[:words]))

    assert (found.species, found.family) == (latin, row["family"])


@pytest.mark.published
@pytest.mark.parametrize(
    ("one", "other", "crosses"),
    [
        ("courgette", "pumpkin", True),
        ("courgette", "squash", False),
        ("chard", "beetroot", True),
        ("sweet-pepper", "chilli", True),
        ("french-bean-dwarf", "french-bean-climbing", True),
        ("runner-bean", "french-bean-climbing", False),
        ("cucumber-ridge", "courgette", False),
    ],
)
def test_who_crosses_with_whom(one: str, other: str, crosses: bool) -> None:
    """Seed Saving Chart; A Seed Saving Guide, Organic Seed Alliance: the same species crosses, whatever its name."""
    assert (LIBRARY.sheets[one].species == LIBRARY.sheets[other].species) is crosses


ORCHARD = (20, 70, 90, 30)
BUSHES = (0.3, 1.05, 0.5, 0.6, 1.2, 0.5, None)


@pytest.mark.published
@pytest.mark.parametrize(
    ("sheet", "figures"),
    [
        ("apple", (0.5, 1.2, 0.95, 1.0, 2.0, 0.5, ORCHARD)),
        ("plum", (0.5, 1.15, 0.9, 1.0, 2.0, 0.5, ORCHARD)),
        ("blackcurrant", BUSHES),
        ("redcurrant", BUSHES),
        ("white-currant", BUSHES),
        ("gooseberry", BUSHES),
        ("raspberry-summer", BUSHES),
        ("raspberry-autumn", BUSHES),
        ("strawberry", (0.4, 0.85, 0.75, 0.2, 0.3, 0.2, None)),
    ],
)
def test_the_water_of_fruit(sheet: str, figures: tuple[float | tuple[int, ...] | None, ...]) -> None:
    """FAO-56: table 12, orchards with ground cover and killing frost, berries and strawberries; 22 roots; 11 stages."""
    water = crop_of(sheet).water
    assert isinstance(water, CropWater)
    assert (
        water.kc_start, water.kc_mid, water.kc_end, water.root_low_m, water.root_high_m, water.depletion,
        water.stages_days,
    ) == figures  # fmt: skip


@pytest.mark.published
@pytest.mark.parametrize(
    ("sheet", "harmed_f", "killed_f"),
    [("apple", 28, 25), ("plum", 28, 23), ("strawberry", 30, 28)],
)
def test_the_frost_that_blossom_stands(sheet: str, harmed_f: float, killed_f: float) -> None:
    """Full bloom: 10 % and 90 % of apple and European plum flowers killed; strawberry: some, and considerable, harm."""
    frosts = crop_of(sheet).frosts
    assert isinstance(frosts, Frosts)
    assert frosts.harmed_from_c == pytest.approx((harmed_f - 32) / 1.8, abs=0.05)
    assert frosts.killed_at_c == pytest.approx((killed_f - 32) / 1.8, abs=0.05)


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("sheet", "caution"),
    [
        ("rhubarb", "rhubarb-leaves"),
        ("potato", "green-potatoes"),
        ("runner-bean", "raw-kidney-beans"),
        ("french-bean-dwarf", "raw-kidney-beans"),
        ("chilli", "capsaicin"),
        ("tomato", "tomato-tops"),
    ],
)
def test_a_caution_stands_with_every_job_of_the_sheet(sheet: str, caution: str) -> None:
    assert caution in LIBRARY.sheets[sheet].cautions


@pytest.mark.published
@pytest.mark.parametrize("sheet", ["courgette", "pumpkin", "squash"])
def test_the_first_fruit_is_tasted_for_bitterness(sheet: str) -> None:
    """ANSES, 2019: gourd poisonings; the Royal Horticultural Society has a bit tasted raw and spat out."""
    taste = next(step for step in LIBRARY.sheets[sheet].steps if step.id == "taste")
    assert "bitter-squash" in taste.cautions


def test_plums_are_pruned_in_leaf_and_the_sheet_says_why() -> None:
    prune = next(step for step in LIBRARY.sheets["plum"].steps if step.id == "prune")
    assert "silver leaf" in prune.note
    assert "winter" in prune.title
