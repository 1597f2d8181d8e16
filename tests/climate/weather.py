"""Real weather for the tests: the files in packages of tests/weather-packages.txt, read without importing them."""

import csv
from collections.abc import Iterator
from datetime import date
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import pytest

from app.trade.climate.record import DailyRecord, DayRow

ENGLAND = ("cambridge", "suffolk", "norfolk", "lincolnshire", "north_yorks")


def _file(package: str, *path: str) -> Path:
    """A file inside an installed package, found without importing it."""
    spec = find_spec(package)
    if spec is None or not spec.submodule_search_locations:
        pytest.skip(f"{package} is not here: pip install --no-deps -r tests/weather-packages.txt")
    return Path(next(iter(spec.submodule_search_locations)), *path)


def _day(text: str) -> int:
    return date.fromisoformat(text.replace("/", "-")).toordinal()


def celsius(fahrenheit: str) -> float | None:
    """°C, None for a blank."""
    return (float(fahrenheit) - 32) / 1.8 if fahrenheit else None


@cache
def grid(name: str) -> DailyRecord:
    """A daily series of aquacrop 3.1.0 (MIT; a grid, its provenance not stated there), as long as it is."""
    lines = _file("aquacrop", "data", f"{name}_climate.txt").read_text(encoding="utf-8").splitlines()[1:]

    def rows() -> Iterator[DayRow]:
        for line in lines:
            day, month, year, low, high, rain = line.split()[:6]
            yield date(int(year), int(month), int(day)).toordinal(), float(low), float(high), float(rain)

    return DailyRecord.of(rows())


@cache
def thirty_years(name: str, last: str = "2020-12-31") -> DailyRecord:
    """One of the English series, 1991 to a last day."""
    return grid(name).until(_day(last))


@cache
def seattle() -> DailyRecord:
    """Seattle 2012 to 2015, vega_datasets 0.9.0 (NOAA, public domain)."""
    text = _file("vega_datasets", "_data", "seattle-weather.csv").read_text(encoding="utf-8")
    return DailyRecord.of(
        (_day(row["date"]), float(row["temp_min"]), float(row["temp_max"]), float(row["precipitation"]))
        for row in csv.DictReader(text.splitlines())
    )


@cache
def lincoln() -> DailyRecord:
    """Lincoln, Nebraska, 2016, bokeh_sampledata 2026.1 (public domain): read in °F, one day blank."""
    text = _file("bokeh_sampledata", "_data", "lincoln_weather.csv").read_text(encoding="utf-8")
    return DailyRecord.of(
        (_day(row["DATE"]), celsius(row["TMIN"]), celsius(row["TMAX"]), None)
        for row in csv.DictReader(text.splitlines())
    )


def series(name: str) -> DailyRecord:
    """A series by the name it has in the published tables."""
    return {"seattle_vega": seattle, "lincoln_bokeh": lincoln}.get(name, lambda: grid(name))()
