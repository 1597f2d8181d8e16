"""The year's picture: strokes and labels stand where a year of 365 days and a hand's reckoning put them."""

import re
import xml.etree.ElementTree as ET
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.services.weather.climate import MonthOfYear, Ribbon, SoFar, UsualYear, usual_year
from app.sheets.places import places
from app.trade.climate.normals import Normals
from app.trade.climate.normals_season import NormalsSeason
from app.trade.climate.season import Basis
from app.trade.climate.this_year import Usual
from app.web.weather.climate_drawing import (
    FROST,
    LIGHT,
    RAIN_HIGH,
    RAIN_TOP,
    SMALL,
    so_far_picture,
    warmth_pane,
    year_picture,
)
from app.web.weather.climate_table import cells, known_columns
from app.web.weather.climate_words import (
    frost_words,
    light_words,
    nights_detail,
    nights_words,
    rain_words,
    sum_words,
    sums,
    warmth_words,
)

FIRST, LAST = date(2027, 1, 1).toordinal(), date(2027, 12, 31).toordinal()
TODAY = date(2027, 7, 2)  # the 183rd day: its middle is the year's
NEVER = (None, None, None)


def day(month: int, of: int, year: int = 2027) -> int:
    return date(year, month, of).toordinal()


def month(number: int, rain_mm: float | None = 60.0, et0_mm: float = 30.0) -> MonthOfYear:
    known = None if rain_mm is None else 15.0
    return MonthOfYear(number, 15.0, 5.0, rain_mm, 2.0, 12.0, et0_mm, known, known and 3.0, 100.0, 10.0, 50.0)


def year(**changes: object) -> UsualYear:
    """A made-up year, all of it level: 15 °C by day, 5 by night, twelve hours of light, frost on a night in four."""
    level = {name: (value,) * 365 for name, value in (
        ("min_c", 5.0), ("max_c", 15.0), ("soil_c", 10.0), ("daylight_hours", 12.0), ("frost_percent", 25.0),
    )}  # fmt: skip
    told = {
        "north": True, "first": FIRST, "last": LAST, "basis": Basis("months", 0, None, None, "Made up."),
        "months": tuple(month(number) for number in range(1, 13)), **level, "nights": None, "daytimes": None,
        "last_frost": (day(4, 1), day(4, 15), day(5, 1)), "first_frost": (day(10, 1), day(10, 20), day(11, 10)),
    }  # fmt: skip
    return UsualYear(**{**told, **changes})  # type: ignore[arg-type]


def drawn(usual: UsualYear, today: int = TODAY.toordinal()) -> ET.Element:
    return ET.fromstring(str(year_picture(usual, today, "Made up.")))


def texts(svg: ET.Element) -> dict[str, tuple[float, float]]:
    """Each label with where it stands: percent across, pixels down."""
    return {
        "".join(one.itertext()).replace("\xa0", " "): (float(one.get("x", "0").rstrip("%")), float(one.get("y", "0")))
        for one in svg.iter("text")
    }


def paths(svg: ET.Element, kind: str) -> list[tuple[float, float]]:
    """The points of a curve: thousandths across, pixels below its pane's head."""
    data = next(one.get("d", "") for one in svg.iter("path") if one.get("class") == kind)
    return [(float(x), float(y)) for x, y in re.findall(r"([\d.-]+) ([\d.-]+)", data)]


def test_curves_lie_at_their_height_and_run_the_year_through() -> None:
    """By hand: 5 to 15 °C fill the pane of warmth from foot to head; the first and the last day's middles lie half a
    365th from the edges; 25 % lies a quarter up; twelve hours are the middle half of the day."""
    svg = drawn(year())
    pane = warmth_pane(year())
    assert (pane.low, pane.high) == (5, 15)
    for kind, y in (("lo", pane.height), ("hi", 0), ("soil", pane.height / 2)):
        points = paths(svg, kind)
        assert {point[1] for point in points} == {y}
        assert points[0][0] == pytest.approx(1000 / 730, abs=0.06)
        assert points[-1][0] == pytest.approx(1000 - 1000 / 730, abs=0.06)
    assert min(y for _, y in paths(svg, "cold")) == FROST.height * 0.75
    band = sorted({y for _, y in paths(svg, "sun")})
    assert band == pytest.approx([LIGHT.height / 4, LIGHT.height * 0.75], abs=0.06)


