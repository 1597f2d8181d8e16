"""What feeds the ground, against the trade's rules."""

import pytest

from app.trade.garden.feeding import Fed, quarrels, still_wants, too_soon
from app.trade.garden.rotation import GROUPS


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("lime", "muck", "together"), [(100, 100, True), (100, 155, True), (155, 100, True), (100, 156, False)]
)
def test_lime_and_muck_stand_two_months_apart(lime: int, muck: int, together: bool) -> None:
    found = quarrels([Fed("lime", lime), Fed("muck", muck), Fed("compost", lime)])
    assert [(one.kind, one.days) for one in found] == ([("lime and muck", abs(lime - muck))] if together else [])


@pytest.mark.common_practice
def test_the_later_of_the_two_is_named_against_the_sooner() -> None:
    (found,) = quarrels([Fed("muck", 100), Fed("lime", 120)])
    assert (found.fed, found.other) == (Fed("lime", 120), "muck")


@pytest.mark.common_practice
@pytest.mark.parametrize(
    ("group", "what", "days", "said"),
    [
        ("roots", "muck", 120, True),  # carrots fork
        ("roots", "muck", 400, False),
        ("roots", "compost", 10, False),
        ("potatoes", "lime", 90, True),  # scab
        ("potatoes", "lime", 365, False),
        ("potatoes", "muck", 90, False),
        ("brassicas", "lime", 90, False),
        ("roots", "muck", -5, False),  # spread after they were sown: another matter
    ],
)
def test_muck_not_before_roots_and_lime_not_before_potatoes(group: str, what: str, days: int, said: bool) -> None:
    assert bool(too_soon(group, 1000, [Fed(what, 1000 - days)])) is said


@pytest.mark.common_practice
def test_what_a_bed_wants_before_each_group() -> None:
    wanted = {group: still_wants(group, 1000, []) for group in GROUPS}
    assert wanted["potatoes"] == ("muck",)
    assert wanted["brassicas"] == ("lime",)
    assert wanted["roots"] == ()
    assert still_wants("potatoes", 1000, [Fed("muck", 880)]) == ()
    assert still_wants("potatoes", 1000, [Fed("muck", 500)]) == ("muck",)


@pytest.mark.common_practice
def test_nothing_that_is_advised_quarrels_with_its_group() -> None:
    for group in GROUPS:
        advised = [Fed(what, 950) for what in still_wants(group, 1000, [])]
        assert not too_soon(group, 1000, advised)
        assert not quarrels(advised)
