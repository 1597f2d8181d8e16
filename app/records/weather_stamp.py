"""A mark of the weather on record: who keeps something worked out from it can tell whether it still holds."""

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from app.records.tables import TABLES

_DAY = TABLES["weather_day"].c
_MONTH = TABLES["normals_month"].c
_DAYS = select(
    func.count(), func.max(_DAY.at), func.total(_DAY.min_c), func.total(_DAY.max_c), func.total(_DAY.rain_mm)
)
_MONTHS = select(func.count(), func.total(_MONTH.min_c * _MONTH.month), func.total(_MONTH.max_c * _MONTH.month))
_RAIN = select(func.total(_MONTH.rain_mm * _MONTH.month))


def weather_stamp(session: Session) -> tuple[object, ...]:
    """The number of days, when the last of them was taken down, and the sums of what they say; the same of the months.

    Worked out anew rather than counted at each change, so that records put in from elsewhere change it too.
    """
    connection = session.connection()
    return tuple(value for query in (_DAYS, _MONTHS, _RAIN) for value in connection.execute(query).one())
