"""Today, for the yard: the rounds, what can't wait, what is best done now by place, and what is not for today."""

from datetime import UTC, tzinfo
from typing import NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy.orm import Session

from app.records import store
from app.rules.spans import Day
from app.rules.state import State
from app.services.almanac import light_of
from app.services.book import Book
from app.services.hours import Given, hours_given
from app.services.jobs import Job, jobs_of
from app.services.rounds import Walk, walks
from app.trade.climate.daylength import Sun, sun

FROST_LIKELY_PERCENT = 20.0
"""From this chance of frost in the night on, what must have none is not for today. Our own choice."""

AHEAD = 3
"""A job is for today when its best day is no more than so many days ahead."""


class NotToday(NamedTuple):
    """A job whose window is open, and why it is not for today: "people", "frost" or "barred"."""

    job: Job
    why: str
    first: Day | None = None  # the first day on which it may be done, where a bar ends


class Today(NamedTuple):
    """The day."""

    day: Day
    walks: list[Walk]
    urgent: list[Job]
    best: list[Job]
    later: list[Job]  # open, but its best day is still some days off
    not_today: list[NotToday]
    done: list[Job]
    daylight_hours: float
    daylight_change_min: int
    sun: Sun
    here: Given

    @property
    def minutes(self) -> int:
        """What is asked today, the rounds apart."""
        return sum(job.row.minutes for job in [*self.urgent, *self.best])


def today(book: Book, session: Session, day: Day) -> Today:
    """What the day asks.

    Raises: MissingFact while the first run is not done.
    """
    season, holding = book.season(session), book.holding(session)
    light = light_of(season, day - 1, day)
    here = hours_given(book, session, day, day)[0]
    found = store.month_rows(session, day, day, day)
    rows = [row for row in found if row.done is None]
    done = [row for row in found if row.done is not None]
    urgent: list[Job] = []
    best: list[Job] = []
    later: list[Job] = []
    not_today: list[NotToday] = []
    for job in jobs_of(book, session, rows, day):
        if not job.open:
            continue
        why = _why_not(job, here.people, len(book.house(session).people), light.frost_percent[1])
        if why:
            not_today.append(NotToday(job, why, _first(job)))
        elif job.pressing:
            urgent.append(job)
        elif job.row.best is not None and job.row.best <= day + AHEAD:
            best.append(job)
        else:
            later.append(job)
    return Today(
        day,
        walks(book, session, day),
        sorted(urgent, key=_urgency),
        sorted(best, key=_urgency),
        sorted(later, key=_urgency),
        not_today,
        jobs_of(book, session, done, day),
        light.daylight_hours[1],
        round(60 * (light.daylight_hours[1] - light.daylight_hours[0])),
        sun(holding.latitude, holding.longitude, zone(holding.timezone), day),
        here,
    )


def zone(name: str) -> tzinfo:
    """The zone of the holding's clock; UTC where its name is not known here."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError):
        return UTC


def _urgency(job: Job) -> tuple[str, Day, Day, str]:
    r = job.row
    return r.place, r.closes or 0, r.best or 0, r.key


def _why_not(job: Job, here: int, household: int, frost_percent: float) -> str:
    if job.state is State.WAITING:
        return "barred"
    if job.needs.people > here and here < household:
        return "people"
    if job.needs.no_frost and frost_percent >= FROST_LIKELY_PERCENT:
        return "frost"
    return ""


def _first(job: Job) -> Day | None:
    if job.held is None or job.held.last is None:
        return None
    return job.held.last + 1
