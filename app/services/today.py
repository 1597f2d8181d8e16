"""Today, for the yard: the rounds, what can't wait, what is best done now by place, and what is not for today."""

from collections.abc import Collection, Mapping
from datetime import UTC, tzinfo
from typing import NamedTuple
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlalchemy.orm import Session

from app.records import store
from app.rules.spans import Day
from app.rules.state import State
from app.services.ahead import Ahead, ahead
from app.services.almanac import light_of
from app.services.book import Book
from app.services.hours import Given, hours_given
from app.services.jobs import Job, jobs_of
from app.services.rounds import Walk, walks
from app.services.weather.told import AHEAD as AHEAD_TOLD
from app.services.weather.told import FROST_BRINGS_DAYS, Told, told, under_cover, unmet
from app.trade.climate.daylength import Sun, sun

FROST_LIKELY_PERCENT = 20.0
"""From this chance of frost in the night on, what must have none is not for today. Our own choice."""

AHEAD = 3
"""A job is for today when its best day is no more than so many days ahead."""

WEATHER = frozenset({"dry", "still", "no frost", "warm", "frost"})
"""Reasons that are advice about the weather: a job whose last day the law sets is not put off by them."""


class NotToday(NamedTuple):
    """A job whose window is open, and why it is not for today.

    ``why`` is "people", "barred", "frost" (one is likely by the season), or what the weather told does not give:
    "dry", "still", "no frost", "warm".
    """

    job: Job
    why: str
    first: Day | None = None  # the first day on which it may be done, where a bar ends


class Today(NamedTuple):
    """The day."""

    day: Day
    walks: list[Walk]
    before_frost: list[Job]  # what guards against the frost told for tonight
    urgent: list[Job]
    dry_work: list[Job]  # on a wet day: what can be done under cover, the shortest first
    best: list[Job]
    later: list[Job]  # open, but its best day is still some days off
    not_today: list[NotToday]
    done: list[Job]
    by: Mapping[str, str]  # who did it, by the job's key, where that is known
    weather: tuple[Told, ...]  # as told, for today and the two days after it
    ahead: tuple[Ahead, ...]
    daylight_hours: float
    daylight_change_min: int
    sun: Sun
    here: Given

    @property
    def minutes(self) -> int:
        """What is asked today, the rounds apart."""
        return sum(job.row.minutes for job in [*self.before_frost, *self.urgent, *self.dry_work, *self.best])


class Sorted(NamedTuple):
    """The open jobs of a day, each in one list."""

    before_frost: list[Job]
    urgent: list[Job]
    dry_work: list[Job]
    best: list[Job]
    later: list[Job]
    not_today: list[NotToday]


def today(book: Book, session: Session, day: Day) -> Today:
    """What the day asks.

    Raises: MissingFact while the first run is not done.
    """
    season, holding = book.season(session), book.holding(session)
    light = light_of(season, day - 1, day)
    here = hours_given(book, session, day, day)[0]
    weather = told(session, day, day + AHEAD_TOLD)
    household = len(book.house(session).people)
    found = store.month_rows(session, day, day, day)
    done = [row for row in found if row.done is not None]
    rows = [row for row in found if row.done is None]
    if weather[0].frost:
        known = {row.key for row in rows}
        soon = store.coming_rows(session, day + 1, day + FROST_BRINGS_DAYS)
        rows += [row for row in soon if row.key not in known and _guards(book, row)]
    jobs = sort(
        book, jobs_of(book, session, rows, day), day, weather[0], here.people, household, light.frost_percent[1]
    )
    return Today(
        day,
        walks(book, session, day),
        jobs.before_frost,
        jobs.urgent,
        jobs.dry_work,
        jobs.best,
        jobs.later,
        jobs.not_today,
        jobs_of(book, session, done, day),
        who_did(book, session, done, day),
        weather,
        ahead(book, session, day),
        light.daylight_hours[1],
        round(60 * (light.daylight_hours[1] - light.daylight_hours[0])),
        sun(holding.latitude, holding.longitude, zone(holding.timezone), day),
        here,
    )


def sort(
    book: Book, jobs: list[Job], day: Day, weather: Told, here: int, household: int, frost_percent: float
) -> Sorted:
    """The open jobs of a day by what is to become of them; ``here`` people, ``frost_percent`` by the season."""
    found = Sorted([], [], [], [], [], [])
    for job in jobs:
        if not job.open:
            continue
        if weather.frost and job.held is None and job.state is not State.WAITING and _guards(book, job.row):
            found.before_frost.append(job)
            continue
        why = _why_not(job, weather, here, household, frost_percent)
        if why and not (why in WEATHER and job.row.legal and job.pressing):
            found.not_today.append(NotToday(job, why, _first(job)))
        elif job.pressing:
            found.urgent.append(job)
        elif weather.sky == "wet" and under_cover(job.row.place, job.needs):
            found.dry_work.append(job)
        elif job.row.best is not None and job.row.best <= day + AHEAD:
            found.best.append(job)
        else:
            found.later.append(job)
    for jobs_there in (found.before_frost, found.urgent, found.best, found.later):
        jobs_there.sort(key=_urgency)
    found.dry_work.sort(key=lambda job: (job.row.minutes or 10**6, *_urgency(job)))
    found.not_today.sort(key=lambda one: (not one.job.pressing, *_urgency(one.job)))
    return found


def who_did(book: Book, session: Session, done: Collection[store.TaskRow], day: Day) -> dict[str, str]:
    """Who did the jobs of a day, by their keys; those of whom nothing is known are left out."""
    names = {person.id: person.name for person in book.house(session).people}
    keys = {row.key for row in done}
    said = [one for one in store.ticks_on(session, day, day) if one.tick.kind == "done" and one.tick.key in keys]
    return {one.tick.key: names[one.person] for one in said if one.person in names}


def zone(name: str) -> tzinfo:
    """The zone of the holding's clock; UTC where its name is not known here."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError):
        return UTC


def _urgency(job: Job) -> tuple[str, Day, Day, str]:
    r = job.row
    return r.place, r.closes or 0, r.best or 0, r.key


def _guards(book: Book, row: store.TaskRow) -> bool:
    step = book.steps.get((row.sheet, row.step))
    return step is not None and step.before_frost


def _why_not(job: Job, weather: Told, here: int, household: int, frost_percent: float) -> str:
    if job.state is State.WAITING:
        return "barred"
    if job.needs.people > here and here < household:
        return "people"
    if why := unmet(job.needs, weather):
        return why
    if job.needs.no_frost and frost_percent >= FROST_LIKELY_PERCENT:
        return "frost"
    return ""


def _first(job: Job) -> Day | None:
    if job.held is None or job.held.last is None:
        return None
    return job.held.last + 1
