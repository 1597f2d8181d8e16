"""What to expect against what came; and eggs put down as they are collected."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.livestock.expect import expected, tell_eggs
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, any_id, fresh_id
from app.web.frames import frame
from app.web.livestock.expect_page import expect_page
from app.web.parts import Status

router = APIRouter()


@router.get("/livestock/expect")
def show(request: Request, book: TheBook) -> Response:
    """The page."""
    return _drawn(request, book, Wrong())


@router.post("/livestock/expect")
def eggs(request: Request, book: TheBook, form: TheForm) -> Response:
    """Eggs of a day."""
    entry, today = form.raw("entry"), book.today().toordinal()
    try:
        count = form.number("eggs", 0, 4000, needed="How many eggs?")
        on = form.day("on")
        if count is not None and count != round(count):
            form.fault("eggs", "A whole number is wanted.")
        form.check()
        tell_eggs(book, entry, round(count or 0), today if on is None else on, today, any_id(form))
    except BadInput as error:
        return _drawn(request, book, Wrong(entry, form.values, error.fields))
    return RedirectResponse("/livestock/expect?put=eggs", 303)


def _drawn(request: Request, book: Book, wrong: Wrong) -> Response:
    today = book.today()
    with book.reading() as session:
        found = expected(book, session, today.toordinal())
    status = Status("The eggs are put down.") if request.query_params.get("put") == "eggs" else None
    here = frame(request, "What to expect", "livestock", status)
    shown = expect_page(here, found, book.imperial, today, wrong, fresh_id())
    return page(request, shown, 422 if wrong.errors else 200)