def test_frost_dates_are_window_lines_on_the_years_scale() -> None:
    """By hand: 1 April is 90 days after 1 January, 15 April's middle 104.5, the end of 1 May 121; of 365."""
    svg = drawn(year())
    lines = [group.find("line") for group in svg.iter("g")]
    ends = [(line.get("x1"), line.get("x2")) for line in lines if line is not None]
    assert ends == [("24.7%", "33.2%"), ("74.8%", "86.0%")]
    diamonds = [use.get("x") for use in svg.iter("use") if use.get("href") == "#d"]
    assert diamonds == ["28.6%", "80.1%"]
    assert texts(svg)["last frost 15 Apr"][0] == 28.6
    assert texts(svg)["first frost 20 Oct"][0] == 80.1


def test_months_and_today_stand_where_the_calendar_has_them() -> None:
    """By hand: July begins 181 days in, 49.6 %; its middle is 53.85 %; 2 July's middle is half the year."""
    svg = drawn(year())
    assert texts(svg)["Jul"][0] == pytest.approx(53.85, abs=0.05)
    assert "49.6%" in {line.get("x1") for line in svg.iter("line") if line.get("class") == "h"}
    assert [line.get("x1") for line in svg.iter("line") if line.get("class") == "n"] == ["50.0%"]
    assert not [line for line in svg.iter("line") if line.get("class") == "h" and line.get("x1") == "0.0%"]


def test_rain_and_what_grass_drinks_are_drawn_to_one_scale() -> None:
    """By hand: 60 mm fill a pane that goes to 60, 30 mm half of it; June with none is a line at the foot."""
    months = tuple(month(number, 0.0 if number == 6 else 60.0) for number in range(1, 13))
    svg = drawn(year(months=months))
    heights = [float(rect.get("height", "0")) for rect in svg.iter("rect")]
    assert heights == [RAIN_HIGH] * 5 + [0] + [RAIN_HIGH] * 6
    assert {y for _, y in paths(svg, "thirst")} == {RAIN_HIGH / 2}
    assert [one.text for one in svg.iter("text") if one.get("y") == str(RAIN_TOP + RAIN_HIGH + 13)] == ["60"] * 5 + [
        "0"
    ] + ["60"] * 6


def test_a_ribbon_is_drawn_only_where_a_record_gives_one() -> None:
    assert "wn" not in {one.get("class") for one in drawn(year()).iter("path")}
    ribbon = Ribbon((0.0,) * 365, (10.0,) * 365)
    usual = year(nights=ribbon, daytimes=Ribbon((12.0,) * 365, (20.0,) * 365))
    pane = warmth_pane(usual)
    assert (pane.low, pane.high) == (0, 20)
    assert {y for _, y in paths(drawn(usual), "wn")} == {pane.height, pane.height / 2}


def test_places_without_frost_and_without_rain_known() -> None:
    bare = year(last_frost=NEVER, first_frost=NEVER, months=tuple(month(n, None) for n in range(1, 13)))
    svg = drawn(bare)
    assert "No frost in nine years of ten" in texts(svg)
    assert "Rain is not known" in texts(svg)
    assert not list(svg.iter("g"))
    assert not list(svg.iter("rect"))
    assert frost_words(bare, TODAY) == "Frost does not come here in nine years of ten."
    assert len(known_columns(bare)) == len(cells(month(1))) - 4


def test_a_window_that_begins_before_the_year_has_no_end_mark_there() -> None:
    """A mild place: in one year of ten there is no frost at all, so that the last frost has no early date."""
    svg = drawn(year(last_frost=(None, day(2, 1), day(3, 20)), first_frost=(day(12, 1), None, None)))
    ends = [use.get("x") for use in svg.iter("use") if use.get("href") == "#e"]
    assert ends == ["21.6%", "91.5%"]
    assert [use.get("x") for use in svg.iter("use") if use.get("href") == "#d"] == ["8.6%"]


