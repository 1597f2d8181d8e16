"""The garden's beds: all of them, one, and what is said of it."""

from collections.abc import Mapping
from typing import Annotated, Literal

from fastapi import APIRouter, Path, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.garden import bed_records, beds
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.garden.bed_forms import read_bed, read_fact
from app.web.garden.bed_page import Wrong, bed_page
from app.web.garden.page import garden_page
from app.web.parts import Status

router = APIRouter()

BedId = Annotated[int, Path(ge=1, lt=2**63)]
Said = Literal["watered", "fed", "grew", "trouble"]
SAID = {
    "bed": "The bed is put down.",
    "kept": "It is kept.",
    "watered": "That is put down, and the account of its water with it.",
    "fed": "That is put down.",
    "grew": "That is put down, and the rotation with it.",
    "trouble": "That is put down; it is said before anything is sown here that it would harm.",
    "back": "That is taken back.",
}


@router.get("/garden")
def garden(request: Request, book: TheBook, name: str = "") -> Response:
    """Every bed."""
    typed = {"name": name[:80]} if name else {}
    return _all(request, book, typed, {}, _status(request))


@router.post("/garden")
def add(request: Request, book: TheBook, form: TheForm) -> Response:
    """A new bed."""
    with book.reading() as session:
        book.holding(session)
    try:
        ident = bed_records.keep_bed(book, read_bed(form, book.imperial), _today(book))
    except BadInput as error:
        return _all(request, book, form.values, error.fields)
    return RedirectResponse(f"/garden/bed/{ident}?put=bed", 303)


@router.get("/garden/bed/{bed}")
def one(request: Request, book: TheBook, bed: BedId) -> Response:
    """One bed."""
    return _one(request, book, bed, Wrong(), _status(request))


@router.post("/garden/bed/{bed}")
def change(request: Request, book: TheBook, form: TheForm, bed: BedId) -> Response:
    """Change a bed's own facts."""
    with book.reading() as session:
        beds.bed_view(book, session, bed, _today(book))
    try:
        bed_records.keep_bed(book, read_bed(form, book.imperial, bed), _today(book))
    except BadInput as error:
        return _one(request, book, bed, Wrong("bed", form.values, error.fields))
    return RedirectResponse(f"/garden/bed/{bed}?put=kept", 303)


@router.post("/garden/bed/{bed}/{kind}")
def said(request: Request, book: TheBook, form: TheForm, bed: BedId, kind: Said) -> Response:
    """Something said of a bed."""
    with book.reading() as session:
        kinds = beds.bed_view(book, session, bed, _today(book)).kinds
    try:
        bed_records.say(book, read_fact(kind, bed, form, kinds, book.today(), book.imperial), _today(book))
    except BadInput as error:
        return _one(request, book, bed, Wrong(kind, form.values, error.fields))
    return RedirectResponse(f"/garden/bed/{bed}?put={kind}", 303)


@router.post("/garden/bed/{bed}/said/{fact}/back")
def back(book: TheBook, bed: BedId, fact: str) -> Response:
    """Take something back."""
    bed_records.unsay(book, bed, fact, _today(book))
    return RedirectResponse(f"/garden/bed/{bed}?put=back", 303)


def _all(
    request: Request, book: Book, typed: Mapping[str, str], errors: Mapping[str, str], status: Status | None = None
) -> Response:
    with book.reading() as session:
        found = beds.overview(book, session, _today(book))
    shown = garden_page(frame(request, "Garden", "garden", status), found, book.today(), book.imperial, typed, errors)
    return page(request, shown, 422 if errors else 200)


def _one(request: Request, book: Book, bed: int, wrong: Wrong, status: Status | None = None) -> Response:
    with book.reading() as session:
        found = beds.bed_view(book, session, bed, _today(book))
    shown = bed_page(frame(request, found.line.bed.name, "garden", status), found, book.today(), book.imperial, wrong)
    return page(request, shown, 422 if wrong.errors else 200)


def _status(request: Request) -> Status | None:
    said = SAID.get(request.query_params.get("put", ""))
    return Status(said) if said else None


def _today(book: Book) -> int:
    return book.today().toordinal()
