"""The search across everything."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.search import search
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.larder.search import LONGEST, search_page

router = APIRouter()


@router.get("/search")
def find(request: Request, book: TheBook, q: str = "") -> Response:
    """Everything in which the words stand."""
    words = q.replace("\x00", "")[:LONGEST]
    with book.reading() as session:
        imperial = book.holding(session).units == "imperial"
        found = search(book, session, words)
    return page(request, search_page(frame(request, "Search", "search"), words, found, book.today(), imperial))
