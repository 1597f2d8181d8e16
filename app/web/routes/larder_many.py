"""Many batches at once: a shelf counted, the power off, what was spoiled."""

from collections.abc import Collection

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.larder import larder
from app.services.larder import many as larder_many
from app.services.larder.power import power
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, form_id
from app.web.frames import frame
from app.web.larder.count import MOST_BOXES, PREFIX, boxes_of, count_page, read_count
from app.web.larder.page import PLACES
from app.web.larder.power import power_page
from app.web.larder.words import put

router = APIRouter()


@router.get("/larder/count")
def counting(request: Request, book: TheBook, store: str = "", place: str | None = None) -> Response:
    """Every batch of a place, with a box for what was found."""
    return _counting(request, book, store, place, Wrong())


@router.post("/larder/count")
def count(request: Request, book: TheBook, form: TheForm) -> Response:
    """What was found; a box left empty says nothing."""
    store, place = form.raw("store"), form.values.get("place")
    today = book.today().toordinal()
    try:
        found, on = read_count(form, *_units(book, boxes_of(form)))
        if not found:
            raise BadInput({"": "No box was filled, so nothing was changed."})
        other = larder_many.count_many(book, found, today if on is None else on, today, form_id(form))
    except BadInput as error:
        fields = {
            name if name in form.values or not name else f"{PREFIX}{name}": said for name, said in error.fields.items()
        }
        return _counting(request, book, store, place, Wrong("count", form.values, fields))
    return RedirectResponse(put("/larder", "counted", many=len(found), other=other), 303)


@router.get("/larder/power")
def off(request: Request, book: TheBook) -> Response:
    """The power is off."""
    return _power(request, book)


@router.post("/larder/spoiled")
def spoiled(request: Request, book: TheBook, form: TheForm) -> Response:
    """What was ticked is thrown out."""
    ids = [ident for ident in dict.fromkeys(form.several.get("batch", ())) if ident]
    if not ids:
        return _power(request, book, "Tick what was spoiled; nothing was changed.")
    many = larder_many.throw_many(book, ids, book.today().toordinal(), "spoiled", form_id(form))
    return RedirectResponse(put("/larder", "thrown", many=many), 303)


def _units(book: Book, ids: Collection[str]) -> tuple[dict[str, str], bool]:
    """In what batches are counted, and whether the household reads pounds."""
    with book.reading() as session:
        return {row.id: row.unit for row in larder.some(session, ids)}, book.holding(session).units == "imperial"


def _counting(request: Request, book: Book, store: str, place: str | None, wrong: Wrong) -> Response:
    known = store if store in PLACES else ""
    with book.reading() as session:
        imperial = book.holding(session).units == "imperial"
        rows = larder.there(session, MOST_BOXES, known, place) if known else []
        places = larder.places(session)
    here = frame(request, "Count a shelf", "larder")
    shown = count_page(here, places, rows, known, place if known else None, wrong, book.today(), imperial)
    return page(request, shown, 422 if wrong.errors else 200)


def _power(request: Request, book: Book, error: str = "") -> Response:
    with book.reading() as session:
        found = power(book, session, book.today().toordinal())
        imperial = book.holding(session).units == "imperial"
    here = frame(request, "The power is off", "larder")
    return page(request, power_page(here, found, book.library, error, book.today(), imperial), 422 if error else 200)
