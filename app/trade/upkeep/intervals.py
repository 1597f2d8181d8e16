"""When a service is due again: so many calendar months on, and at once when nobody knows the last time."""

from calendar import monthrange
from datetime import date
from typing import Literal

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

LastDone = Literal["to the day", "about", "not known"]


def months_on(day: date, months: int) -> date:
    """The same day so many months on, or the last day of that month when it has no such day.

    Source: the calendar (ISO 8601-1).
    """
    years, month = divmod(day.month - 1 + months, 12)
    year = day.year + years
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


@work
def months_between(months: int, known: LastDone = "to the day", told: int | None = None, on: int = 0) -> Reckoned:
    """Days from one doing to the next, by the calendar.

    ``told`` is the day number first given as the last doing, ``on`` the one reckoned from now: when they are the same
    day and it was ``known`` only "about", it is due a sixth sooner; "not known", at once. Later turns are reckoned
    from what was really done, and are exact.
    Source: the months stand on the sheet; a sixth for an uncertain day is our own margin, on the safe side.
    Raises: OutOfRange for months that are not 1 to 600.
    """
    if not 1 <= months <= 600:
        raise OutOfRange("A number of months", months, "1 to 600")
    length = (months_on(date.fromordinal(on), months).toordinal() - on) if on > 0 else round(months * 30.4375)
    said = f"every {months} months" if months % 12 else f"every {months // 12} years" if months > 12 else "every year"
    if told is None or told != on or known == "to the day":
        return days(length, said)
    if known == "about":
        sooner = length - length // 6
        return Reckoned(sooner, sooner, length, (said, "the last time is known only about, so a sixth sooner"))
    return Reckoned(1, 1, 1, (said, "nobody knows when it was last done, so it is due now"))
