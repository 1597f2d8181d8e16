"""What may follow what, against the published rules of rotation."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.trade.garden.rotation import GROUPS, ORDER, Grown, clashes, growing_year, in_turn, wants_next

CABBAGE = Grown("cabbage", "brassicas", "Brassica oleracea (Capitata)", 2025, 2025)
CHARD = Grown("chard", "anywhere", "Beta vulgaris (Cicla)", 2025, 2025)
LETTUCE = Grown("lettuce", "anywhere", "Lactuca sativa", 2025, 2025)
RHUBARB = Grown("rhubarb", "permanent", "Rheum x hybridum", 2015, 2026)


def kinds(group: str, species: str, year: int, *before: Grown, found: tuple[tuple[str, int], ...] = ()) -> list[str]:
    return [one.kind for one in clashes(group, species, year, before, found)]


@pytest.mark.published
@pytest.mark.parametrize(("year", "expected"), [(2026, ["group"]), (2027, ["group"]), (2028, ["group"]), (2029, [])])
def test_a_group_does_not_come_back_for_three_years(year: int, expected: list[str]) -> None:
    """Not on the same soil for the next three years: Country Life, Plan crop rotation. Swede is a brassica there."""
    assert kinds("brassicas", "Brassica napus (Napobrassica)", year, CABBAGE) == expected


@pytest.mark.common_practice
def test_beetroot_after_chard_is_the_same_species() -> None:
    """Beta vulgaris both, though chard goes anywhere and beetroot is a root."""
    found = clashes("roots", "Beta vulgaris (Conditiva)", 2026, [CHARD])
    assert [(one.kind, one.what, one.ago) for one in found] == [("species", "chard", 1)]


@pytest.mark.published
def test_what_goes_anywhere_is_free_but_not_year_on_year() -> None:
    """Cucurbits, salads and sweetcorn anywhere convenient, not repeatedly in one place: RHS, Crop rotation, 2025."""
    assert kinds("anywhere", "Lactuca sativa", 2026, LETTUCE) == ["again"]
    assert kinds("anywhere", "Lactuca sativa", 2027, LETTUCE) == []
    assert kinds("anywhere", "Zea mays", 2026, LETTUCE, CABBAGE) == []
    assert kinds("permanent", "Rheum x hybridum", 2027, CABBAGE) == []


@pytest.mark.published
def test_what_stands_over_a_winter_counts_in_both_years() -> None:
    """Overwintering crops stand in both years: leeks of 2024 lifted in March 2025 still bar onions in 2028."""
    leeks = Grown("leeks", "onions", "Allium ampeloprasum", 2024, 2025)
    assert kinds("onions", "Allium cepa", 2028, leeks) == ["group"]
    assert kinds("onions", "Allium cepa", 2029, leeks) == []
    assert kinds("onions", "Allium cepa", 2025, leeks) == ["group"], "they stood there in that year, too"
    assert kinds("onions", "Allium cepa", 2024, leeks) == [], "a second sowing of the same year is no turn of its own"


@pytest.mark.from_memory
@pytest.mark.parametrize(
    ("disease", "group", "years"),
    [("clubroot", "brassicas", 20), ("onion white rot", "onions", 15), ("potato cyst eelworm", "potatoes", 6)],
)
def test_a_disease_in_the_ground_bars_its_group_for_its_years(disease: str, group: str, years: int) -> None:
    """Royal Horticultural Society: clubroot up to 20 years, white rot 15 or more, cyst eelworm 6 or more."""
    for other in GROUPS:
        expected = ["disease"] if other == group else []
        assert kinds(other, "", 2010 + years, found=((disease, 2010),)) == expected
    assert kinds(group, "", 2010 + years + 1, found=((disease, 2010),)) == []


@pytest.mark.common_practice
def test_the_gravest_is_said_first() -> None:
    onion = Grown("onions", "onions", "Allium cepa", 2024, 2024)
    assert kinds("onions", "Allium cepa", 2026, onion, found=(("onion white rot", 2020),)) == ["disease", "group"]
    assert kinds("onions", "", 2026, found=(("some blight", 2025),)) == [], "what is not known bars nothing"


@pytest.mark.common_practice
def test_four_beds_see_every_group_in_four_years_and_every_year_has_all() -> None:
    """Group (bed + year) mod 4, potatoes → legumes → brassicas → onions and roots."""
    assert ORDER == (("potatoes",), ("legumes",), ("brassicas",), ("onions", "roots"))
    for start in range(4):
        assert {in_turn(bed, 2026 + start) for bed in range(4)} == set(ORDER)
        assert {in_turn(start, year) for year in range(2026, 2030)} == set(ORDER)


@pytest.mark.common_practice
def test_what_a_bed_wants_next() -> None:
    """After potatoes legumes, after legumes brassicas; a group within its rest is not offered."""
    potatoes = Grown("potatoes", "potatoes", "Solanum tuberosum", 2026, 2026)
    beans = Grown("beans", "legumes", "Vicia faba", 2025, 2025)
    assert wants_next(2027, [potatoes]) == ("legumes", "brassicas", "onions", "roots")
    assert wants_next(2027, [potatoes, beans]) == ("brassicas", "onions", "roots")
    assert wants_next(2027, [potatoes, RHUBARB], [("clubroot", 2020)]) == ("legumes", "onions", "roots")
    assert wants_next(2027, []) == GROUPS


@pytest.mark.common_practice
def test_a_southern_summer_is_one_growing_year() -> None:
    assert growing_year(2026, 10, southern=True) == growing_year(2027, 2, southern=True) == 2027
    assert growing_year(2026, 10) == 2026


@given(st.integers(0, 40), st.integers(1990, 2060))
def test_taking_turns_never_clashes(bed: int, year: int) -> None:
    before = [Grown(g, g, f"x {g}", y, y) for y in range(year - 4, year) for g in in_turn(bed, y)]
    for group in in_turn(bed, year):
        assert not clashes(group, "", year, before)
        assert group in wants_next(year, before)


@given(st.sampled_from(GROUPS), st.integers(2000, 2050), st.integers(0, 60))
def test_an_older_history_never_clashes_more(group: str, year: int, older: int) -> None:
    grown = Grown("it", group, "Genus species", year - 1, year - 1)
    moved = grown._replace(first_year=grown.first_year - older, last_year=grown.last_year - older)
    assert len(clashes(group, "Genus species", year, [moved])) <= len(clashes(group, "Genus species", year, [grown]))
