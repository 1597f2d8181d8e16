"""Upkeep ahead: fifteen years, ready for winter, the law."""

from collections.abc import Callable
from datetime import date
from typing import TypeVar

from fastapi import APIRouter, Request
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.rules.spans import Day
from app.services.book import Book
from app.services.upkeep.law import upkeep_law
from app.services.upkeep.winter import ready_for_winter
from app.services.upkeep.years import long_view
from app.web import pages
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.parts import Frame
from app.web.upkeep.law_page import law_page
from app.web.upkeep.years_page import winter_page, years_page

router = APIRouter()
Found = TypeVar("Found")


@router.get("/upkeep/years")
def years(request: Request, book: TheBook) -> Response:
    """The long view."""
    return _shown(request, book, "Fifteen years of upkeep", long_view, years_page)


@router.get("/upkeep/winter")
def winter(request: Request, book: TheBook) -> Response:
    """Ready for winter."""
    return _shown(request, book, "Ready for winter", ready_for_winter, winter_page)


@router.get("/upkeep/law")
def law(request: Request, book: TheBook) -> Response:
    """The law of the household's nation."""
    return _shown(request, book, "The law on upkeep", upkeep_law, law_page)


def _shown(
    request: Request,
    book: Book,
    title: str,
    find: Callable[[Book, Session, Day], Found],
    build: Callable[[Book, Frame, Found, date], pages.UpkeepYears | pages.UpkeepWinter | pages.UpkeepLaw],
) -> Response:
    """A page that is only looked at: what is found as of today, and built."""
    today = book.today()
    with book.reading() as session:
        found = find(book, session, today.toordinal())
    return page(request, build(book, frame(request, title, "upkeep"), found, today))
