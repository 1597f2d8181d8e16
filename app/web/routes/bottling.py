"""The bottling look-up."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.errors import BadInput
from app.services.preserving.bottling import Asked, Bottled, doubt_minutes, look_up, refused
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.preserving.bottling_page import bottling_page, read_asked
from app.web.typed import Typed

router = APIRouter()


@router.get("/preserving/bottling")
def bottling(request: Request, book: TheBook) -> Response:
    """The form, and the answer to what was asked; looking changes nothing."""
    typed = dict(request.query_params)
    errors: Mapping[str, str] = {}
    asked: Asked | None = None
    found: Bottled | None = None
    with book.reading() as session:
        altitude_m = book.holding(session).altitude_m
    no = refused(typed.get("what", ""))
    if typed and no is None:
        try:
            asked = read_asked(Typed(typed), altitude_m, book.imperial)
            found = look_up(asked)
        except BadInput as error:
            errors = error.fields
    shown = bottling_page(
        frame(request, "Bottling times", "preserving"), book.library, typed, errors, asked, found, no,
        doubt_minutes(asked.altitude_m if asked is not None else altitude_m), altitude_m, book.imperial,
    )  # fmt: skip
    return page(request, shown, 422 if errors else 200)
