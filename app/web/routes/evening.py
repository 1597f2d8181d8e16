"""What got done: the evening's ticks on one screen, or by the numbers on the printed month."""

import re

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.errors import BadInput, NotFound
from app.services.book import Book
from app.services.evening import Numbers, evening, read_numbers, tick_numbers
from app.services.month import month_days
from app.web import words
from app.web.depends import TheBook, TheForm, page, who_says
from app.web.frames import frame
from app.web.news import news
from app.web.parts import Status
from app.web.rows import date_of
from app.web.yard import evening_page

router = APIRouter()


@router.get("/evening")
def show(request: Request, book: TheBook, month: str = "") -> Response:
    """The likely jobs, what is ticked already, and a field for numbers."""
    return _page(request, book, month or f"{book.today():%Y-%m}")


@router.post("/evening")
def by_numbers(request: Request, book: TheBook, form: TheForm) -> Response:
    """The numbers crossed off on paper."""
    month = form.raw("month") or f"{book.today():%Y-%m}"
    today = book.today().toordinal()
    printed(month, today)
    typed = form.raw("numbers")
    on = form.day("on")
    try:
        form.check()
        came = tick_numbers(book, month, read_numbers(typed), today if on is None else on, today, who_says(request))
    except BadInput as wrong:
        return _page(request, book, month, typed=typed, error=" ".join(wrong.fields.values()))
    unknown = words.listed([str(number) for number in came.unknown])
    error = f"There is no open job numbered {unknown} on the page for {printed(month, today)}." if came.unknown else ""
    return _page(request, book, month, numbers=came, typed=" ".join(map(str, came.unknown)), error=error)


def printed(month: str, today: int) -> str:
    """The printed page by name: "September 2027".

    Raises: NotFound.
    """
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}", month):
        raise NotFound("There is no such month.")
    first, _ = month_days(int(month[:4]), int(month[5:]), today)
    return f"{words.MONTHS[date_of(first).month - 1]} {month[:4]}"


def _page(
    request: Request, book: Book, month: str, *, numbers: Numbers | None = None, typed: str = "", error: str = ""
) -> Response:
    today = book.today().toordinal()
    name = printed(month, today)
    with book.reading() as session:
        found = evening(book, session, today)
        said = news(book, session, request)
    if numbers is not None and numbers.heard:
        said = Status(f"{words.counted(len(numbers.heard), 'job').capitalize()} ticked.")
    here = frame(request, "What got done", "today", said)
    return page(request, evening_page(here, found, today, month, name, numbers, typed, error), 422 if error else 200)
