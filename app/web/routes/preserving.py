"""What is being kept: the dryer, the crocks, the jars, what is coming in."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.preserving.preserving import preserving
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.parts import Status
from app.web.preserving.page import preserving_page

router = APIRouter()
SAID = {"glut": "It is put down: each way stands below with its next job, and in the month."}


@router.get("/preserving")
def show(request: Request, book: TheBook) -> Response:
    """The page."""
    today = book.today()
    said = SAID.get(request.query_params.get("put", ""))
    with book.reading() as session:
        zone = book.holding(session).timezone
        found = preserving(book, session, today.toordinal())
    here = frame(request, "Preserving", "preserving", Status(said) if said else None)
    return page(request, preserving_page(here, found, book.imperial, zone, today))
