"""Every figure of a crop, against the table that it was carried over from: tests/published/garden-crops.csv."""

import csv
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.rules.crop import Crop
from app.rules.sheet import Sheet
from app.sheets.library import load

PUBLISHED = Path(__file__).parent.parent / "published" / "garden-crops.csv"

CROPS = {
    "parsnip": "parsnip",
    "parsnip-seed": "parsnip",
    "carrot": "carrot",
    "beetroot": "beetroot",
    "celeriac": "celeriac",
    "celery": "celery",
    "florence-fennel": "Florence fennel",
    "parsley": "parsley",
    "onion-sown": "onion (seed)",
    "onion": "onion (sets)",
    "spring-onion": "spring onion",
    "leek": "leek",
    "leek-seed": "leek",
    "garlic": "garlic",
    "shallot": "shallot (sets)",
    "cabbage": "cabbage",
    "kale": "kale",
    "brussels-sprouts": "Brussels sprouts",
    "cauliflower": "cauliflower",
    "calabrese": "calabrese",
    "purple-sprouting-broccoli": "purple sprouting broccoli",
    "kohlrabi": "kohlrabi",
    "turnip": "turnip",
    "swede": "swede",
    "radish": "radish",
    "rocket": "rocket",
}
"""Sheets, and the row of the table that each must agree with."""

FIGURES = {
    "frosts": {"harmed_from_c": "frost_damage_from_c", "killed_at_c": "frost_kill_c"},
    "sprouting": {
        "least_c": "germ_min_c",
        "best_low_c": "germ_opt_low_c",
        "best_high_c": "germ_opt_high_c",
        "most_c": "germ_max_c",
        "days_10c": "emerge_days_10c",
        "days_15c": "emerge_days_15c",
        "days_20c": "emerge_days_20c",
        "base_c": "germ_tb_c",
        "theta_cday": "germ_theta_cday",
    },
    "growth": {"low_days": "maturity_days_min", "high_days": "maturity_days_max", "base_c": "gdd_base_c"},
    "spacing": {"plant_cm": "plant_spacing_cm", "row_cm": "row_spacing_cm"},
    "sowing": {
        "seeds_a_gram": "seeds_per_g",
        "again_days": "succession_interval_days",
        "indoors_weeks": "indoors_weeks_before_last_frost",
        "plant_out_weeks": "plant_out_weeks_rel_last_frost",
        "open_from_weeks": "direct_sow_from_wk",
        "open_to_weeks": "direct_sow_to_wk",
    },
    "keeping": {"years": "seed_viability_years"},
    "crossing": {"pollination": "pollination", "apart_m": "isolation_m", "plants": "min_plants_for_seed"},
    "ripeness": {
        "cue": "seed_ripe_cue",
        "months": "seed_ripe_months_nh",
        "cleaning": "seed_process",
        "dry_low_days": "dry_days_min",
        "dry_high_days": "dry_days_max",
        "ferment_low_days": "ferment_days_min",
        "ferment_high_days": "ferment_days_max",
    },
    "test": {
        "least_percent": "min_germ_pct_us",
        "least_percent_eu": "min_germ_pct_eu",
        "first_days": "test_first_count_days",
        "final_days": "test_final_count_days",
    },
    "water": {
        "kc_start": "kc_ini",
        "kc_mid": "kc_mid",
        "kc_end": "kc_end",
        "root_low_m": "root_depth_min_m",
        "root_high_m": "root_depth_max_m",
        "depletion": "depletion_p",
    },
    "yields": {"kg_a_m": "yield_kg_per_m_row"},
}

OWN = {("sowing", "seeds_each"), ("sowing", "indoors_to_weeks"), ("water", "stages_days")}
"""Figures that the table has not: how many seeds to a place and how late to raise plants (common practice); the lengths
of the stages, which stand by crop in FAO-56, table 11."""

EXCEPTIONS = {("ripeness", "cleaning", "vegetative"): ""}
"""What the table says and a sheet says otherwise: bulbs and cloves planted again are no seed to be cleaned."""

