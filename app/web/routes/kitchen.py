"""The kitchen's sums."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.preserving.kitchen_sums import freezer_litres
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.preserving.kitchen_asks import SUMS, Place
from app.web.preserving.kitchen_page import Sent, kitchen_page

router = APIRouter()


@router.get("/preserving/sums")
def sums(request: Request, book: TheBook) -> Response:
    """Every sum, one of them with what was typed; reckoning changes nothing."""
    typed = dict(request.query_params)
    which = typed.get("sum", "")
    with book.reading() as session:
        place = Place(book.holding(session).altitude_m, freezer_litres(session))
    sent = Sent(which if which in SUMS else "", typed)
    shown, bad = kitchen_page(frame(request, "Kitchen sums", "preserving"), book, sent, place, book.imperial)
    return page(request, shown, 422 if bad and sent.which else 200)
