"""The weather as it was read, the files it came in, and monthly means that were typed. Every change is counted."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

from sqlalchemy import bindparam, delete, func, insert, select
from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records.state import facts_changed
from app.records.tables import TABLES, NormalsMonthRow, WeatherFileRow, WeatherRow
from app.records.values import to_date
from app.rules.spans import Day

_DAY = TABLES["weather_day"]
_FILE = TABLES["weather_file"]
_MONTH = TABLES["normals_month"]
_AFRESH = {"populate_existing": True}
"""Days and months are written past the session's own memory of rows, so they are read past it too."""


class WeatherDay(NamedTuple):
    """A day's readings in °C and mm, None where there is none: what a `WeatherRow` says, for many days at once."""

    day: date
    min_c: float | None = None
    max_c: float | None = None
    rain_mm: float | None = None


class OnRecord(NamedTuple):
    """How much is on record: the number of days, the first and the last of them."""

    days: int
    first: date | None
    last: date | None


def weather_days(session: Session, first: Day | None = None, last: Day | None = None) -> list[WeatherRow]:
    """The days on record, in order; ``first`` and ``last`` narrow them, both counted."""
    query = select(WeatherRow).order_by(_DAY.c.day)
    if first is not None:
        query = query.where(_DAY.c.day >= to_date(first))
    if last is not None:
        query = query.where(_DAY.c.day <= to_date(last))
    return list(session.scalars(query, execution_options=_AFRESH))


def weather_record(session: Session) -> list[WeatherDay]:
    """Every day on record, in order, as plain values: thirty years at once cost a tenth of what rows cost."""
    query = select(_DAY.c.day, _DAY.c.min_c, _DAY.c.max_c, _DAY.c.rain_mm).order_by(_DAY.c.day)
    return [WeatherDay(*row) for row in session.connection().execute(query)]


def weather_on_record(session: Session) -> OnRecord:
    """How much weather there is."""
    row = session.execute(select(func.count(), func.min(_DAY.c.day), func.max(_DAY.c.day))).one()
    return OnRecord(*row)


def weather_counts(session: Session) -> dict[int | None, int]:
    """How many days came of each file, by its id; under None those that were typed by hand."""
    rows = session.execute(select(_DAY.c.file, func.count()).group_by(_DAY.c.file))
    return {file: int(days) for file, days in rows}


def put_weather(session: Session, rows: Iterable[WeatherRow]) -> None:
    """Write days, each in place of what was on record for it; of two for one day the last one counts."""
    _put(session, [row.model_dump() for row in rows])


def put_weather_days(session: Session, days: Iterable[WeatherDay], *, at: datetime, file: int | None = None) -> None:
    """The same for many days that came at one moment, out of one file."""
    _put(session, [{**day._asdict(), "file": file, "at": at} for day in days])


def remove_weather(session: Session, first: Day, last: Day) -> int:
    """Take days off the record, both counted, and say how many there were."""
    here = _DAY.c.day.between(to_date(first), to_date(last))
    gone = session.connection().execute(delete(_DAY).where(here)).rowcount
    facts_changed(session)
    return gone


def weather_files(session: Session) -> list[WeatherFileRow]:
    """The files that were taken in, the newest first."""
    return list(session.scalars(select(WeatherFileRow).order_by(_FILE.c.taken_at.desc(), _FILE.c.id.desc())))


def add_weather_file(session: Session, row: WeatherFileRow) -> WeatherFileRow:
    """Put down that a file was taken in; it gets an id, under which its days can be written."""
    session.add(row)
    session.flush()
    facts_changed(session)
    return row


def remove_weather_file(session: Session, file_id: int) -> int:
    """Take a file out again with the days that came of it, and say how many those were.

    Raises: NotFound.
    """
    gone = session.connection().execute(delete(_DAY).where(_DAY.c.file == file_id)).rowcount
    if not session.connection().execute(delete(_FILE).where(_FILE.c.id == file_id)).rowcount:
        raise NotFound("That file is already taken out.")
    facts_changed(session)
    return gone


def normals_months(session: Session) -> list[NormalsMonthRow]:
    """The monthly means that the household typed, January first; none, or all twelve."""
    query = select(NormalsMonthRow).order_by(_MONTH.c.month)
    return list(session.scalars(query, execution_options=_AFRESH))


def put_normals_months(session: Session, rows: Sequence[NormalsMonthRow]) -> None:
    """Write the monthly means, in place of those that were there."""
    values = [row.model_dump() for row in rows]
    session.execute(delete(_MONTH))
    if values:
        session.execute(insert(_MONTH), values)
    facts_changed(session)


def _put(session: Session, rows: list[dict[str, Any]]) -> None:
    latest = {row["day"]: row for row in rows}
    if not latest:
        return
    known = select(_DAY.c.day).where(_DAY.c.day.between(min(latest), max(latest)))
    again = [{"which": day} for day in session.scalars(known) if day in latest]
    if again:
        session.connection().execute(delete(_DAY).where(_DAY.c.day == bindparam("which")), again)
    session.connection().execute(insert(_DAY), list(latest.values()))
    facts_changed(session)
