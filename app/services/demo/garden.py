"""The made-up holding's beds, what they had, its neighbours' flowers, its bought seed and its own ways."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import BedFactRow, BedRow, LotRow, NearbyRow, WayRow, WeatherFileRow
from app.records.weather import WeatherDay, put_weather_days
from app.rules.spans import Day, add, span
from app.services.demo.weather import weather_until

_LATELY = 14


def put_garden(session: Session, doc: Mapping[str, Any], on: Callable[[Any], Day], today: date) -> None:
    """Put down what garden.toml says; ``on`` reads a day as demo_data says it."""
    told = date.fromordinal(today.toordinal() - _LATELY)
    beds = {one["name"]: store.put_bed(session, BedRow(**one)).id or 0 for one in doc["bed"]}
    for number, one in enumerate(doc["bed_fact"], 1):
        said = {key: value for key, value in one.items() if key not in ("bed", "on")}
        day = date.fromordinal(on(one["on"]))
        store.add_bed_fact(session, BedFactRow(id=f"made-up-{number}", bed=beds[one["bed"]], on_day=day, **said))
    for one in doc["nearby"]:
        store.add_nearby(session, NearbyRow(**one))
    for number, one in enumerate(doc["lot"], 1):
        said = {key: value for key, value in one.items() if key not in ("made", "keeps")}
        made = on(one["made"])
        until = date.fromordinal(add(made, span(one["keeps"])))
        row = LotRow(
            id=f"bought-{number}",
            made_on=date.fromordinal(made),
            keeps_until=until,
            place="seed tin",
            told=told,
            **said,
        )
        store.add_lot(session, row)
    for one in doc["way"]:
        store.add_way(session, WayRow(told=told, **one))


def put_weather(session: Session, text: str, today: date, now: datetime) -> None:
    """Put down the made-up readings of the days before today, as a file that was taken in and says what it is."""
    days = [WeatherDay(*one) for one in weather_until(text, today)]
    file = WeatherFileRow(name="weather.csv, invented readings", taken_at=now, rows=len(days))
    put_weather_days(session, days, at=now, file=store.add_weather_file(session, file).id)
