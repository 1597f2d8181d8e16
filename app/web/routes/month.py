"""The month: list and grid, folded, by trade; its rows numbered, to be printed."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.responses import Response

from app.errors import NotFound
from app.rules.spans import Day
from app.rules.terms import TRADES
from app.services.counted import version_of
from app.services.month import month as planned
from app.services.month import month_days
from app.services.numbers import give_numbers, numbers
from app.web.depends import TheBook, page
from app.web.folding import BYS, By
from app.web.frames import frame
from app.web.kept import Kept
from app.web.month_grid import grid_page
from app.web.monthly import listed, month_page, month_path, view
from app.web.news import TICK, news
from app.web.rows import date_of

router = APIRouter()


@router.get("/")
def home(book: TheBook) -> Response:
    """The month of today; before the first run, the first run."""
    if not book.name:
        return RedirectResponse("/start", 303)
    return RedirectResponse(month_path(book.today()), 303)


@router.get("/{year:int}/{month:int}")
def show(request: Request, book: TheBook, year: int, month: int) -> Response:
    """A month, as a list or as a grid."""
    return shown(request, book, year, month)


def shown(request: Request, book: TheBook, year: int, number: int) -> Response:
    """The page of a month."""
    today = book.today().toordinal()
    first, last = month_days(year, number, today)
    by, trade = options(request)
    as_grid = request.query_params.get("as") == "grid"
    kept: Kept = request.app.state.kept
    name = (first, by, trade, as_grid)
    plain = not request.query_params.get(TICK)
    with book.reading() as session:
        state = (version_of(session), today)
        before = kept.get(state, name) if plain else None
        if before is not None:
            return HTMLResponse(before)
        found = planned(book, session, first, last, today)
        said = news(book, session, request)
        known = numbers(session, named(first))
    title = f"{date_of(first):%B %Y}"
    here = frame(request, title, "month", said, month_href=month_path(date_of(first)))
    if as_grid:
        answer = page(request, grid_page(here, found, trade))
    else:
        to_come = last >= today and not book.is_far(last)
        answer = page(request, month_page(here, found, listed(found, trade, by), trade, by, known, to_come))
    if plain:
        kept.put(state, name, bytes(answer.body).decode())
    return answer


@router.post("/{year:int}/{month:int}/numbers")
def number(request: Request, book: TheBook, year: int, month: int) -> Response:
    """The rows as they stand are given the numbers by which they are typed back once the page is printed."""
    today = book.today().toordinal()
    first, last = month_days(year, month, today)
    by, trade = options(request)
    if last >= today and not book.is_far(last):
        with book.writing() as session:
            found = planned(book, session, first, last, today)
            give_numbers(session, named(first), listed(found, trade, by).ids)
        kept: Kept = request.app.state.kept
        kept.forget()
    return RedirectResponse(month_path(date_of(first)) + view(trade, by), 303)


def named(first: Day) -> str:
    """A month by name, as its numbers are kept: "2027-09"."""
    return f"{date_of(first):%Y-%m}"


def options(request: Request) -> tuple[By, str]:
    """How the month is folded, and which trade is shown.

    Raises: NotFound for a fold or a trade that there is not.
    """
    asked, trade = request.query_params.get("by", "crop"), request.query_params.get("trade", "")
    by = next((each for each in BYS if each == asked), None)
    if by is None:
        raise NotFound("A month can be folded by crop, by entry, by place, or not at all.")
    if trade and trade not in TRADES:
        raise NotFound(f"There is no such trade; there are {', '.join(TRADES)}.")
    return by, trade
