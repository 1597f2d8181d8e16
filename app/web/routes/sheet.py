"""How it's done: a sheet with its sources."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.services.in_time import in_time
from app.services.own_ways import ways_by_step
from app.services.preview import sheet_of
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.sheet_page import sheet_page

router = APIRouter()


@router.get("/sheet/{sheet_id}")
def sheet(request: Request, book: TheBook, sheet_id: str) -> HTMLResponse:
    """The sheet."""
    found = sheet_of(book, sheet_id)
    with book.reading() as session:
        ways = ways_by_step(session, found)
        steps = in_time(book, session, found, book.today().toordinal())
    return page(request, sheet_page(book, found, steps, frame(request, f"How it’s done: {found.title}"), ways))
