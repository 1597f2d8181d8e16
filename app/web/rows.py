"""A job as a row: what the service says of it, in words and as a line on the page's scale."""

from datetime import date
from typing import Literal
from urllib.parse import quote

from markupsafe import Markup

from app.rules.spans import Day
from app.rules.state import State
from app.services.jobs import Job
from app.web import drawing, words
from app.web.drawing import Stretch
from app.web.parts import NO_LINE, Row

STATES = {
    State.LET_GO: "not this year",
    State.LOST: "lost",
    State.PASSED: "its time has passed",
    State.NO_ROOM: "no room for it",
    State.UNLAWFUL: "the time the law allows is over",
}


NO_NUMBERS = frozenset({"choice", "date", "entry", "text", "yes or no"})
"""Kinds of questions whose answer is no number."""


def job_href(key: str) -> str:
    """The page of a job."""
    return f"/job/{quote(key, safe='')}"


def date_of(day: Day) -> date:
    """A day number as a date."""
    return date.fromordinal(day)


_MOST = 8192
_drawn: dict[tuple[str, Stretch | None, Day, str, str], tuple[Job, Row]] = {}


def row(job: Job, stretch: Stretch | None, today: Day, sub: str = "", number: str = "") -> Row:
    """A job's row; ``sub`` is its second line, ``stretch`` the page's scale, if it has one.

    A month shows the same hundred jobs from one look to the next, so the row of the very same job is kept.
    """
    name = (job.row.key, stretch, today, sub, number)
    known = _drawn.get(name)
    if known is not None and known[0] is job:
        return known[1]
    made = _row(job, stretch, today, sub, number)
    if len(_drawn) >= _MOST:
        _drawn.clear()
    _drawn[name] = (job, made)
    return made


def _row(job: Job, stretch: Stretch | None, today: Day, sub: str, number: str) -> Row:
    r = job.row
    now = date_of(today)
    settled = not job.open
    return Row(
        key=r.key,
        anchor=words.anchor(r.key),
        trade=r.trade,
        title=r.title,
        href=job_href(r.key),
        sub=sub,
        minutes=words.minutes(r.minutes),
        when=when(job, now),
        until=until(r.closes, stretch) if not settled else "",
        line=line(job, stretch),
        can=can(job),
        tick_id=next_id(r.key, job.said.times),
        shown=shown(r.opens, r.best, r.closes),
        undoes=job.said.stands if settled else "",
        pressing=pressing(job, now),
        state=told(job, now),
        past=settled,
        number=number,
        pen=settled is False and len(job.asks) == 1 and job.asks[0].kind not in NO_NUMBERS,
    )


def next_id(key: str, times: int) -> str:
    """The id of the next thing said about a job: the same on every page that was loaded before it is said."""
    return f"{key}~{times}"


def can(job: Job) -> Literal["tick", "undo", ""]:
    """What one tap does."""
    if job.state in (State.DONE, State.LET_GO):
        return "undo" if job.said.stands else ""
    return "" if job.state in (State.WAITING, State.UNLAWFUL) else "tick"


def shown(opens: Day | None, best: Day | None, closes: Day | None) -> str:
    """The window as it goes out with a form, and comes back with a tick."""
    if opens is None or best is None or closes is None:
        return ""
    return f"{date_of(opens)}/{date_of(best)}/{date_of(closes)}"


def when(job: Job, today: date) -> str:
    """A job's window in words; for one that waits, until when."""
    r = job.row
    if r.opens is not None and r.best is not None and r.closes is not None:
        return words.window(date_of(r.opens), date_of(r.best), date_of(r.closes), today)
    if job.held is not None and job.held.last is not None:
        return f"not before {words.short(date_of(job.held.last + 1), today)}"
    return "not until something is said"


def until(closes: Day | None, stretch: Stretch | None) -> str:
    """A last day in a few letters, for paper."""
    if closes is None:
        return ""
    on = date_of(closes)
    if stretch is not None and stretch.first <= closes <= stretch.last:
        return f"by {on.day}"
    return words.short(on, date_of(stretch.first) if stretch is not None else None)


def line(job: Job, stretch: Stretch | None) -> Markup:
    """A job's window on the page's scale."""
    if stretch is None:
        return NO_LINE
    r = job.row
    bests = () if r.best is None else (r.best,)
    barred = (stretch.first, job.held.last) if job.held is not None else None
    return drawing.line(stretch, r.opens, r.closes, bests, r.done, barred)


def pressing(job: Job, today: date) -> str:
    """Why it can't wait."""
    if not job.pressing or job.row.closes is None:
        return ""
    return words.left(date_of(job.row.closes), today)


def told(job: Job, today: date) -> str:
    """What else is to be said of it in a word or two."""
    r = job.row
    if r.done is not None:
        on = date_of(r.done)
        same = (on.year, on.month) == (today.year, today.month)
        return f"done on the {words.ordinal(on.day)}" if same else f"done on {words.day(on, today)}"
    if job.state in STATES:
        return STATES[job.state]
    found = []
    if job.said.moved and r.best is not None:
        found.append(f"moved to the {words.ordinal(date_of(r.best).day)}")
    if r.fate == "squeezed":
        found.append("less time than there should be")
    if not r.sure:
        found.append("not sure yet")
    return ", ".join(found)


def about(job: Job, *, entry: bool = True, place: bool = True, note: bool = True) -> str:
    """A row's second line: entry, place, and the step's own short line."""
    r = job.row
    parts = [r.entry_name] if entry and r.entry_name != r.title else []
    if place and r.place and r.place.casefold() != r.entry_name.casefold():
        parts.append(r.place)
    if note and job.note:
        parts.append(job.note)
    return " · ".join(parts)
