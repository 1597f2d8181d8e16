"""Frost dates from monthly means and from the household's own, against counts of grids and of stations."""

import math
from datetime import date
from itertools import pairwise
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.sheets.places import places
from app.trade.climate import frost
from app.trade.climate.frost import FrostYear, OwnFrost, frost_chance, moved_nights, own_frost_shift_days
from app.trade.climate.normals_season import NormalsSeason
from tests.climate.tables import season, table

ESTIMATES = table("climate-frost-estimate.csv")
PLACES = {"north_yorks": "north-yorkshire"}
COLUMNS = [("last frost", "sp"), ("first frost", "au")]
YEAR = 2025
NEW_YEAR = date(YEAR, 1, 1).toordinal() - 1


def _doy(place: NormalsSeason, mark: str, percent: float) -> float:
    """The day of the year, counted on beyond 365 into the next."""
    found = place.mark(mark, percent, YEAR)
    return math.inf if found is None else found - NEW_YEAR


@pytest.mark.published
@pytest.mark.parametrize("row", ESTIMATES, ids=lambda row: row["series"])
def test_frost_dates_from_monthly_means_agree_with_days_counted(row: dict[str, str]) -> None:
    """Counts of 30 years of a grid, Weibull ranks, beside the grid's own means and scatter: within 12 days each, 15 on
    the coast, where some years have no frost at all."""
    normals = places().normals[PLACES.get(row["series"], row["series"])]._replace(grid=False)
    place = NormalsSeason(53, normals, places().scatter)
    for mark, half in COLUMNS:
        for percent in (10, 50, 90):
            found, counted = _doy(place, mark, percent), float(row[f"counted_{half}{percent}"])
            if math.isinf(counted):
                assert found > 365
            else:
                assert abs(counted - found) <= (15 if place.normals.id == "suffolk" else 12)


@pytest.mark.published
@pytest.mark.parametrize(
    ("place", "nights"),
    [
        ("braemar", {4: 10.85, 5: 5.37, 6: 0.74, 9: 1.25, 10: 5.45}),
        ("cambridge", {4: 2.6, 5: 0.3, 10: 0.25}),
        ("suffolk", {3: 3.05, 4: 1.05}),
    ],
)
def test_months_have_as_many_frosts_as_the_stations_counted(place: str, nights: dict[int, float]) -> None:
    """Mean days of air frost 2000-2019 at Braemar, Cambridge and Lowestoft: Met Office, historic station data.

    The whole-degree means of Braemar and the grid's of the others are up to half a degree off the stations' own.
    """
    for month, counted in nights.items():
        days = range(date(YEAR, month, 1).toordinal(), date(YEAR, month + 1, 1).toordinal())
        found = sum(season(place).frost_percent(day) for day in days) / 100
        assert abs(counted - found) <= max(0.9, counted / 4)


@pytest.mark.published
def test_frosts_of_gardens_are_not_told_kinder_than_they_are() -> None:
    """Gardens in the south: last frost 1995-2009 in the mean 28 April, five years at a time 22 April to 5 May
    (windrushweather.co.uk, first and last frosts); first frost in Surrey, median 26 October and the earliest of 21 on
    the 8th (weather-banter.co.uk, post 32626). At Braemar 11 of 19 Junes 2000-2019 had a frost, and 6 of 22 Augusts
    (Met Office, historic station data)."""
    inland, upland = season("cambridge"), season("braemar", 57)
    assert 112 <= _doy(inland, "last frost", 50) <= 125
    assert 292 <= _doy(inland, "first frost", 50) <= 309
    assert abs(_doy(inland, "first frost", 10) - 281) <= 7
    assert abs(_doy(upland, "last frost", 50) - 152) <= 7
    assert abs(_doy(upland, "first frost", 27) - 243) <= 10


def test_the_kinds_of_season_are_those_of_a_normal_distribution() -> None:
    """Shares sum to 1, and the scores have mean 0, variance 1 and a fourth moment of 3 (any book of statistics)."""
    for power, moment in ((0, 1.0), (1, 0.0), (2, 1.0), (4, 3.0)):
        assert abs(sum(share * score**power for score, share in frost.SEASONS) - moment) < 1e-6


def test_seasons_that_differ_spread_the_frosts_wider() -> None:
    nights, sds = [abs(day - 182) / 12 - 6.0 for day in range(365)], [3.0] * 365
    spreads = []
    for share in (0.0, 0.3, 0.6):
        year = FrostYear(nights, sds, share)
        spreads.append([(ask(90) or 0) - (ask(10) or 0) for ask in (year.last, year.first)])
    assert all(fewer[at] < more[at] for fewer, more in pairwise(spreads) for at in (0, 1))


@pytest.mark.published
def test_frost_dates_spread_between_years_as_counted() -> None:
    """Standard deviations of five series, 1991-2020, in climate-frost-quantiles.csv: their root mean square."""
    scatter = places().scatter
    for event, shipped in (("last_spring", scatter.last_frost_sd_days), ("first_autumn", scatter.first_frost_sd_days)):
        found = [float(row["sd"]) for row in table("climate-frost-quantiles.csv") if row["event"] == event]
        counted = math.sqrt(sum(sd * sd for sd in found) / len(found))
        assert abs(counted - shipped) < 1


