"""A month as lines of text, for a terminal or a pipe: no wider than a hundred signs, nothing but the words."""

from collections.abc import Iterable, Iterator
from datetime import date
from textwrap import shorten

from app.rules.state import State
from app.rules.terms import TRADES
from app.services.jobs import Job
from app.services.month import Month

WIDTH = 100
_DAYS, _TIME = 36, 8
_GROUPS: tuple[tuple[str, frozenset[State]], ...] = (
    ("Late", frozenset({State.LATE})),
    ("Can't wait", frozenset({State.CLOSING})),
    ("Open", frozenset({State.OPEN})),
    ("To come", frozenset({State.TO_COME})),
    ("Held until something is said", frozenset({State.WAITING})),
    ("Not this time", frozenset({State.LET_GO, State.PASSED, State.LOST, State.UNLAWFUL, State.NO_ROOM})),
    ("Done", frozenset({State.DONE})),
)


def month_lines(month: Month, name: str) -> Iterator[str]:
    """The month's head, then its jobs by how they stand and by trade; a job that comes round often is one line."""
    first = date.fromordinal(month.first)
    yield f"{name}: {first:%B %Y}" if name else f"{first:%B %Y}"
    yield from _head(month)
    if not month.jobs:
        yield ""
        yield "Nothing is asked of this month."
    for title, states in _GROUPS:
        jobs = [job for job in month.jobs if job.state in states]
        if jobs:
            yield ""
            yield f"{title} ({len(jobs)})"
            for trade in TRADES:
                yield from _trade(trade, [job for job in jobs if job.row.trade == trade], first.year)


def _head(month: Month) -> Iterator[str]:
    since = "from today on" if month.now else "in it"
    yield f"{_hours(month.wanted_min)} wanted {since}, {_hours(month.given_min)} there are beside the rounds"
    counts = [(month.out_of_time, "run out of time this month"), (month.carried, "carried over")]
    said = [f"{number} {what}" for number, what in counts if number]
    if said:
        yield ", ".join(said)


def _trade(trade: str, jobs: list[Job], year: int) -> Iterator[str]:
    if not jobs:
        return
    yield f"  {trade.capitalize()}"
    for same in _folded(jobs):
        yield _line(same, year)


def _folded(jobs: Iterable[Job]) -> list[list[Job]]:
    folds: dict[tuple[str, str], list[Job]] = {}
    for job in jobs:
        folds.setdefault((job.row.entry, job.row.step), []).append(job)
    return list(folds.values())


def _line(same: list[Job], year: int) -> str:
    row = same[0].row
    times = f" ({len(same)} times)" if len(same) > 1 else ""
    room = WIDTH - 5 - _DAYS - _TIME - len(times)
    what = shorten(f"{row.entry_name}: {row.title}", room, placeholder="…") + times
    minutes = sum(job.row.minutes for job in same)
    when = days(same[-1] if row.done else same[0], year)
    text = f"    {what:<{WIDTH - 4 - _DAYS - _TIME}}{when:<{_DAYS}}{_time(minutes):>{_TIME}}"
    return text.rstrip()


def days(job: Job, year: int) -> str:
    """A job's days in words, with the year where it is another: "done 3 Dec", "1 Dec to 14 Jan 2028, best 9 Dec"."""
    row = job.row
    if row.done is not None:
        return f"done {_day(row.done)}"
    if row.opens is None or row.best is None or row.closes is None:
        return "not yet"
    if row.opens == row.closes:
        return f"on {_day(row.best, year)}"
    return f"{_day(row.opens)} to {_day(row.closes, year)}, best {_day(row.best)}"


def _day(day: int, year: int = 0) -> str:
    on = date.fromordinal(day)
    return f"{on.day} {on:%b}" if year in (0, on.year) else f"{on.day} {on:%b} {on.year}"


def _time(minutes: int) -> str:
    if minutes < 60:
        return f"{minutes} min" if minutes else ""
    return f"{minutes // 60} h {minutes % 60:02}" if minutes % 60 else f"{minutes // 60} h"


def _hours(minutes: int) -> str:
    return f"{(minutes + 30) // 60} h"
