"""Upkeep: what there is, and an element put down in one line."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, NotFound
from app.services.book import Book
from app.services.upkeep.put import element_sheets, put_element
from app.services.upkeep.there import there
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, form_id
from app.web.frames import frame
from app.web.upkeep.forms import read_element
from app.web.upkeep.page import unsuited_number, upkeep_page
from app.web.upkeep.words import status

router = APIRouter()


@router.get("/upkeep")
def show(request: Request, book: TheBook) -> Response:
    """What there is, building by building."""
    return _drawn(request, book, Wrong())


@router.post("/upkeep")
def add(request: Request, book: TheBook, form: TheForm) -> Response:
    """An element in one line."""
    sheets = element_sheets(book)
    try:
        new = read_element(form, sheets, book.imperial, book.today())
        _, says = put_element(book, new, form_id(form) or str(book.now().timestamp()), book.today().toordinal())
    except NotFound as error:
        return _drawn(request, book, Wrong("add", form.values, {"sheet": str(error)}))
    except BadInput as error:
        return _drawn(request, book, Wrong("add", form.values, error.fields))
    number = unsuited_number(says)
    return RedirectResponse(f"/upkeep?put=new{'&unsuited=' + number if number else ''}", 303)


def _drawn(request: Request, book: Book, wrong: Wrong) -> Response:
    today = book.today()
    with book.reading() as session:
        found = there(book, session, today.toordinal())
    shown = upkeep_page(
        book, frame(request, "Upkeep", "upkeep", status(request)), found, element_sheets(book), wrong, today
    )
    return page(request, shown, 422 if wrong.errors else 200)
