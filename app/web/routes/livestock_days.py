"""Appointments: what must be booked by when, and the day that was given."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.livestock.days import booked_for, days
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, any_id, fresh_id
from app.web.frames import frame
from app.web.livestock.days_page import days_page
from app.web.parts import Status

router = APIRouter()


@router.get("/livestock/days")
def show(request: Request, book: TheBook) -> Response:
    """The page."""
    return _drawn(request, book, Wrong())


@router.post("/livestock/days")
def booked(request: Request, book: TheBook, form: TheForm) -> Response:
    """A day was given."""
    key = form.raw("key")
    try:
        day = form.day("day") if "day" in form.values else None
        if "day" in form.values and day is None and "day" not in form.errors:
            form.fault("day", "Which day was given?")
        form.check()
        today = book.today().toordinal()
        booked_for(book, key, today if day is None else day, today, any_id(form))
    except BadInput as error:
        return _drawn(request, book, Wrong(key, form.values, error.fields))
    return RedirectResponse("/livestock/days?put=booked", 303)


def _drawn(request: Request, book: Book, wrong: Wrong) -> Response:
    today = book.today()
    with book.reading() as session:
        found = days(book, session, today.toordinal())
    said = request.query_params.get("put") == "booked"
    status = Status("Booked. All that hangs from that day has moved to it.") if said else None
    here = frame(request, "Appointments", "livestock", status)
    shown = days_page(here, found, book.library, book.imperial, today, wrong, fresh_id())
    return page(request, shown, 422 if wrong.errors else 200)
