"""The tables of the weather: what was read day by day, the files it came in, the monthly means that were typed, and
what the household tells of the days just ahead.

Temperatures are in °C and rain is in mm, whatever the household reads; NULL is "not read". The limits are those of
what was ever measured on earth, rounded outwards (-89.2 °C, 56.7 °C, 1 825 mm in a day, 9 300 mm in a month).
Source: World Meteorological Organization, World Weather and Climate Extremes Archive.
"""

from datetime import date, datetime

from sqlalchemy import CheckConstraint
from sqlmodel import Field

from app.records.base import Base
from app.records.columns import UtcDateTime, one_of, typed

LEAST_C, MOST_C = -90, 60
MOST_RAIN_MM = 2000
MOST_MONTH_RAIN_MM = 10000

SKIES = ("dry", "showers", "wet")


def _temperatures() -> list[CheckConstraint]:
    return [
        CheckConstraint(f"min_c BETWEEN {LEAST_C} AND {MOST_C}", "min_c"),
        CheckConstraint(f"max_c BETWEEN {LEAST_C} AND {MOST_C}", "max_c"),
        CheckConstraint("min_c <= max_c", "order"),
    ]


class NormalsMonthRow(Base, table=True):
    """The mean minimum, maximum and rain of one month, as the household typed them."""

    __tablename__ = "normals_month"
    __table_args__ = (
        CheckConstraint("month BETWEEN 1 AND 12", "month"),
        *_temperatures(),
        CheckConstraint(f"rain_mm BETWEEN 0 AND {MOST_MONTH_RAIN_MM}", "rain_mm"),
    )
    month: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    min_c: float
    max_c: float
    rain_mm: float | None = None


class WeatherFileRow(Base, table=True):
    """A file of readings that was taken in: how many days came of it, and how many of its rows were left out."""

    __tablename__ = "weather_file"
    __table_args__ = (
        CheckConstraint("name <> ''", "named"),
        CheckConstraint('"rows" >= 0', "rows"),
        CheckConstraint("left_out >= 0", "left_out"),
        *typed("integer", "left_out"),
    )
    id: int | None = Field(default=None, primary_key=True)
    name: str
    taken_at: datetime = Field(sa_type=UtcDateTime)
    rows: int
    left_out: int = 0
    note: str = ""


class WeatherRow(Base, table=True):
    """One day's readings; ``file`` is None where they were typed by hand."""

    __tablename__ = "weather_day"
    __table_args__ = (
        *_temperatures(),
        CheckConstraint(f"rain_mm BETWEEN 0 AND {MOST_RAIN_MM}", "rain_mm"),
        CheckConstraint("min_c IS NOT NULL OR max_c IS NOT NULL OR rain_mm IS NOT NULL", "read"),
        *typed("text", "day"),
    )
    day: date = Field(primary_key=True)
    min_c: float | None = None
    max_c: float | None = None
    rain_mm: float | None = None
    file: int | None = Field(default=None, foreign_key="weather_file.id", index=True)
    at: datetime = Field(sa_type=UtcDateTime)


class WeatherToldRow(Base, table=True):
    """What the household says the weather of a day will be: the sky, a frost in the night after it, wind."""

    __tablename__ = "weather_told"
    __table_args__ = (
        one_of("sky", SKIES),
        CheckConstraint("sky IS NOT NULL OR frost OR wind", "said"),
        *typed("text", "day"),
    )
    day: date = Field(primary_key=True)
    sky: str | None = None
    frost: bool = False
    wind: bool = False
    at: datetime = Field(sa_type=UtcDateTime)
