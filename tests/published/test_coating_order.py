"""What must hold of any coating, whatever its figures: properties, not single cases."""

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.trade.upkeep.coatings import EXPOSURES, FOUND, Exposure, years_to_next_coat

LOOKS = st.lists(st.tuples(st.integers(0, 6000), st.sampled_from(FOUND)), max_size=6)
FACTORS = (1.25, 1.0, 0.8, 0.6)


def due(found: Sequence[tuple[int, str]], exposure: Exposure = "moderate") -> int:
    return years_to_next_coat(exposure, "ordinary", 5, 8, 15, FACTORS, (0.5, 1.0, 1.15), found).best


@pytest.mark.common_practice
@given(LOOKS, st.data())
def test_a_worse_finding_is_never_painted_later(looks: list[tuple[int, str]], data: st.DataObject) -> None:
    """Common practice: the worse it is, the sooner it is painted."""
    if not looks:
        return
    at = data.draw(st.integers(0, len(looks) - 1))
    day, what = looks[at]
    worse = data.draw(st.sampled_from(FOUND[FOUND.index(what) :]))

    assert due([*looks[:at], (day, worse), *looks[at + 1 :]]) <= due(looks)


@pytest.mark.common_practice
@given(LOOKS, st.integers(1, len(EXPOSURES) - 1))
def test_a_harder_place_is_never_painted_later(looks: list[tuple[int, str]], at: int) -> None:
    """Common practice: more driving rain, sooner."""
    assert due(looks, EXPOSURES[at]) <= due(looks, EXPOSURES[at - 1])


@pytest.mark.common_practice
@given(LOOKS)
def test_no_wall_is_left_longer_than_the_most_there_is(looks: list[tuple[int, str]]) -> None:
    """Fifteen years at most for masonry paint, whatever is found; and never before it was painted."""
    assert 0 <= due(looks) <= 5479
