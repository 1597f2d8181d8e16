"""Typing twelve monthly means."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.setup import climates
from app.services.weather.weather import Reading, months, type_months, use_months
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.parts import Status
from app.web.typed import Typed
from app.web.weather.months_page import HERE, KINDS, months_page
from app.web.weather.typed import read_figure, scale

router = APIRouter()

SAID = {"kept": "The monthly means are kept, and every date follows.", "used": "Every date follows that place now."}


@router.get("/weather/months")
def show(request: Request, book: TheBook) -> Response:
    """The twelve months."""
    said = SAID.get(request.query_params.get("put", ""))
    return _drawn(request, book, status=Status(said) if said else None)


@router.post("/weather/months")
def keep(request: Request, book: TheBook, form: TheForm) -> Response:
    """Keep them, and reckon from them."""
    in_ = scale(book.imperial)
    rows = [Reading(*(read_figure(form, f"{kind}_{n}", in_.unit(kind)) for kind, _ in KINDS)) for n in range(1, 13)]
    try:
        form.check()
        type_months(book, rows, book.today().toordinal(), sure=form.raw("sure") == "yes")
    except BadInput as error:
        return _drawn(request, book, form, error.fields)
    return RedirectResponse(f"{HERE}?put=kept", 303)


@router.post("/weather/months/use")
def use(request: Request, book: TheBook, form: TheForm) -> Response:
    """Reckon from a place that comes with the program; what was typed is kept."""
    try:
        normals = form.choice("normals", [ident for ident, _ in climates()], "Please choose one.")
        form.check()
    except BadInput as error:
        return _drawn(request, book, form, error.fields)
    use_months(book, normals, book.today().toordinal())
    return RedirectResponse(f"{HERE}?put=used", 303)


def _drawn(
    request: Request,
    book: Book,
    form: Typed | None = None,
    errors: dict[str, str] | None = None,
    status: Status | None = None,
) -> Response:
    with book.reading() as session:
        known = months(book, session)
    here = frame(request, "Monthly means", "weather", status)
    typed = form.values if form else None
    shown = months_page(here, known, climates(), scale(book.imperial), typed, errors)
    return page(request, shown, 422 if errors else 200)
