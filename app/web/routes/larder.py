"""The larder: what there is, a batch put in by hand, and all of it as a table."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.larder import csv as larder_csv
from app.services.larder import larder, lot_words
from app.web import pages
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, form_id
from app.web.frames import frame
from app.web.larder.forms import add_form, read_add
from app.web.larder.page import batch_href, larder_page
from app.web.larder.words import status

router = APIRouter()


@router.get("/larder")
def show(request: Request, book: TheBook) -> Response:
    """The larder."""
    here = frame(request, "Larder", "larder", status(request))
    with book.reading() as session:
        house = book.holding(session)
        found = larder.larder(book, session, book.today().toordinal())
        shown = larder_page(here, found, house.mouths, book.today(), house.units == "imperial")
    return page(request, shown)


@router.get("/larder.csv")
def table(book: TheBook) -> Response:
    """Every batch as a table for a spreadsheet."""
    with book.reading() as session:
        book.holding(session)
        content = larder_csv.write(larder_csv.every(session))
    headers = {"Content-Disposition": f'attachment; filename="larder-{book.today().isoformat()}.csv"'}
    return Response(content, media_type="text/csv; charset=utf-8", headers=headers)


@router.get("/larder/add")
def adding(request: Request, book: TheBook) -> Response:
    """A batch by hand."""
    return _adding(request, book, Wrong())


@router.post("/larder/add")
def add(request: Request, book: TheBook, form: TheForm) -> Response:
    """A batch that no job here made."""
    today = book.today().toordinal()
    try:
        new, killed = read_add(form, book.today())
    except BadInput as error:
        return _adding(request, book, Wrong("add", form.values, error.fields))
    ident = lot_words.put_lot(book, new, today, form_id(form))
    if killed:
        larder.mark(book, ident, today, killed=killed)
    with book.reading() as session:
        said = "full" if larder.overfull(session, ident, today) else "add"
    return RedirectResponse(f"{batch_href(ident)}?put={said}", 303)


def _adding(request: Request, book: Book, wrong: Wrong) -> Response:
    with book.reading() as session:
        book.holding(session)
    here = frame(request, "Put a batch in the larder", "larder")
    return page(request, pages.LarderAdd(here, add_form(wrong, book.today())), 422 if wrong.errors else 200)
