"""Found…: something seen that starts work at once; two taps."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.services.choose import choosable
from app.web.choose_page import choose_page
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.put_page import first_look, sent

router = APIRouter()


@router.get("/found")
def choose(request: Request, book: TheBook, q: str = "") -> HTMLResponse:
    """What may be seen."""
    with book.reading() as session:
        offered = choosable(book, session, book.today().toordinal(), words=q[:80], found=True)
    return page(request, choose_page(frame(request, "Found…", "found"), offered, q[:80], "", found=True))


@router.get("/found/{sheet_id}")
def form(request: Request, book: TheBook, sheet_id: str) -> Response:
    """What is to be done about it, from today; one button begins it."""
    return first_look(request, book, sheet_id, found=True)


@router.post("/found/{sheet_id}")
def put(request: Request, book: TheBook, form: TheForm, sheet_id: str) -> Response:
    """The dates, or the work begun."""
    return sent(request, book, sheet_id, form, found=True)
