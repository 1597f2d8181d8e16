"""The weather as the household tells it, a row for a day; what was said last counts. Every change is counted."""

from datetime import datetime

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from app.records.state import facts_changed
from app.records.tables import TABLES, WeatherToldRow
from app.records.values import to_date
from app.rules.spans import Day

_TOLD = TABLES["weather_told"]


def weather_told(session: Session, first: Day, last: Day) -> list[WeatherToldRow]:
    """What was told of the days from ``first`` to ``last``, both inclusive, in order."""
    query = select(WeatherToldRow).where(_TOLD.c.day.between(to_date(first), to_date(last))).order_by(_TOLD.c.day)
    return list(session.scalars(query, execution_options={"populate_existing": True}))


def tell_weather(session: Session, day: Day, *, sky: str, frost: bool, wind: bool, at: datetime) -> None:
    """Put down what is told of a day in place of what was; a day of which nothing is said any more has no row."""
    session.execute(delete(_TOLD).where(_TOLD.c.day == to_date(day)))
    if sky or frost or wind:
        row = {"day": to_date(day), "sky": sky or None, "frost": frost, "wind": wind, "at": at}
        session.execute(insert(_TOLD), [row])
    facts_changed(session)
