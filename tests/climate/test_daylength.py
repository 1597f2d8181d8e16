"""Day length and sun times, against an ephemeris, an independent library, and the polar edge."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from astral import LocationInfo
from astral.sun import sunrise, sunset
from hypothesis import given
from hypothesis import strategies as st

from app.errors import OutOfRange
from app.trade.climate.daylength import day_hours, day_length_hours, day_longer_than, day_shorter_than, sun
from tests.climate.tables import table

ROWS = table("climate-daylength.csv")


def _allowed_hours(latitude: float) -> float:
    """How far the CBM model may lie from an ephemeris: its own published spread, 5, 8 and 13 minutes."""
    return 0.10 if abs(latitude) <= 53 else 0.14 if abs(latitude) <= 60 else 0.22


@pytest.mark.published
@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['lat_deg']} {row['date']}")
def test_day_length_agrees_with_an_ephemeris_and_with_the_model_run_elsewhere(row: dict[str, str]) -> None:
    latitude, doy = float(row["lat_deg"]), int(row["doy"])
    assert abs(float(row["cbm_p0833_hours"]) - day_length_hours(latitude, doy)) < 1e-3
    assert abs(float(row["cbm_p0_hours"]) - day_length_hours(latitude, doy, 0.0)) < 1e-3
    assert abs(float(row["ephem_hours"]) - day_length_hours(latitude, doy)) <= _allowed_hours(latitude)


@pytest.mark.published
@pytest.mark.parametrize(
    "row", [row for row in ROWS if row["ephem_rise"]], ids=lambda row: f"{row['lat_deg']} {row['date']}"
)
def test_sunrise_and_sunset_agree_with_an_ephemeris(row: dict[str, str]) -> None:
    found = sun(float(row["lat_deg"]), 0.0, UTC, date.fromisoformat(row["date"]).toordinal())
    assert found.rises is not None
    assert found.sets is not None
    # half of the day length's error at each end, and 0.9 minutes of the solar noon's
    allowed = timedelta(hours=_allowed_hours(float(row["lat_deg"])) / 2, minutes=0.9)
    for expected, moment in ((row["ephem_rise"], found.rises), (row["ephem_set"], found.sets)):
        hours, minutes, seconds = map(int, expected.split(":"))
        noon = moment.replace(hour=hours, minute=minutes, second=seconds, microsecond=0)
        assert abs(moment - noon) <= allowed


def _clock_apart(one: datetime, other: datetime) -> timedelta:
    """How far two times of day lie apart, whichever date each library puts an end near midnight on."""
    apart = (one - other) % timedelta(days=1)
    return min(apart, timedelta(days=1) - apart)


@given(st.floats(-58, 58), st.floats(-30, 30), st.dates(date(2000, 1, 1), date(2060, 12, 31)))
def test_sun_times_agree_with_an_independent_library(latitude: float, longitude: float, when: date) -> None:
    """astral 3.2 is itself up to 1.2 minutes from an ephemeris, the CBM model up to 3.3 at either end.

    Solar noon adds one: six minutes. Longitudes where both ends of the longest day fall on one date in UTC: beyond
    them astral seeks an end on the wrong date and finds none.
    """
    found = sun(latitude, longitude, UTC, when.toordinal())
    observer = LocationInfo("", "", "UTC", latitude, longitude).observer
    assert found.rises is not None
    assert found.sets is not None
    assert _clock_apart(found.rises, sunrise(observer, when)) <= timedelta(minutes=6)
    assert _clock_apart(found.sets, sunset(observer, when)) <= timedelta(minutes=6)


@pytest.mark.published
@pytest.mark.parametrize("row", table("climate-tenhours.csv"), ids=lambda row: row["lat_deg"])
def test_the_ten_hour_days_are_within_two_days_of_an_ephemeris(row: dict[str, str]) -> None:
    latitude = float(row["lat_deg"])
    first, after = day_longer_than(latitude, 10, 2025), day_shorter_than(latitude, 10, 2025)
    assert first is not None
    assert after is not None
    assert abs(date.fromisoformat(row["ephem_first"]).toordinal() - first) <= 2
    assert abs(date.fromisoformat(row["ephem_last"]).toordinal() - (after - 1)) <= 2
    assert date.fromisoformat(row["cbm_first"]).toordinal() == first
    assert date.fromisoformat(row["cbm_last"]).toordinal() == after - 1


@pytest.mark.published
def test_summer_time_moves_the_clock_and_not_the_day() -> None:
    """Clocks in the United Kingdom go forward on the last Sunday of March (Summer Time Order 2002): 30 March 2025."""
    london = ZoneInfo("Europe/London")
    before, on = (sun(51.5, 0.0, london, date(2025, 3, day).toordinal()) for day in (29, 30))
    assert before.rises is not None
    assert on.rises is not None
    assert before.rises.utcoffset() == timedelta(0)
    assert on.rises.utcoffset() == timedelta(hours=1)
    later = (on.rises.hour * 60 + on.rises.minute) - (before.rises.hour * 60 + before.rises.minute)
    assert 56 <= later <= 59
    assert on.hours - before.hours < 0.1


@pytest.mark.parametrize(
    ("zone", "longitude"), [("Pacific/Kiritimati", -157.4), ("Pacific/Auckland", 174.8), ("America/Adak", -176.6)]
)
def test_the_sun_belongs_to_the_zones_own_date_near_the_date_line(zone: str, longitude: float) -> None:
    found = sun(10.0, longitude, ZoneInfo(zone), date(2025, 6, 1).toordinal())
    assert found.rises is not None
    assert found.sets is not None
    assert date(2025, 6, 1) == found.rises.date() == found.sets.date()


@pytest.mark.published
def test_the_polar_edge_has_a_name_and_no_time() -> None:
    """At 65.8 N the sun is up at midnight on 21 June, by refraction (ephem 4.2.1); beyond 66.6 N it also stays down."""
    day = date(2025, 6, 21).toordinal()
    assert sun(65.8, 0.0, UTC, day) == ("midnight sun", None, None, 24.0)
    assert sun(-75.0, 0.0, UTC, day) == ("polar night", None, None, 0.0)
    assert sun(90.0, 0.0, UTC, day).outcome == "midnight sun"
    assert sun(-90.0, 0.0, UTC, day).outcome == "polar night"


def test_no_such_day_is_said_and_a_day_always_so_long_begins_at_the_solstice() -> None:
    assert day_longer_than(53, 20, 2025) is None
    assert day_shorter_than(53, 7, 2025) is None
    assert date(2024, 12, 21).toordinal() == day_longer_than(30, 9, 2025)
    assert date(2025, 6, 21).toordinal() == day_shorter_than(30, 15, 2025)
    assert date(2025, 6, 21).toordinal() == day_longer_than(-30, 9, 2025)


@given(st.floats(-90, 90), st.floats(0.5, 24), st.integers(1990, 2080))
def test_the_days_before_and_after_a_length_lie_on_either_side_of_it(latitude: float, hours: float, year: int) -> None:
    longer, shorter = day_longer_than(latitude, hours, year), day_shorter_than(latitude, hours, year)
    if longer is not None:
        assert day_hours(latitude, longer) >= hours
    if shorter is not None:
        assert day_hours(latitude, shorter) < hours
        assert longer is None or longer < shorter


@given(st.floats(1, 65), st.floats(8, 16))
def test_the_south_has_the_norths_days_half_a_year_later(latitude: float, hours: float) -> None:
    north, south = day_longer_than(latitude, hours, 2025), day_longer_than(-latitude, hours, 2025)
    # nearer the sun in January, the south's spring quarter is shorter than the north's: up to a week between the two;
    # near the equator, where a day's length hardly changes, an hour's date means nothing
    if north is None or south is None or latitude < 20:
        return
    assert abs(south - north - 183) <= 14


@pytest.mark.published
def test_every_day_at_the_equator_has_twelve_hours_without_refraction() -> None:
    """Geometry: at latitude 0 the celestial equator's pole lies on the horizon."""
    assert all(abs(12.0 - day_length_hours(0.0, doy, 0.0)) < 1e-9 for doy in range(1, 367))


def test_what_is_not_on_the_globe_is_refused() -> None:
    for call in (
        lambda: day_length_hours(90.1, 1),
        lambda: day_length_hours(50, 0),
        lambda: sun(50, 181, UTC, 738000),
        lambda: day_longer_than(50, 0, 2025),
        lambda: day_shorter_than(50, 25, 2025),
    ):
        with pytest.raises(OutOfRange):
            call()
