"""Today, for the yard."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.today import today
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.news import news
from app.web.yard import today_page

router = APIRouter()


@router.get("/today")
def show(request: Request, book: TheBook) -> Response:
    """Today."""
    with book.reading() as session:
        found = today(book, session, book.today().toordinal())
        said = news(book, session, request)
    return page(request, today_page(frame(request, "Today", "today", said), found))
