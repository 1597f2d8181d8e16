"""The month as a grid: seven columns of days, each with the jobs whose best day it is."""

from collections.abc import Sequence

from app.rules.spans import Day
from app.services.jobs import Job
from app.services.month import Month
from app.web import pages, words
from app.web.monthly import asked, month_path, trade_links, turn
from app.web.parts import Frame, Link
from app.web.rows import date_of, job_href

MOST_IN_A_DAY = 4


def grid_page(frame: Frame, month: Month, trade: str) -> pages.MonthGrid:
    """The month as seven columns of days."""
    on = date_of(month.first)
    ways = turn(month, asked(trade=trade, **{"as": "grid"}))
    monday = month.first - on.weekday()
    starts = range(monday, month.last + 1, 7)
    return pages.MonthGrid(
        frame=frame,
        year=str(on.year),
        name=words.MONTHS[on.month - 1],
        last=ways.last,
        next=ways.next,
        this=ways.this,
        views=(
            Link("List", month_path(on) + asked(trade=trade)),
            Link("Grid", month_path(on) + asked(trade=trade, **{"as": "grid"}), True),
        ),
        trades=trade_links(month, trade, "crop", "grid"),
        weekdays=words.WEEKDAYS,
        weeks=tuple(_week(month, start, trade) for start in starts),
        note="A job stands on its best day; below the dots are those whose last day it is.",
    )


def _week(month: Month, start: Day, trade: str) -> pages.GridWeek:
    inside = [day for day in range(start, start + 7) if month.first <= day <= month.last]
    wanted = sum(
        job.row.minutes for job in month.jobs if job.open and job.row.best is not None and job.row.best in inside
    )
    given = sum(day.left for day in month.days if day.day in inside)
    middle = inside[len(inside) // 2]
    return pages.GridWeek(
        f"week {date_of(start).isocalendar().week}",
        words.hours(wanted),
        f"wanted of {words.hours(given)}",
        wanted > given,
        words.light(month.light.daylight_hours[middle - month.first]),
        tuple(_day(month, day, trade) for day in range(start, start + 7)),
    )


def _day(month: Month, day: Day, trade: str) -> pages.GridDay:
    on = date_of(day)
    inside = month.first <= day <= month.last
    jobs = [job for job in month.jobs if inside and (not trade or job.row.trade == trade)]
    best = [job for job in jobs if (job.row.done if job.row.done is not None else job.row.best) == day]
    closing = [job for job in jobs if job.open and job.row.closes == day and job.row.best != day]
    over = max(0, len(best) - MOST_IN_A_DAY) + max(0, len(closing) - MOST_IN_A_DAY)
    path = month_path(date_of(month.first))
    return pages.GridDay(
        on.day,
        words.weekday(on, date_of(month.today)),
        inside,
        day == month.today,
        _grid_jobs(best),
        _grid_jobs(closing),
        Link(f"and {words.count(over)} more", path + asked(trade=trade)) if over else None,
    )


def _grid_jobs(jobs: Sequence[Job]) -> tuple[pages.GridJob, ...]:
    return tuple(
        pages.GridJob(
            f"{job.row.title}: {job.row.entry_name}" if job.row.entry_name != job.row.title else job.row.title,
            job_href(job.row.key),
            job.row.trade,
            not job.open,
            job.pressing,
            words.minutes(job.row.minutes),
        )
        for job in jobs[:MOST_IN_A_DAY]
    )
