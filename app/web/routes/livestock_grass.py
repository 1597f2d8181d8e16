"""Grass and hay."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.livestock.grass import grass
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.livestock.grass_page import grass_page

router = APIRouter()


@router.get("/livestock/grass")
def show(request: Request, book: TheBook) -> Response:
    """The page."""
    today = book.today()
    with book.reading() as session:
        found = grass(book, session, today.toordinal())
    return page(
        request, grass_page(frame(request, "Grass and hay", "livestock"), found, book.library, book.imperial, today)
    )
