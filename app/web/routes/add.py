"""Add: choose what it is, see its dates, put it down."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.responses import Response

from app.services.choose import choosable
from app.web.choose_page import choose_page
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.put_page import first_look, sent

router = APIRouter()


@router.get("/add")
def choose(request: Request, book: TheBook, q: str = "", trade: str = "", place: str = "") -> HTMLResponse:
    """Every sheet, by trade; ``place`` is where it is to stand, as a bed's page says it."""
    with book.reading() as session:
        offered = choosable(book, session, book.today().toordinal(), words=q[:80], trade=trade)
    return page(
        request, choose_page(frame(request, "Add", "add"), offered, q[:80], trade, found=False, place=place[:80])
    )


@router.get("/add/{sheet_id}")
def form(request: Request, book: TheBook, sheet_id: str) -> Response:
    """The form for one sheet."""
    return first_look(request, book, sheet_id, found=False)


@router.post("/add/{sheet_id}")
def put(request: Request, book: TheBook, form: TheForm, sheet_id: str) -> Response:
    """The dates, or the entry."""
    return sent(request, book, sheet_id, form, found=False)
