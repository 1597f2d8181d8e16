"""Two frost dates that choose a place, months turned, and dates by warmth in words."""

from datetime import date

import pytest

from app.sheets.places import places
from app.trade.climate.frost import OwnFrost
from app.trade.climate.nearest import nearest_by_frost
from app.trade.climate.normals import Normals, turned
from app.trade.climate.told import came, span, year_so_far


def _on(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def test_days_are_said_as_a_person_says_them() -> None:
    assert span(_on("2027-07-08"), _on("2027-07-24")) == "8 to 24 July"
    assert span(_on("2027-06-28"), _on("2027-07-03")) == "28 June to 3 July"
    assert span(_on("2027-12-28"), _on("2028-01-03")) == "28 December 2027 to 3 January 2028"
    assert span(_on("2027-07-08"), _on("2027-07-08")) == "on 8 July"
    assert came(_on("2027-06-28")) == "reached on 28 June 2027, by the days you have taken down"
    assert [year_so_far(days) for days in (-4, 1, 0)] == [
        "this year so far has brought it forward 4 days",
        "this year so far has put it back 1 day",
        "this year so far has not moved it",
    ]


def test_months_turned_twice_are_as_they_were() -> None:
    for place in places().normals.values():
        assert turned(place).min_c[0] == place.min_c[6]
        assert turned(turned(place)) == place


@pytest.mark.common_practice
def test_the_place_whose_frosts_lie_nearest_is_chosen_and_one_without_lies_furthest() -> None:
    """Growers of the northern uplands look for the last frost in early May and the first in late October."""
    shipped, scatter = places().normals.values(), places().scatter
    upland = nearest_by_frost(54, shipped, scatter, OwnFrost(5, 8), OwnFrost(10, 22))
    assert upland.id == "north-yorkshire"
    warm = Normals("warm", "warm", (30.0,) * 12, (22.0,) * 12)
    braemar = places().normals["braemar"]
    assert nearest_by_frost(57, (warm, braemar), scatter, OwnFrost(1, 2), None) is braemar
    assert nearest_by_frost(57, (warm,), scatter, OwnFrost(1, 2), None) is warm
    south = nearest_by_frost(-45, [turned(one) for one in shipped], scatter, OwnFrost(11, 8), OwnFrost(4, 22))
    assert south.id == "north-yorkshire"