def test_midnight_sun_and_polar_night_are_told_by_name() -> None:
    hours = (0.0,) * 20 + (12.0,) * 150 + (24.0,) * 40 + (12.0,) * 155
    usual = year(daylight_hours=hours)
    assert {"midnight sun", "polar night"} <= texts(drawn(usual)).keys()
    assert light_words(usual).replace("\xa0", " ") == "On 40 days it does not set. On 20 days it does not rise."
    usual = year(daylight_hours=(8.0,) * 180 + (16.5,) + (8.0,) * 184)
    assert light_words(usual).replace("\xa0", " ").startswith("The sun is up 16 h 30 at the longest, in June")


# ── Sentences ─────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("last", "first", "said"),
    [
        (
            (day(4, 1), day(4, 15), day(5, 1)), (day(10, 1), day(10, 20), day(11, 10)),
            "The last frost is over by 1 Apr in one year of ten, by 15 Apr in half, by 1 May in nine of ten. The first "
            "has come by 1 Oct in one year of ten, by 20 Oct in half, by 10 Nov in nine of ten. In a middling year 187 "
            "days lie between them.",
        ),
        (
            (None, day(2, 1), day(3, 20)), (day(12, 1), day(12, 30), None),
            "The last frost is over by 1 Feb in half the years, by 20 Mar in nine of ten; in more than one of ten "
            "there is none. The first has come by 1 Dec in one year of ten, by 30 Dec in half; in more than one of ten "
            "there is none. In a middling year 331 days lie between them.",
        ),
        (
            (None, None, day(1, 20)), (day(12, 24), None, None),
            "In more than half of the years there is no frost; in nine of ten the last is over by 20 Jan. The first "
            "has come by 24 Dec in one year of ten; in more than half there is none.",
        ),
        (
            NEVER, (day(12, 24), None, None),
            "In nine years of ten there is no frost in spring. The first has come by 24 Dec in one year of ten; in "
            "more than half there is none.",
        ),
    ],
)  # fmt: skip
def test_frosts_in_words(last: tuple[int | None, ...], first: tuple[int | None, ...], said: str) -> None:
    """By hand: from 15 April to 20 October there are 187 days between, from 1 February to 30 December 331."""
    assert frost_words(year(last_frost=last, first_frost=first), TODAY).replace("\xa0", " ") == said


def test_water_and_chill_in_words() -> None:
    """By hand: 50 hours in each of six months; 30 mm drawn of 60 fallen is no lack, 70 in June and July is."""
    assert sum_words(year()).replace("\xa0", " ") == "From October to March fruit has 300 hours of chill."
    months = tuple(month(n, et0_mm=70.0 if n in (6, 7) else 30.0) for n in range(1, 13))
    assert sum_words(year(months=months)).startswith("Grass would drink more than falls in June and July. From")
    south = sum_words(year(north=False, months=tuple(month(n, et0_mm=70.0) for n in range(1, 13))))
    assert south.startswith("Grass would drink more than falls in every month. From April to September")


# ── This year ─────────────────────────────────────────────────────────────────────────────────────────────────────

RISING = Usual(
    tuple(4.0 * k for k in range(365)), tuple(5.0 * k for k in range(365)), tuple(6.0 * k for k in range(365))
)  # fmt: skip


def so_far(values: tuple[float | None, ...], usual: Usual = RISING, missing: int = 0) -> SoFar:
    return SoFar(FIRST, values, missing, usual)


def test_this_years_line_stands_over_what_is_usual() -> None:
    """By hand: to 2184 at the head (6 a day for 364 days); 600 on day 100 is 600/2184 up."""
    svg = ET.fromstring(
        str(so_far_picture(so_far(tuple(6.0 * k for k in range(101))), "Made up.", "mm", from_zero=True))
    )
    circle = next(svg.iter("circle"))
    assert float(circle.get("cx", "0").rstrip("%")) == pytest.approx(100 * 100.5 / 365, abs=0.01)
    assert float(circle.get("cy", "0")) == pytest.approx(SMALL.height * (1 - 600 / 2184), abs=0.06)
    assert "600 mm" in texts(svg)
    assert len(paths(svg, "year")) == 101


