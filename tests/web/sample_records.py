"""Invented weather being taken down, filled by hand to be drawn and looked at."""

from datetime import date, timedelta

from app.services.weather.files import How, look
from app.services.weather.weather import DayRead, FileView, Months, OnRecord, Reading
from app.web import pages
from app.web.weather.months_page import months_page
from app.web.weather.reading_page import kept, reading_page
from app.web.weather.record_page import file_page, record_page
from app.web.weather.typed import scale
from tests.web.sample_jobs import TODAY, frame

READ = Reading(8.5, 17.0, 2.4)


def weather_record() -> pages.WeatherRecord:
    files = (FileView(1, "garden-1998-2026.csv", TODAY - timedelta(40), 10212, 3),)
    has = OnRecord(10228, date(1998, 1, 1), TODAY - timedelta(1), 28.0, ((2003, 2), (2011, 7)), 16, files)
    return record_page(frame("Take in a record"), has, TODAY, error="There is nothing in it.")


def weather_file() -> pages.WeatherFile:
    rows = [f"{date(2025, 1, 1) + timedelta(n)},{n % 9},{n % 9 + 8},{n % 4}" for n in range(500) if not 30 < n < 60]
    rows[40:42] = ["2025-03-40,1,2,0", "2025-03-12,9,4,0"]
    text = "\n".join(["date,tmin,tmax,rain", *rows])
    return file_page(frame("made-up.csv"), "w", look("made-up.csv", text, How(), 54.0, TODAY), scale(False))


def weather_asked() -> pages.WeatherFile:
    text = "when,low,high\n" + "\n".join(f"01/0{n}/2027,{40 + n},{60 + 3 * n}" for n in range(1, 8))
    return file_page(frame("asked.txt"), "w", look("asked.txt", text, How(), 54.0, TODAY), scale(False))


def weather_taking() -> pages.WeatherTaking:
    return pages.WeatherTaking("Writing the days", 1, 3, "/weather/record/w/progress")


def weather_reading() -> pages.WeatherReading:
    last = [DayRead((TODAY - timedelta(n)).toordinal(), Reading() if n == 3 else READ, True) for n in range(7)]
    in_ = scale(False)
    here = frame("The reading", status=kept(TODAY, READ, Reading(), TODAY, in_))
    errors = {"max_c": "That is 25 °C above what is usual on that day.", "sure": "It may be so: then say so."}
    return reading_page(here, TODAY, READ, last, TODAY, in_, {"max_c": "41"}, errors)


def weather_months() -> pages.WeatherMonths:
    means = tuple(Reading(low, low + 7, 60.0) for low in (0.4, 0.3, 1.2, 3.0, 6.1, 9.0, 11.2, 11.0, 9.1, 6.2, 3.0, 1.1))
    errors = {"min_3": "9 to 8 °C: the lowest is above the highest."}
    places = (("a", "A place"), ("b", "Another"))
    here = frame("Monthly means")
    return months_page(here, Months(means, True), places, scale(False), {"min_3": "9"}, errors)
