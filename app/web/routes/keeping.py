"""How long meat keeps."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.meat.keeping import tables
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.meat.keeping_page import keeping_page

router = APIRouter()


@router.get("/meat/keeping")
def show(request: Request, book: TheBook) -> Response:
    """The tables."""
    with book.reading() as session:
        found = tables(book, session)
    return page(request, keeping_page(frame(request, "How long meat keeps", "meat"), book.library, found))