def test_a_gap_breaks_the_line_of_nights() -> None:
    nights = Usual((0.0,) * 365, (5.0,) * 365, (10.0,) * 365)
    svg = str(so_far_picture(so_far((1.0, 2.0, None, 3.0), nights, 1), "Made up.", "°C", from_zero=False))
    data = re.search(r'class="year" d="([^"]+)"', svg)
    assert data
    assert data[1].count("M") == 2
    assert data[1].count("L") == 1


@pytest.mark.parametrize(
    ("now", "said"),
    [
        (545.0, "Warmth is nine days ahead of an ordinary year."),
        (500.0, "Warmth stands where it does in an ordinary year."),
        (495.0, "Warmth is one day behind an ordinary year."),
        (1900.0, "More warmth has come than an ordinary year brings altogether."),
        (3.0, "So early in the year, warmth says little yet."),
    ],
)
def test_warmth_in_words(now: float, said: str) -> None:
    """By hand: an ordinary year has 500 on day 100 and five a day."""
    assert warmth_words(so_far((now,) * 101)).replace("\xa0", " ") == said


def test_rain_and_nights_in_words() -> None:
    """By hand: 500 is usual on 11 April, day 100, and 400 to 600 in eight years of ten."""
    found = so_far((530.0,) * 101, missing=2)
    assert rain_words(found).replace("\xa0", " ") == "30 mm more rain has fallen than in an ordinary year."
    assert rain_words(so_far((480.0,) * 101)).replace("\xa0", " ").startswith("20 mm less rain")
    assert sums(found, "mm").replace("\xa0", " ") == (
        "By 11 April: 530 mm; ordinarily 500, in eight years of ten 400 to 600. Two days are not known; usual days "
        "stand for them."
    )
    assert sums(so_far((530.0,) * 101, Usual((), RISING.middle, ())), "mm").endswith("ordinarily 500.")
    nights = Usual((0.0,) * 365, (5.0,) * 365, (10.0,) * 365)
    cold = so_far((4.0, 3.0, None, -1.0), nights, 1)
    assert nights_words(cold).replace("\xa0", " ") == "Nights have been 3 °C colder than usual, taken together."
    assert nights_detail(cold).replace("\xa0", " ") == (
        "The coldest was −1 °C on 4 January. One night of three was colder than nine years in ten have then. One night "
        "is not known."
    )


# ── Anywhere on earth ─────────────────────────────────────────────────────────────────────────────────────────────


@settings(max_examples=25)
@given(
    st.floats(-90, 90),
    st.tuples(*[st.floats(-45, 40)] * 12),
    st.floats(0, 25),
    st.booleans(),
    st.dates(date(1990, 1, 1), date(2090, 12, 31)),
)
def test_any_place_on_earth_has_its_picture_and_its_words(
    latitude: float, lows: tuple[float, ...], width: float, rains: bool, today: date
) -> None:
    """Whatever the means: a well-formed picture with nothing beside it, months in their order, sums in bounds."""
    rain = (60.0,) * 12 if rains else ()
    normals = Normals(
        "x", "Made up", tuple(low + width for low in lows), lows, None, rain, (10.0,) * 12 if rains else ()
    )
    usual = usual_year(NormalsSeason(latitude, normals, places().scatter), today.toordinal())
    svg = drawn(usual, today.toordinal())
    assert usual.first <= today.toordinal() <= usual.last
    assert len(usual.min_c) == usual.last - usual.first + 1
    assert usual.months[0].month == (1 if latitude >= 0 else 7)
    for one in svg.iter():
        for name in ("x", "x1", "x2", "cx"):
            value = one.get(name, "0")
            assert not value.endswith("%") or 0 <= float(value[:-1]) <= 100
    for path in svg.iter("path"):
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", path.get("d", ""))]
        assert all(0 <= number <= 1000 for number in numbers)
    for one in usual.months:
        assert 0 <= one.chill_h <= 744.1
        assert 0 <= one.frost_nights <= 31
        assert 0 <= one.day_hours <= 24
        assert one.et0_mm >= 0
        assert one.warmth_10 <= one.warmth_5
    assert frost_words(usual, today).endswith(".")
    assert light_words(usual).endswith(".")
    assert sum_words(usual).endswith(".")