@pytest.mark.published
def test_the_normal_distribution_gives_the_chance_of_a_night() -> None:
    """Phi(0) = 0.5, Phi(-1) = 0.1587, Phi(-2) = 0.0228 (any table of the normal distribution)."""
    assert frost_chance(0, 2.5) == 0.5
    assert abs(0.1587 - frost_chance(2.5, 2.5)) < 5e-5
    assert abs(0.0228 - frost_chance(5, 2.5)) < 5e-5
    with pytest.raises(OutOfRange):
        frost_chance(3, 0)


def _nights(**chances: float) -> FrostYear:
    """A year of nights that never freeze, but for those of which a chance is given ("n200": of night 200)."""
    nights = [100.0] * 365
    for name, chance in chances.items():
        nights[int(name[1:])] = -NormalDist().inv_cdf(chance)
    return FrostYear(nights, [1.0] * 365, 0.0)


def test_one_night_that_may_freeze_decides_both_dates() -> None:
    """Worked by hand: one night of 30 % and independent nights: no frost in 70 of 100 years."""
    year = _nights(n200=0.3)
    assert abs(0.7 - year.never) < 1e-12
    assert year.last(60) is None
    assert year.last(80) == 200
    assert year.first(29) == 200
    assert year.first(31) is None


def test_two_nights_worked_by_hand() -> None:
    """Nights of 50 %: never in 1/4; last by the first of them in 1/2; come by it in 1/2, by the second in 3/4."""
    year = _nights(n100=0.5, n150=0.5)
    assert (year.last(26), year.last(49), year.last(51)) == (100, 100, 150)
    assert (year.first(49), year.first(51), year.first(74), year.first(76)) == (100, 150, 150, None)


def test_frost_every_night_and_none_at_all_have_answers() -> None:
    always, never = (FrostYear([mean] * 365, [1.0] * 365, 0.4) for mean in (-100.0, 100.0))
    assert (always.last(90), always.first(90)) == (364, 0)
    assert (never.last(10), never.first(10)) == (None, None)


@pytest.mark.parametrize("percent", [0, 100, -5, 120])
def test_a_chance_that_is_none_is_refused(percent: float) -> None:
    year = _nights(n100=0.1)
    for call in (year.last, year.first):
        with pytest.raises(OutOfRange):
            call(percent)
    with pytest.raises(OutOfRange):
        FrostYear([5.0] * 365, [1.0] * 365, 1.0)


@pytest.mark.published
def test_own_dates_spread_as_a_normal_distribution() -> None:
    """Scores of the normal distribution: 1.2816 at 90 %, 0.6745 at 75 % (any table)."""
    own = OwnFrost(5, 10)
    assert [own_frost_shift_days(own, percent, 18) for percent in (10, 25, 50, 75, 90)] == [-23, -12, 0, 12, 23]
    known = OwnFrost(5, 10, early_days=20, late_days=12)
    assert [own_frost_shift_days(known, percent, 18) for percent in (10, 50, 90)] == [-20, 0, 12]
    with pytest.raises(OutOfRange):
        own_frost_shift_days(own, 99.9, 18)
    with pytest.raises(OutOfRange):
        own_frost_shift_days(OwnFrost(5, 10, early_days=-3), 10, 18)


def test_the_households_own_dates_come_before_the_normals() -> None:
    place = season("braemar", 57, last_frost=OwnFrost(6, 1), first_frost=OwnFrost(9, 20, 10, 14))
    assert date(2027, 6, 1).toordinal() == place.mark("last frost", 50, 2027)
    assert date(2027, 6, 24).toordinal() == place.mark("last frost", 90, 2027)
    assert date(2027, 9, 10).toordinal() == place.mark("first frost", 10, 2027)
    south = season("braemar", -57, last_frost=OwnFrost(10, 20), first_frost=OwnFrost(4, 25))
    assert date(2027, 10, 20).toordinal() == south.mark("last frost", 50, 2027)
    assert date(2028, 4, 25).toordinal() == south.mark("first frost", 50, 2027)


def test_nights_move_with_the_households_dates() -> None:
    """The chance on the household's middle date is that on the normals' middle date."""
    plain, own = season("braemar", 57), season("braemar", 57, last_frost=OwnFrost(6, 1))
    usual = plain.mark("last frost", 50, 2027)
    assert usual is not None
    assert plain.frost_percent(usual) == own.frost_percent(date(2027, 6, 1).toordinal())
    assert own.frost_percent(date(2027, 5, 20).toordinal()) > plain.frost_percent(date(2027, 5, 20).toordinal())


@given(st.integers(0, 364), st.integers(0, 364), st.integers(0, 364), st.integers(0, 364))
def test_moved_nights_pass_through_their_anchors(own: int, usual: int, other: int, other_usual: int) -> None:
    chances = [index / 365 for index in range(365)]
    assert moved_nights(chances, []) == chances
    assert moved_nights(chances, [(own, usual)])[own] == chances[usual]
    moved = moved_nights(chances, [(own, usual), (other, other_usual)])
    assert sorted(set(moved) - set(chances)) == []
    if own != other:
        assert (moved[own], moved[other]) == (chances[usual], chances[other_usual])