BASES = {
    "frosts": "basis_frost",
    "keeping": "basis_viability",
    "water": "basis_kc",
    "yields": "basis_yield",
    "crossing": "basis_isolation",
    "test": "basis_min_germ_us",
    "spacing": "basis",
    "ripeness": "basis",
}
"""The groups of which one column of the table says whence all their figures are."""

LIBRARY = load()


def table() -> dict[str, dict[str, str]]:
    lines = PUBLISHED.read_text(encoding="utf-8").splitlines()
    return {row["crop"]: row for row in csv.DictReader(line for line in lines if not line.startswith("#"))}


TABLE = table()


def crop_of(sheet: str) -> Crop:
    found = LIBRARY.sheets[sheet].crop
    assert found is not None
    return found


def said(crop: Crop) -> Iterator[tuple[str, str, object]]:
    """Every figure on the sheet, by group and key."""
    for group in FIGURES:
        one = getattr(crop, group)
        for key in one.__dataclass_fields__ if one else ():
            value = getattr(one, key)
            if key != "source" and value not in (None, "") and (group, key) not in OWN:
                yield group, key, value


def printed(row: dict[str, str]) -> Iterator[tuple[str, str, object]]:
    """Every figure of the table's row, by group and key."""
    for group, keys in FIGURES.items():
        for key, column in keys.items():
            text = EXCEPTIONS.get((group, key, row[column]), row[column])
            if text:
                yield group, key, text if key in ("pollination", "cue", "months", "cleaning") else float(text)


@pytest.mark.published
@pytest.mark.parametrize("sheet", CROPS)
def test_every_figure_is_the_tables_and_none_is_left_out(sheet: str) -> None:
    """Both ways: nothing on the sheet that the table has not, nothing in the table that the sheet has not."""
    assert dict(by_name(said(crop_of(sheet)))) == dict(by_name(printed(TABLE[CROPS[sheet]])))


def by_name(figures: Iterator[tuple[str, str, object]]) -> Iterator[tuple[str, object]]:
    for group, key, value in figures:
        yield f"{group}.{key}", value


@pytest.mark.common_practice
@pytest.mark.parametrize("sheet", CROPS)
def test_group_life_and_hardiness_are_the_tables(sheet: str) -> None:
    """The table's own words, the first of "biennial (sets)"; "annual/biennial" flowers in its second year."""
    row, crop = TABLE[CROPS[sheet]], crop_of(sheet)
    life = "biennial" if row["life_cycle"] == "annual/biennial" else row["life_cycle"].split()[0].split("/")[0]

    assert (crop.rotation, crop.life, crop.frost) == (row["rotation_group"], life, row["frost_class"])


@pytest.mark.parametrize("sheet", CROPS)
def test_species_and_family_are_the_tables(sheet: str) -> None:
    """Two words of the Latin name: what crosses is the species, whatever the group of kinds."""
    found: Sheet = LIBRARY.sheets[sheet]
    row = TABLE[CROPS[sheet]]

    assert (found.species, found.family) == (" ".join(row["latin"].split()[:2]), row["family"])


@pytest.mark.parametrize("sheet", CROPS)
def test_every_group_says_what_it_rests_on_as_the_table_does(sheet: str) -> None:
    row, crop = TABLE[CROPS[sheet]], crop_of(sheet)
    for group, column in BASES.items():
        one = getattr(crop, group)
        if one is not None:
            assert row[column].startswith(one.source.basis), (group, row[column], one.source)


@pytest.mark.parametrize("sheet", CROPS)
def test_emergence_rests_on_the_published_table_where_that_has_the_crop(sheet: str) -> None:
    row, crop = TABLE[CROPS[sheet]], crop_of(sheet)
    if crop.sprouting is not None:
        basis = row["basis_emergence"] or row["basis_germ_temp"]
        assert basis.startswith(crop.sprouting.source.basis)
        assert ("Harrington" in basis) == (crop.sprouting.source.key == "emergence-1954")


def test_the_table_is_whole() -> None:
    """Guard for the tests above: fifty-two crops, and figures in them."""
    assert len(TABLE) == 52
    assert all(sum(1 for _ in printed(TABLE[name])) >= 10 for name in CROPS.values())
