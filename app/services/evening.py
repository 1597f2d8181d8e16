"""What got done: the evening's likely jobs on one screen, and the numbers of the printed month typed back."""

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, Conflict
from app.records import store
from app.rules.facts import Window
from app.rules.spans import Day
from app.rules.terms import Ask, Value
from app.services.book import Book
from app.services.jobs import Job, jobs_of
from app.services.month import month_days
from app.services.numbers import numbers
from app.services.project import said_of
from app.services.ticking import Words, named, new_tick, say, tick
from app.services.today import WEATHER
from app.services.today import today as today_of

FIRST = 6
"""So many jobs stand open on the evening's screen; a phone shows them without scrolling."""

LIKELY = 20
"""So many are offered in all."""

MOST_NUMBERS = 40
NO_MEASURES: Mapping[int, Mapping[str, Value]] = {}
_CROSSED = re.compile(r"[0-9]{1,4}(=[0-9.]{1,12})?")
_COMMA = re.compile(r"=[0-9]*,[0-9]")


class Evening(NamedTuple):
    """The jobs likely done today, and those ticked already."""

    likely: list[Job]
    done: list[Job]
    by: Mapping[str, str]  # who did it, by the job's key


class Heard(NamedTuple):
    """A printed number and the job that was ticked by it."""

    number: int
    key: str
    title: str


class Numbers(NamedTuple):
    """What came of the numbers typed: those ticked, and those that no open job has."""

    heard: tuple[Heard, ...]
    unknown: tuple[int, ...]


def evening(book: Book, session: Session, day: Day) -> Evening:
    """What may have got done today.

    Raises: MissingFact while the first run is not done.
    """
    found = today_of(book, session, day)
    # What is best done about now is likelier than what has waited for weeks.
    asked = [*found.before_frost, *found.urgent, *found.dry_work, *found.best]
    ranked = sorted(asked, key=lambda job: (abs((job.row.best or 0) - day), job.row.key))
    put_off = [one.job for one in found.not_today if one.why in WEATHER]  # the weather was told, and may have held
    return Evening([*ranked, *put_off][:LIKELY], found.done, found.by)


def read_numbers(text: str) -> dict[int, str]:
    """Numbers as they were typed, with spaces or commas between, each with what was weighed or counted: "3 7=14.2".

    Raises: BadInput with a sentence.
    """
    if _COMMA.search(text):
        raise BadInput(
            {"numbers": "Write what was weighed with a point, 7=14.2; a comma parts numbers. Nothing was ticked."}
        )
    parts = text.replace(",", " ").replace(";", " ").replace("·", " ").split()
    if not parts:
        raise BadInput({"numbers": "Type the numbers that you crossed off, with a space between: 3 7 12."})
    wrong = [part for part in parts if not _CROSSED.fullmatch(part)]
    if wrong:
        raise BadInput({"numbers": f"{wrong[0][:20]!r} is no number of a printed page. Nothing was ticked."})
    if len(parts) > MOST_NUMBERS:
        raise BadInput({"numbers": f"That is more than {MOST_NUMBERS} numbers. Nothing was ticked."})
    return {int(part.partition("=")[0]): part.partition("=")[2] for part in parts}


class Doing(NamedTuple):
    """A job that was done, as the evening's page sends it."""

    key: str
    tick_id: str
    shown: Window | None
    measures: Mapping[str, Value]


class Done(NamedTuple):
    """What came of a page of ticks: how many stand, and the titles of those that somebody else had ticked before."""

    saved: int
    before: tuple[str, ...]


def tick_all(book: Book, doings: Sequence[Doing], day: Day, today: Day, person: int | None = None) -> Done:
    """Tick jobs as done on a day, all of them or none; one that was ticked otherwise meanwhile stays as it was ticked.

    Raises: BadInput for a day to come, or for nothing ticked; NotFound when a job was never put down.
    """
    if not doings:
        raise BadInput({"": "Tick what got done. Nothing was saved."})
    if day > today:
        raise BadInput({"on": "That day has not come yet. A job is ticked on the day it was done, or later."})
    before = []
    with book.writing() as session:
        for one in doings:
            said = new_tick(book, one.key, "done", day, one.tick_id, one.shown)
            try:
                say(book, session, said, today, Words(one.measures, person=person))
            except Conflict:
                before.append(named(book, session, one.key, store.task_row(session, one.key))[0])
    return Done(len(doings) - len(before), tuple(before))


