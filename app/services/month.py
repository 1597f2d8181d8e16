"""A month: its jobs, the hours they want against the hours there are, what runs out of time, daylight and frost."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.records.store import TaskRow
from app.rules.live import Live
from app.rules.spans import Day
from app.rules.state import ASKED, State
from app.services.almanac import Light, light_of
from app.services.book import Book
from app.services.hours import Given, given_days
from app.services.jobs import Job, jobs_of
from app.services.memory import AHEAD_DAYS

FIRST_YEAR = 1970
YEARS_AHEAD = 60


class Month(NamedTuple):
    """A month as planned. ``wanted_min`` and ``given`` count from today in the month it is; ``days`` every day."""

    first: Day
    last: Day
    today: Day
    jobs: list[Job]
    wanted_min: int
    given_min: int
    days: list[Given]
    out_of_time: int
    out_of_time_this_week: int
    carried: int
    light: Light

    @property
    def now(self) -> bool:
        """Whether it is the month of today."""
        return self.first <= self.today <= self.last


def month_days(year: int, month: int, today: Day) -> tuple[Day, Day]:
    """A month's first and last day.

    Raises: NotFound when there is no such month, or it lies beyond what is planned.
    """
    latest = date.fromordinal(today).year + YEARS_AHEAD
    if not (1 <= month <= 12 and FIRST_YEAR <= year <= latest):
        raise NotFound(f"There is no such month; months from {FIRST_YEAR} to {latest} can be looked at.")
    after = date(year + month // 12, month % 12 + 1, 1)
    return date(year, month, 1).toordinal(), (after - timedelta(days=1)).toordinal()


def month(book: Book, session: Session, first: Day, last: Day, today: Day) -> Month:
    """The month from ``first`` to ``last``.

    Raises: MissingFact while the first run is not done.
    """
    season = book.season(session)
    jobs = jobs_of(book, session, month_task_rows(book, session, first, last, today), today)
    days = given_days(book.house(session), store.standing_rows(session, first, last), first, last)
    since = today if first <= today <= last else first
    running_out = [
        job.row.closes
        for job in jobs
        if job.open and job.row.missed != "passes" and job.row.closes is not None and since <= job.row.closes <= last
    ]
    return Month(
        first,
        last,
        today,
        jobs,
        wanted_minutes(jobs, first, last, today),
        sum(day.left for day in days if day.day >= since),
        days,
        len(running_out),
        sum(closes < today + 7 for closes in running_out) if first <= today <= last else 0,
        sum(job.state is State.LATE and job.row.closes is not None and job.row.closes < first for job in jobs),
        light_of(season, first, last),
    )


def month_task_rows(book: Book, session: Session, first: Day, last: Day, today: Day) -> list[TaskRow]:
    """The rows of a month, out of the projection, or planned on when it lies beyond it."""
    if last <= today + AHEAD_DAYS:
        return store.month_rows(session, first, last, today)
    return far_rows(book, book.planned_far(session, today, last), first, last)


def far_rows(book: Book, live: Live, first: Day, last: Day) -> list[TaskRow]:
    """The rows of a month beyond the projection, out of a plan that reaches it."""
    found = []
    for name, laid in live.laid.items():
        inside = [
            task
            for task in laid.tasks
            if task.opens is not None and task.closes is not None and task.closes >= first and task.opens <= last
        ]
        if inside:
            found += book.shown.tasks(laid._replace(tasks=tuple(inside)), live.facts.ticks.get(name, ()))
    return sorted(found, key=lambda row: (row.opens or 0, row.best or 0, row.closes or 0, row.key))


def wanted_minutes(jobs: Sequence[Job], first: Day, last: Day, today: Day) -> int:
    """The minutes that a month's open jobs want: those best done in it; in the month of today also what is owed."""
    now = first <= today <= last
    return sum(
        job.row.minutes
        for job in jobs
        if job.open and job.row.best is not None and job.row.best <= last
        and (job.row.best >= first or (now and job.state in ASKED))
    )  # fmt: skip
