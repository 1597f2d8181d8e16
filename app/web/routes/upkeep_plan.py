"""Upkeep ahead: fifteen years, ready for winter, the law."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.upkeep.law import upkeep_law
from app.services.upkeep.winter import ready_for_winter
from app.services.upkeep.years import long_view
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.upkeep.law_page import law_page
from app.web.upkeep.years_page import winter_page, years_page

router = APIRouter()


@router.get("/upkeep/years")
def years(request: Request, book: TheBook) -> Response:
    """The long view."""
    today = book.today()
    with book.reading() as session:
        found = long_view(book, session, today.toordinal())
    return page(request, years_page(book, frame(request, "Fifteen years of upkeep", "upkeep"), found, today))


@router.get("/upkeep/winter")
def winter(request: Request, book: TheBook) -> Response:
    """Ready for winter."""
    today = book.today()
    with book.reading() as session:
        found = ready_for_winter(book, session, today.toordinal())
    return page(request, winter_page(book, frame(request, "Ready for winter", "upkeep"), found, today))


@router.get("/upkeep/law")
def law(request: Request, book: TheBook) -> Response:
    """The law of the household's nation."""
    today = book.today()
    with book.reading() as session:
        found = upkeep_law(book, session, today.toordinal())
    return page(request, law_page(book, frame(request, "The law on upkeep", "upkeep"), found, today))
