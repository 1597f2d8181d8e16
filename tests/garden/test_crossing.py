"""What crosses: one species, at one time, within its distance."""

from datetime import date

import pytest

from app.trade.garden.crossing import Stand, meetings, same_species, species_of
from app.trade.garden.enough import balance
from app.trade.garden.germination import verdict

JULY = date(2027, 7, 1).toordinal()


@pytest.mark.published
@pytest.mark.parametrize(
    ("one", "other", "cross"),
    [
        ("Brassica oleracea (Capitata)", "Brassica oleracea (Acephala)", True),  # cabbage and kale
        ("Beta vulgaris (Conditiva)", "Beta vulgaris (Cicla)", True),  # beetroot and chard
        ("Cucurbita pepo", "Cucurbita pepo / C. maxima", True),  # courgette and most pumpkins
        ("Cucurbita pepo", "Cucurbita maxima / C. moschata", False),  # courgette and winter squash
        ("Daucus carota", "Pastinaca sativa", False),  # never carrot with parsnip
        ("Allium cepa / A. fistulosum", "Allium cepa", True),  # spring onion and onion
        ("Allium ampeloprasum (Porrum)", "Allium cepa", False),  # leek and onion
        ("Brassica rapa (Rapa)", "Brassica oleracea", False),  # turnip and cabbage
    ],
)
def test_one_species_crosses_whatever_the_kitchen_calls_it(one: str, other: str, cross: bool) -> None:
    """The Manual of Seed Saving, and the International Seed Saving Institute's notes: what crosses is the species."""
    assert same_species(one, other) is cross
    assert same_species(other, one) is cross


def test_a_genus_alone_names_no_species() -> None:
    assert species_of("Mentha spp.") == frozenset()
    assert species_of("") == frozenset()


def stand(
    who: str, first: int | None, last: int | None, distance_m: float = 0, species: str = "Pastinaca sativa"
) -> Stand:
    return Stand(who, species, first, last, distance_m)


@pytest.mark.published
def test_parsnips_within_300_m_cross_and_beyond_do_not() -> None:
    """Growing your own seeds, parsnip: 300 m."""
    ours = [stand("our row", JULY, JULY + 30)]

    near = meetings(ours, [stand("next door", JULY + 20, JULY + 50, 200)], 300)
    far = meetings(ours, [stand("over the hill", JULY + 20, JULY + 50, 300)], 300)

    assert [(found.one, found.other, found.first, found.last, found.distance_m) for found in near] == [
        ("our row", "next door", JULY + 20, JULY + 30, 200)
    ]
    assert far == []


@pytest.mark.common_practice
def test_time_parts_what_distance_does_not() -> None:
    two = [stand("early", JULY, JULY + 20), stand("late", JULY + 21, JULY + 40)]

    assert meetings(two, [], 300) == []
    assert len(meetings([two[0], two[1]._replace(first=JULY + 20)], [], 300)) == 1


@pytest.mark.common_practice
def test_flowers_of_unknown_days_are_feared_at_all_times() -> None:
    found = meetings([stand("ours", JULY, JULY + 20)], [stand("wild ones on the bank", None, None, 50)], 300)

    assert [(one.first, one.last) for one in found] == [(JULY, JULY + 20)]


@pytest.mark.common_practice
def test_another_species_is_no_danger() -> None:
    carrots = stand("carrots", JULY, JULY + 20, species="Daucus carota")

    assert meetings([stand("ours", JULY, JULY + 20), carrots], [], 300) == []


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("percent", "said"),
    [(60, "sow as usual"), (59, "sow thicker"), (30, "sow thicker"), (29, "resow thick or discard"),
     (0, "resow thick or discard")],
)  # fmt: skip
def test_half_the_standard_is_the_least(percent: float, said: str) -> None:
    """Parsnip, 60 % by 7 CFR 201.31: under half of that it is resown thick or thrown away."""
    assert verdict(percent, 60) == said


@pytest.mark.common_practice
def test_a_spare_part_is_kept_before_any_is_given_away() -> None:
    """10 to 15 % is kept to spare: of 2000 seeds, 1000 wanted and 150 to spare leave 850."""
    assert balance(2000, 1000, 0.15).over == pytest.approx(850)
    assert balance(1100, 1000, 0.15).enough is False