def tick_numbers(
    book: Book,
    month: str,
    wanted: Iterable[int],
    day: Day,
    today: Day,
    person: int | None = None,
    sent: str = "",
    measures: Mapping[int, Mapping[str, Value]] = NO_MEASURES,
) -> Numbers:
    """Tick the jobs that have these numbers on the printed page of a month, "2027-09", as done on a day.

    A number of a fold ticks the next open job in it. ``sent`` is the id of the form: sent twice, a number counts once.
    ``measures`` are what was weighed or counted, by number (see `asks_of_number`).
    Raises: BadInput for a day to come, or where the month was never numbered; NotFound for no such month.
    """
    with book.reading() as session:
        if not numbers(session, month):
            says = "The rows of that month were never numbered: its page has a button for it. Nothing was ticked."
            raise BadInput({"numbers": says})
    heard, unknown = [], []
    for number in wanted:
        tick_id = number_id(sent, number)
        if tick_id and (again := heard_before(book, tick_id, number)) is not None:
            heard.append(again)
            continue
        job = _job_of(book, month, number, today)
        if job is None:
            unknown.append(number)
            continue
        row = job.row
        came = tick(
            book,
            row.key,
            today,
            on=day,
            tick_id=tick_id or f"{row.key}~{said_of(row.extra).times}",
            words=Words(measures.get(number, {}), person=person),
        )
        heard.append(Heard(number, row.key, f"{came.title}: {came.entry_name}" if came.entry_name else came.title))
    return Numbers(tuple(heard), tuple(unknown))


def asks_of_number(book: Book, month: str, number: int, today: Day) -> tuple[Ask, ...] | None:
    """What the open job of a number asks; None where there is no such job."""
    job = _job_of(book, month, number, today)
    return job.asks if job is not None else None


def number_id(sent: str, number: int) -> str:
    """The id of the tick of a number that came with a form; "" when the form has none."""
    return f"number-{sent}-{number}" if sent else ""


def heard_before(book: Book, tick_id: str, number: int) -> Heard | None:
    """What a number of a form ticked when the form was sent before; None when it was not."""
    with book.reading() as session:
        found = store.tick(session, tick_id)
        if found is None:
            return None
        title, entry = named(book, session, found.tick.key, store.task_row(session, found.tick.key))
    return Heard(number, found.tick.key, f"{title}: {entry}" if entry else title)


def _job_of(book: Book, month: str, number: int, today: Day) -> Job | None:
    with book.reading() as session:
        line = next((line for line, given in numbers(session, month).items() if given == number), None)
        if line is None:
            return None
        if ":" not in line:
            row = store.task_row(session, line)
            rows = [] if row is None else [row]
        else:
            year, _, which = month.partition("-")
            first, last = month_days(int(year), int(which), today)
            rows = [row for row in store.month_rows(session, first, last, today) if in_fold(row, line)]
        jobs = [job for job in jobs_of(book, session, rows, today) if job.open and job.held is None]
    return min(jobs, key=lambda job: (job.row.closes or 0, job.row.best or 0, job.row.key), default=None)


def in_fold(row: store.TaskRow, fold: str) -> bool:
    """Whether a job lies in a fold."""
    return fold_id(fold.partition(":")[0], row) == fold


def fold_id(by: str, row: store.TaskRow) -> str:
    """The fold a job lies in when a month is folded by crop (one step of one sheet), by entry or by place."""
    what = {"crop": f"{row.sheet}.{row.step}", "entry": row.entry, "place": row.place}.get(by, "")
    return f"{by}:{what}"
