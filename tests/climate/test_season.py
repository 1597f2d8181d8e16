"""The season of a place from its normals: what every answer must keep to, and dates by warmth against days counted."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.errors import KnowledgeError, OutOfRange
from app.sheets.places import places, read_places
from app.trade.climate.frost import OwnFrost
from app.trade.climate.normals import Normals
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.season import Season
from tests.climate.tables import season, table

UPLAND, COAST = season("braemar", 57), season("plymouth", 50.4)
OWN = season("north-yorkshire", 54, last_frost=OwnFrost(5, 12), first_frost=OwnFrost(10, 8))


def _turned(normals: Normals) -> Normals:
    return normals._replace(
        **{
            key: (*values[6:], *values[:6])
            for key in ("max_c", "min_c", "min_sd_c")
            if (values := getattr(normals, key))
        }
    )


SOUTH = NormalsSeason(-57, _turned(places().normals["braemar"]), places().scatter)
SEASONS = st.sampled_from([UPLAND, COAST, OWN, SOUTH])
MARKS = st.one_of(
    st.tuples(st.sampled_from(["last frost", "first frost"]), st.sampled_from([10.0, 25.0, 50.0, 75.0, 90.0])),
    st.tuples(st.sampled_from(["soil above", "soil below"]), st.floats(-2, 22)),
    st.tuples(st.sampled_from(["day longer than", "day shorter than"]), st.floats(6, 18)),
)
DAYS = st.integers(date(2000, 1, 1).toordinal(), date(2060, 12, 31).toordinal())


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-warmth.csv"), ids=lambda row: "-".join(list(row.values())[:4]))
def test_dates_by_warmth_agree_with_days_counted_over_thirty_years(row: dict[str, str]) -> None:
    """Counted in the daily series 1991-2020 that the normals sum up: the middle within 4 days, the tenths within 8.

    13 where 10 °C is hardly passed: one spread for all sums stands in for weather that remembers itself.
    """
    place = season({"north_yorks": "north-yorkshire"}.get(row["series"], row["series"]))
    start = date(2025, *map(int, row["start"].strip("-").split("-"))).toordinal()
    found = place.warmth(float(row["total"]), float(row["base_c"]), start)
    assert found is not None
    tails = 13 if float(row["base_c"]) == 10 else 8
    for key, day, allowed in (
        ("counted_10", found.low, tails),
        ("counted_50", found.best, 4),
        ("counted_90", found.high, tails),
    ):
        assert abs(float(row[key]) - (day - start)) <= allowed


@given(SEASONS, st.floats(0, 2500), st.floats(0, 400), st.floats(-2, 15), DAYS, st.integers(0, 200))
def test_more_warmth_never_comes_earlier_nor_does_a_later_start(
    place: NormalsSeason, total: float, more: float, base: float, since: int, later: int
) -> None:
    first = place.warmth(total, base, since)
    for second in (place.warmth(total + more, base, since), place.warmth(total, base, since + later)):
        if first is None:
            assert second is None
        elif second is not None:
            assert all(a <= b for a, b in zip(first, second, strict=True))
    if first is not None:
        assert since <= first.low <= first.best <= first.high


@given(SEASONS, st.floats(1, 900), DAYS)
def test_warmth_is_summed_the_same_across_leap_years(place: NormalsSeason, total: float, since: int) -> None:
    """The same day four years on lies 1461 days later, but for the missing leap days of a century."""
    here, there = place.warmth(total, 4.4, since), place.warmth(total, 4.4, since + 1461)
    assert (here is None) == (there is None)
    if here is not None and there is not None:
        assert all(b - a == 1461 for a, b in zip(here, there, strict=True))


def test_warmth_that_a_year_does_not_hold_is_none() -> None:
    since = date(2026, 4, 1).toordinal()
    assert UPLAND.warmth(3000, 10, since) is None
    assert UPLAND.warmth(100, 35, since) is None
    assert (since, since, since) == UPLAND.warmth(0, 10, since)
    for total, base in ((-1, 5), (100, 50)):
        with pytest.raises(OutOfRange):
            UPLAND.warmth(total, base, since)


@given(SEASONS, MARKS, st.integers(1990, 2070))
def test_marks_of_successive_years_follow_each_other_by_a_year(
    place: NormalsSeason, mark: tuple[str, float], year: int
) -> None:
    name, value = mark
    here, there = place.mark(name, value, year), place.mark(name, value, year + 1)
    assert (here is None) == (there is None)
    if here is not None and there is not None:
        # a length of day right at the solstice may come a day or two sooner or later as leap years pass
        assert 360 <= there - here <= 371 if name.startswith("day") else there - here in (365, 366)


@given(SEASONS, st.integers(1990, 2070))
def test_a_surer_frost_date_is_a_later_one(place: NormalsSeason, year: int) -> None:
    for name in ("last frost", "first frost"):
        found = [day for percent in (10, 30, 50, 70, 90) if (day := place.mark(name, percent, year)) is not None]
        assert found == sorted(found)


@given(st.floats(-30, 60), st.floats(-30, 60), st.integers(2000, 2060))
def test_soil_is_above_later_for_more_and_below_sooner_for_more(one: float, other: float, year: int) -> None:
    low, high = sorted((one, other))
    for place in (UPLAND, COAST):
        above = [place.mark("soil above", c, year) for c in (low, high)]
        below = [place.mark("soil below", c, year) for c in (low, high)]
        if above[0] is not None and above[1] is not None:
            assert above[0] <= above[1]
        if below[0] is not None and below[1] is not None:
            assert below[1] <= below[0]
        assert above[0] is not None or above[1] is None


def test_soil_marks_lie_where_the_curve_passes() -> None:
    for place in (UPLAND, COAST):
        above, below = place.mark("soil above", 10, 2026), place.mark("soil below", 10, 2026)
        assert above is not None
        assert below is not None
        first, last = above - date(2026, 1, 1).toordinal(), below - date(2026, 1, 1).toordinal()
        assert place.soil_c[first - 1] < 10 <= place.soil_c[first]
        assert place.soil_c[last] < 10 <= place.soil_c[last - 1]
        assert all(place.soil_c[day] >= 10 for day in range(first, last))
    assert COAST.mark("soil above", 30, 2026) is None
    assert COAST.mark("soil below", 0, 2026) is None


@pytest.mark.parametrize("name", ["last frost", "first frost"])
@pytest.mark.parametrize("percent", [10, 50, 90])
def test_the_south_is_the_north_half_a_year_later(name: str, percent: float) -> None:
    """The same months turned round by six: months are of unequal length, so within four days of 181 to 184."""
    north, south = UPLAND.mark(name, percent, 2025), SOUTH.mark(name, percent, 2025)
    assert north is not None
    assert south is not None
    assert 178 <= south - north <= 187


def test_the_southern_season_runs_from_july_to_june() -> None:
    last, first = SOUTH.mark("last frost", 50, 2025), SOUTH.mark("first frost", 50, 2025)
    soil = SOUTH.mark("soil above", 8, 2025)
    assert last is not None
    assert first is not None
    assert soil is not None
    assert date(2025, 10, 1) <= date.fromordinal(last) <= date(2025, 11, 30)
    assert date(2026, 3, 15) <= date.fromordinal(first) <= date(2026, 4, 30)
    assert date(2025, 9, 1) <= date.fromordinal(soil) <= date(2025, 12, 15)
    north, south = (
        place.warmth(500, 5, date(2025, month, 1).toordinal()) for place, month in ((UPLAND, 4), (SOUTH, 10))
    )
    assert north is not None
    assert south is not None
    assert abs((south.best - north.best) - 183) <= 5


def test_a_frostless_place_and_a_polar_one_have_answers() -> None:
    warm = NormalsSeason(10, Normals("w", "warm", (30.0,) * 12, (22.0,) * 12), places().scatter)
    assert warm.mark("last frost", 90, 2025) is None
    assert warm.mark("first frost", 10, 2025) is None
    assert warm.mark("soil below", 10, 2025) is None
    assert warm.mark("soil above", 10, 2025) is not None
    cold = NormalsSeason(78, Normals("c", "cold", (-10.0,) * 12, (-20.0,) * 12), places().scatter)
    assert cold.mark("soil above", 5, 2025) is None
    assert cold.warmth(10, 5, date(2025, 5, 1).toordinal()) is None
    assert cold.mark("day longer than", 24, 2025) is not None
    assert cold.daylight_hours(date(2025, 6, 21).toordinal()) == 24
    assert cold.frost_percent(date(2024, 2, 29).toordinal()) > 99


@pytest.mark.from_memory
def test_higher_up_is_colder_and_later() -> None:
    """ICAO standard atmosphere: 1.95 °C for 300 m, all year."""
    higher = season("braemar", 57, altitude_m=640.0)
    assert all(abs(1.95 - (low - high)) < 1e-9 for low, high in zip(UPLAND.mean_c, higher.mean_c, strict=True))
    low, high = UPLAND.mark("last frost", 50, 2025), higher.mark("last frost", 50, 2025)
    assert low is not None
    assert high is not None
    assert high > low
    unknown = season("suffolk", 52, altitude_m=300.0)
    assert unknown.mean_c == season("suffolk", 52).mean_c


def test_it_is_a_season_and_says_what_it_does_not_know() -> None:
    place: Season = UPLAND
    with pytest.raises(ValueError, match="no mark of the season"):
        place.mark("first cuckoo", 1, 2025)
    with pytest.raises(OutOfRange):
        season("braemar", 91)


@given(SEASONS, MARKS, st.integers(2000, 2060))
def test_the_same_question_has_the_same_answer_in_any_order(
    place: NormalsSeason, mark: tuple[str, float], year: int
) -> None:
    fresh = NormalsSeason(57, places().normals["braemar"], places().scatter)
    first = place.mark(*mark, year)
    place.mark(mark[0], mark[1], year + 5)
    assert place.mark(*mark, year) == first
    if place is UPLAND:
        assert fresh.mark(*mark, year) == first


@pytest.mark.published
def test_the_shipped_normals_are_those_printed() -> None:
    """Brighton's rain sums to the printed 851 mm; every place says where its figures are from."""
    shipped = places().normals
    assert sum(shipped["brighton"].rain_mm) == 851
    assert all(normals.basis == "published" and normals.source for normals in shipped.values())
    assert all(len(normals.max_c) == len(normals.min_c) == 12 for normals in shipped.values())


def test_a_wrong_file_of_normals_is_refused_with_every_fault() -> None:
    place = {"id": "x", "name": "X", "max_c": [1] * 11, "min_c": [1] * 12, "colour": 3, "basis": "guess", "source": "s"}
    with pytest.raises(KnowledgeError) as caught:
        read_places({"scatter": {"memory": 0.5}, "place": [place, place]}, "own.toml")
    said = str(caught.value)
    for part in ("max_c", "colour", "guess", "night_sd_c", "two places are called 'x'"):
        assert part in said
