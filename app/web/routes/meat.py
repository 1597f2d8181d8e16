"""Meat: what there is to deal with, a delivery shown and saved, its packing ticked off."""

from urllib.parse import quote

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.errors import BadInput
from app.services.book import Book
from app.services.meat import delivery_put
from app.services.meat.delivery import Told, told
from app.services.meat.delivery_house import freezers, house
from app.services.meat.delivery_overview import meat
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, any_id, fresh_id
from app.web.frames import frame
from app.web.meat.delivery_forms import delivery_form, read_delivery
from app.web.meat.delivery_packing import packing_page
from app.web.meat.delivery_page import delivery_page
from app.web.meat.packing_forms import read_packed
from app.web.meat.page import meat_page
from app.web.parts import Status
from app.web.typed import Typed

router = APIRouter()

NOTHING_WRONG = Wrong()
SAID = {
    "new": "Put down. Tick off each cut as it is packed.",
    "pack": "That is packed; each cut is a batch of its own.",
}


@router.get("/meat")
def show(request: Request, book: TheBook) -> Response:
    """What meat there is to deal with."""
    today = book.today()
    with book.reading() as session:
        found = meat(book, session, today.toordinal())
        mouths = book.holding(session).mouths
    return page(request, meat_page(frame(request, "Meat", "meat"), found, mouths, book.imperial, today))


@router.get("/meat/delivery")
def ask(request: Request, book: TheBook, by: str = "box") -> Response:
    """A delivery, or a carcase or side."""
    return _delivery(request, book, "carcase" if by == "carcase" else "box", Typed({}))


@router.post("/meat/delivery")
def sent(request: Request, book: TheBook, form: TheForm) -> Response:
    """What follows, or the entry."""
    by = "carcase" if form.raw("by") == "carcase" else "box"
    with book.reading() as session:
        home = house(book, session, book.today().toordinal())
    try:
        read = read_delivery(form, home)
    except BadInput as error:
        return _delivery(request, book, by, form, wrong=Wrong("delivery", form.values, error.fields))
    found = told(read.asked)
    if form.raw("confirm") != "yes" or read.faults:
        return _delivery(request, book, by, form, found, Wrong("ways", form.values, read.faults))
    ident = delivery_put.put(book, found, read.name, read.freezer, book.today().toordinal(), any_id(form))
    return RedirectResponse(f"/meat/delivery/{quote(ident, safe='')}?put=new", 303)


@router.get("/meat/delivery/{entry_id}")
def packing(request: Request, book: TheBook, entry_id: str) -> Response:
    """A delivery that has come."""
    return _packing(request, book, entry_id, Wrong())


@router.post("/meat/delivery/{entry_id}/pack")
def pack(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """Some of it was packed."""
    today = book.today().toordinal()
    with book.reading() as session:
        found = delivery_put.find(book, session, entry_id, today)
    try:
        if found.waiting:  # sent again, it is packed already
            wanted, on = read_packed(form, found, book.imperial)
            delivery_put.pack(book, entry_id, wanted, today if on is None else on, today, any_id(form))
    except BadInput as error:
        return _packing(request, book, entry_id, Wrong("pack", form.values, error.fields))
    return RedirectResponse(f"/meat/delivery/{quote(entry_id, safe='')}?put=pack", 303)


def _delivery(
    request: Request, book: Book, by: str, form: Typed, found: Told | None = None, wrong: Wrong = NOTHING_WRONG
) -> Response:
    today = book.today()
    with book.reading() as session:
        home = house(book, session, today.toordinal())
    asked = delivery_form(by, home, wrong._replace(typed=form.values), today, form.values)
    here = frame(request, "A delivery of meat", "meat")
    shown = delivery_page(here, by, asked, found, home, book.library, wrong.errors, today)
    return page(request, shown, 422 if wrong.errors else 200)


def _packing(request: Request, book: Book, entry_id: str, wrong: Wrong) -> Response:
    today = book.today()
    with book.reading() as session:
        found = delivery_put.find(book, session, entry_id, today.toordinal())
        names = [row.name for row in freezers(session, today.toordinal())]
    said = SAID.get(request.query_params.get("put", ""))
    here = frame(request, found.entry.name, "meat", Status(said) if said else None)
    shown = packing_page(here, found, names, book.imperial, wrong, today, fresh_id())
    return page(request, shown, 422 if wrong.errors else 200)
