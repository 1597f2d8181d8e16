"""The table: growing, picked, kept and eaten through the year, and what was weighed."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.garden.table import table
from app.services.garden.tallies import tallies
from app.web.depends import TheBook, page
from app.web.garden.table_page import table_page

router = APIRouter()


@router.get("/garden/table")
def show(request: Request, book: TheBook) -> Response:
    """The year ahead, and this year's kilos; last year's while nothing of this one was weighed or is to be expected."""
    today = book.today()
    with book.reading() as session:
        found = table(book, session, today.toordinal())
        year = today.year
        counted = tallies(book, session, year, today.toordinal())
        if not any(one.weeks for one in counted):
            before = tallies(book, session, year - 1, today.toordinal())
            if any(one.weeks for one in before):
                year, counted = year - 1, before
    return page(request, table_page(request, found, counted, year, today, book.imperial))
