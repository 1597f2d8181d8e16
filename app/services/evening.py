"""What got done: the evening's likely jobs on one screen, and the numbers of the printed month typed back."""

from collections.abc import Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.rules.spans import Day
from app.services.book import Book
from app.services.jobs import Job, jobs_of
from app.services.month import month_days
from app.services.numbers import numbers
from app.services.project import said_of
from app.services.ticking import Words, tick
from app.services.today import today as today_of

LIKELY = 8
MOST_NUMBERS = 40


class Evening(NamedTuple):
    """The jobs likely done today, and those ticked already."""

    likely: list[Job]
    done: list[Job]


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
    ranked = sorted([*found.urgent, *found.best], key=lambda job: (abs((job.row.best or 0) - day), job.row.key))
    return Evening(ranked[:LIKELY], found.done)


def read_numbers(text: str) -> list[int]:
    """Numbers as they were typed, with spaces or commas between.

    Raises: BadInput with a sentence.
    """
    parts = text.replace(",", " ").replace(";", " ").replace("·", " ").split()
    if not parts:
        raise BadInput({"numbers": "Type the numbers that you crossed off, with a space between: 3 7 12."})
    wrong = [part for part in parts if not (part.isascii() and part.isdecimal() and len(part) <= 4)]
    if wrong:
        raise BadInput({"numbers": f"{wrong[0][:20]!r} is no number of a printed page. Nothing was ticked."})
    if len(parts) > MOST_NUMBERS:
        raise BadInput({"numbers": f"That is more than {MOST_NUMBERS} numbers. Nothing was ticked."})
    return list(dict.fromkeys(int(part) for part in parts))


def tick_numbers(
    book: Book, month: str, wanted: Sequence[int], day: Day, today: Day, person: int | None = None
) -> Numbers:
    """Tick the jobs that have these numbers on the printed page of a month, "2027-09", as done on a day.

    A number of a fold ticks the next open job in it. Raises: BadInput for a day to come; NotFound for no such month.
    """
    heard, unknown = [], []
    for number in wanted:
        job = _job_of(book, month, number, today)
        if job is None:
            unknown.append(number)
            continue
        row = job.row
        came = tick(
            book, row.key, today, on=day, tick_id=f"{row.key}~{said_of(row.extra).times}", words=Words(person=person)
        )
        heard.append(Heard(number, row.key, f"{came.title}: {came.entry_name}" if came.entry_name else came.title))
    return Numbers(tuple(heard), tuple(unknown))


def _job_of(book: Book, month: str, number: int, today: Day) -> Job | None:
    with book.reading() as session:
        line = next((line for line, given in numbers(book, session, month).items() if given == number), None)
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
