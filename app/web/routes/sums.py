"""How much to sow."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.errors import BadInput, NotFound
from app.services.garden.beds import garden
from app.services.garden.sums import Asked, Sums, crops_to_sow, reckon
from app.web.depends import TheBook, page
from app.web.garden.sums_page import read_asked, sums_page
from app.web.typed import Typed

router = APIRouter()


@router.get("/garden/sums")
def sums(request: Request, book: TheBook) -> Response:
    """The form, and the answer to what was asked."""
    typed = dict(request.query_params)
    today = book.today()
    errors: Mapping[str, str] = {}
    found: Sums | None = None
    asked: Asked | None = None
    with book.reading() as session:
        mouths = book.holding(session).mouths
        beds = [one for one in garden(book, session, today.toordinal()).beds if one.ends is None]
        if typed.get("sheet") or typed.get("amount"):
            try:
                asked = read_asked(Typed(typed), beds)
                found = reckon(book, session, asked, today.toordinal())
            except BadInput as error:
                errors = error.fields
            except NotFound:
                errors = {"sheet": "There is no such crop; choose one of these."}
    shown = sums_page(request, crops_to_sow(book), beds, typed, errors, found, asked, book.imperial, mouths, today)
    return page(request, shown, 422 if errors else 200)
