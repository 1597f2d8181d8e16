"""What upkeep's pages say in the same words: when something was last done, how sure that is, what was put down."""

from datetime import date
from urllib.parse import quote

from fastapi import Request

from app.rules.spans import Day
from app.rules.tasks import Task
from app.services.book import Book
from app.services.upkeep.elements import Element, Last
from app.sheets.upkeep_tables import misfits
from app.web.links import entry_href
from app.web.parts import Status
from app.web.rows import job_href
from app.web.words import SP, day, figure, month, window

SAID = {
    "new": "It is put down. What it asks stands with its building.",
    "packs": "That is put down; costs are reckoned with it.",
}


def status(request: Request) -> Status | None:
    """What was put down just now; a coating that does not suit what it is on is told, and was not refused."""
    said = SAID.get(request.query_params.get("put", ""))
    if said is None:
        return None
    at = request.query_params.get("unsuited", "")
    rows = misfits()
    if at.isdecimal() and int(at) < len(rows):
        return Status(f"It is put down, though they do not belong together. {rows[int(at)].says}", alert=True)
    return Status(said)


def unsuited_number(says: str) -> str:
    """Which sentence of the table it is, "" for none of it."""
    return next((str(n) for n, one in enumerate(misfits()) if one.says == says), "")


def last_words(last: Last | None, today: date) -> str:
    """ "Last painted 20 June 2023", "last painted about 2020", "last painted: nobody knows"."""
    if last is None:
        return ""
    on = date.fromordinal(last.day)
    if last.known == "not known":
        return f"{last.what}: nobody knows"
    if last.known == "about":
        return f"{last.what} about {on.year}"
    return f"{last.what} on {day(on, today)}" if not last.what.startswith("Last") else f"{last.what} {day(on, today)}"


def size_words(one: Element, imperial: bool) -> str:
    """How large it is: "46 m²", "44 m", in feet where the household measures in feet."""
    area, run = one.facts.get("area_m2"), one.facts.get("run_m")
    if isinstance(area, int | float):
        return f"{figure(area, 0)}{SP}m²"
    if isinstance(run, int | float):
        return f"{figure(run / 0.3048, 0)}{SP}ft" if imperial else f"{figure(run, 0)}{SP}m"
    return ""


def window_words(task: Task, today: date) -> str:
    """A job's window in words; one that lies years ahead by its month."""
    if task.opens is None or task.best is None or task.closes is None:
        return "waits until something is said"
    best = date.fromordinal(task.best)
    if task.best - today.toordinal() > 730:
        return f"about {month(best, today)}"
    return window(date.fromordinal(task.opens), best, date.fromordinal(task.closes), today)


def task_href(book: Book, task: Task, entry: str) -> str:
    """A job's page; beyond three years, where jobs have no page yet, that of its entry."""
    far = task.best is not None and book.is_far(task.best)
    return entry_href(entry) if far else job_href(task.key)


def of_words(one: Element) -> str:
    """Whose job it is: the element, and where it stands."""
    return f"{one.entry.name}, {one.entry.place}" if one.entry.place else one.entry.name


def on(value: Day) -> date:
    """A day number as a date."""
    return date.fromordinal(value)


def quoted(text: str) -> str:
    """Text for an address."""
    return quote(text, safe="")
