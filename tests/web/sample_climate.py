"""An invented year of weather as a page, filled by hand to be drawn and looked at."""

import math
from datetime import date

from app.services.weather.climate import MonthOfYear, MovedDate, OurWeather, Ribbon, SoFar, ThisYear, UsualYear
from app.trade.climate.season import Basis
from app.trade.climate.this_year import Usual
from app.web import pages
from app.web.weather.climate_page import weather_page
from tests.web.sample_jobs import TODAY, frame

FIRST, LAST = date(TODAY.year, 1, 1).toordinal(), date(TODAY.year, 12, 31).toordinal()
DAYS = range(365)


def wave(mean: float, half: float, warmest: int = 205) -> tuple[float, ...]:
    """A smooth invented curve of the year."""
    return tuple(mean + half * math.cos(2 * math.pi * (day - warmest) / 365) for day in DAYS)


def on(month: int, day: int) -> int:
    return date(TODAY.year, month, day).toordinal()


def month(k: int, rain_mm: float) -> MonthOfYear:
    def at(mean: float, half: float, warmest: int = 205) -> float:
        return max(0.0, wave(mean, half, warmest)[30 * k + 15])

    frosts, light, drawn, chill = at(4, 12, 20), at(12, 4.7, 172), at(45, 40, 180), at(220, 270, 20)
    return MonthOfYear(
        k + 1, at(12, 7), at(5, 5), rain_mm, frosts, light, drawn, 16.0, 3.4, at(110, 130), at(20, 100), chill
    )  # fmt: skip


def usual_year() -> UsualYear:
    rain = (92, 70, 61, 55, 58, 64, 70, 78, 74, 96, 101, 98)
    months = tuple(month(k, float(rain[k])) for k in range(12))
    return UsualYear(
        north=True,
        first=FIRST,
        last=LAST,
        basis=Basis("record", 14, 2013, 2026, "Counted from your daily record: 14 years, 2013 to 2026."),
        months=months,
        min_c=wave(5, 5),
        max_c=wave(12, 7),
        soil_c=wave(8.7, 5.8, 208),
        daylight_hours=wave(12, 4.7, 172),
        frost_percent=tuple(max(0.0, value) for value in wave(14, 40, 20)),
        nights=Ribbon(wave(1, 4.5), wave(9, 5)),
        daytimes=Ribbon(wave(8, 7), wave(16, 8)),
        last_frost=(on(4, 6), on(4, 27), on(5, 16)),
        first_frost=(on(10, 4), on(10, 23), on(11, 14)),
    )


def rising(a_day: float) -> tuple[float, ...]:
    return tuple(a_day * 365 * (day / 364 - math.sin(2 * math.pi * day / 364) / 7) for day in DAYS)


def weather() -> pages.Weather:
    count = TODAY.toordinal() - FIRST
    nights = tuple(wave(5, 5)[day] + 4 * math.sin(day * 1.7) * math.sin(day * 0.23) for day in range(count))
    this_year = ThisYear(
        SoFar(FIRST, rising(4.4)[:count], 0, Usual(rising(3.6), rising(4.1), rising(4.7))),
        SoFar(FIRST, nights, 0, Usual(wave(1, 4.5), wave(5, 5), wave(9, 5))),
        SoFar(FIRST, rising(2.1)[:count], 3, Usual(rising(2.1), rising(2.6), rising(3.2))),
    )
    moved = (
        MovedDate(
            "beans.pick", "Pick the drying beans", "Borlotti, long bed", on(10, 2), on(9, 23),
            "reached 20 to 29 September in 8 of 10 years, by 14 years on your record; this year so far has brought it "
            "forward 9 days",
        ),
        MovedDate("squash.cut", "Cut the squashes", "Squash on the heap", on(10, 9), on(10, 1), ""),
    )  # fmt: skip
    found = OurWeather(
        "Made-up holding", 54.1, 210.0, TODAY.toordinal(), usual_year(), this_year, TODAY.toordinal() - 1, moved, 0
    )  # fmt: skip
    return weather_page(frame("Our weather", "weather"), found)
