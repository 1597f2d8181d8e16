"""One job: why its days are what they are, what bars it, what was said of it, and what follows."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.records.store import TaskRow, Told
from app.rules.moment import StepDay, TickDay
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.tasks import Bar, Reason
from app.rules.terms import Value
from app.rules.ticks import in_force
from app.rules.touch import root
from app.rules.why import why
from app.services.book import Book
from app.services.jobs import Job, bars_on, jobs_of, step_of
from app.services.remembered import Remembered, remembered_at


class Saying(NamedTuple):
    """Something that was said of a job; ``holds`` until it is taken back."""

    told: Told
    holds: bool
    person: str


class JobView(NamedTuple):
    """A job with all that its page shows; ``step`` as it is done here, the household's own ways in it."""

    job: Job
    sheet: Sheet | None
    step: Step | None
    facts: dict[str, Value]
    reasons: list[Reason]
    bars: list[Bar]
    said: list[Saying]
    follows: list[Job]
    made: list[tuple[str, str]]  # entries that came of it: id and name
    remembered: list[Remembered]  # what was said at it in former seasons


def job_view(book: Book, session: Session, key: str, today: Day) -> JobView:
    """A job by its key.

    Raises: NotFound; MissingFact while the first run is not done.
    """
    book.holding(session)
    row = store.task_row(session, key)
    if row is None:
        raise NotFound(_gone(book, session, key))
    job = jobs_of(book, session, [row], today)[0]
    found = step_of(book, row)
    live = book.live(session, today)
    laid = live.laid.get(row.entry)
    done_here = live.planner.sheet_of(laid.entry) if laid is not None else None
    steps = done_here.steps if done_here is not None else ()
    made = [(name, other.entry.name) for name, other in live.laid.items() if other.entry.made_by == key]
    return JobView(
        job,
        found[0] if found else None,
        next((step for step in steps if step.id == row.step), found[1] if found else None),
        dict(laid.entry.facts) if laid else {},
        _reasons(book, session, row, found, today),
        [bar for bar in bars_on(book, session, row.entry, row.act, today) if bar.kind != "clash"],
        _said(book, session, row),
        _follows(book, session, row, found[0] if found else None, today),
        sorted(made),
        remembered_at(book, session, key, *found, row.best or today) if found else [],
    )


def _gone(book: Book, session: Session, key: str) -> str:
    entry = root(key.split(".")[0])
    known = store.entries(session, [entry])
    if known and known[0].struck:
        return f"‘{known[0].name}’ was struck out, and its jobs with it. What was ticked is kept."
    if known:
        return f"‘{known[0].name}’ asks for no such job now: it no longer follows from what is put down."
    return "There is no such job."


def _reasons(book: Book, session: Session, row: TaskRow, found: tuple[Sheet, Step] | None, today: Day) -> list[Reason]:
    live = book.live(session, today)
    laid = live.laid.get(row.entry)
    if laid is None or found is None:
        return []
    plan = book.planned(session, today)
    explained = live.planner.explain(plan, laid.entry, live.facts.ticks.get(row.entry, ()))
    task = next((task for task in explained.tasks if task.key == row.key), None)
    sheet = live.planner.sheet_of(laid.entry)
    step = next((one for one in sheet.steps if one.id == row.step), None) if sheet is not None else None
    return [] if task is None or step is None or sheet is None else why(task, step, sheet)


def _said(book: Book, session: Session, row: TaskRow) -> list[Saying]:
    told = store.told(session, key=row.key)
    holding = {tick.id for tick in in_force([one.tick for one in told])}
    names = {person.id: person.name for person in store.people(session, left=True)}
    return [Saying(one, one.tick.id in holding, names.get(one.person, "")) for one in told]


def _follows(book: Book, session: Session, row: TaskRow, sheet: Sheet | None, today: Day) -> list[Job]:
    """The open jobs of the same cycle that are reckoned from this one, or must come after it."""
    if sheet is None:
        return []
    after = {step.id for step in sheet.steps if hangs_on(step, row.step)}
    rows = [
        other
        for other in store.rows_for_entry(session, row.entry)
        if other.step in after and other.done is None and _same_cycle(other.label, row.label)
    ]
    first: dict[str, TaskRow] = {}
    for other in rows:
        first.setdefault(other.step, other)
    return jobs_of(book, session, first.values(), today)


def _same_cycle(one: str, other: str) -> bool:
    short, long = sorted((one, other), key=len)
    return not short or long == short or long.startswith(f"{short}.")


def hangs_on(step: Step, name: str) -> bool:
    """Whether a step is reckoned from another, or must come after it."""
    if any(after.step == name for after in step.after):
        return True
    moment: object = step.start
    while moment is not None:
        if isinstance(moment, StepDay | TickDay) and moment.step == name:
            return True
        moment = getattr(moment, "since", None) or getattr(moment, "before", None)
    return False
