"""One batch and what became of it."""

import re
from collections.abc import Callable

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.larder import larder, lot_words
from app.services.larder import many as larder_many
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, form_id
from app.web.frames import frame
from app.web.larder.forms import KILLED, WAYS, read_much
from app.web.larder.page import batch_href, batch_page, unsay_form
from app.web.larder.words import put, status
from app.web.typed import LONGEST_NOTE, Typed

router = APIRouter()
_NUMBER = re.compile(r"\d\d-\d{3,}")


@router.get("/larder/{batch_id}")
def batch(request: Request, book: TheBook, batch_id: str) -> Response:
    """One batch, by its id, or by the number on its label."""
    if _NUMBER.fullmatch(batch_id):
        with book.reading() as session:
            row = larder.numbered(session, batch_id)
        if row is not None:
            return RedirectResponse(batch_href(row.id, row.store), 303)
    return _batch(request, book, batch_id, Wrong())


@router.post("/larder/{batch_id}/take")
def take(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """Some was used, spoiled, given away or sold: a fact, also where it is advised against."""

    def act() -> str:
        kind = form.choice("kind", WAYS, "What became of it?")
        note = form.text("note", longest=LONGEST_NOTE)
        much, on = read_much(form, book.today(), *_unit(book, batch_id))
        which = next((way for way in ("used", "given", "thrown") if way == kind), "given")
        sold = {"sold": True} if kind == "sold" else None
        came = lot_words.take(book, batch_id, which, much, on, _today(book), note, form_id(form), sold)  # type: ignore[arg-type]  # one of the three
        if came.short:
            return "short"
        return "home" if which == "given" and _home(book, batch_id) else "spoil" if which == "thrown" else "take"

    return _done(request, book, form, batch_id, "take", act)


@router.post("/larder/{batch_id}/back")
def put_back(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """Some went back."""

    def act() -> str:
        much, on = read_much(form, book.today(), *_unit(book, batch_id))
        larder.put_back(book, batch_id, much, on, _today(book), ident=form_id(form))
        return "back"

    return _done(request, book, form, batch_id, "back", act)


@router.post("/larder/{batch_id}/count")
def count(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """It was counted again."""

    def act() -> str:
        much, on = read_much(form, book.today(), *_unit(book, batch_id), some=False)
        lot_words.count(book, batch_id, much, on, _today(book), ident=form_id(form))
        return "count"

    return _done(request, book, form, batch_id, "count", act)


@router.post("/larder/{batch_id}/mark")
def mark(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """Where it lies, and how it was killed."""

    def act() -> str:
        place, killed = form.text("place", longest=80), form.choice("killed", KILLED)
        form.check()
        moved = larder.mark(book, batch_id, _today(book), killed=killed or None, place=place or None)
        return "moved" if moved else "mark"

    return _done(request, book, form, batch_id, "mark", act)


@router.post("/larder/{batch_id}/right")
def right(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """What it is called, and until when it keeps."""

    def act() -> str:
        name, until = form.text("name", longest=80), form.day("keeps_until")
        note = form.text("note", longest=LONGEST_NOTE)
        form.check()
        return "later" if larder.put_right(book, batch_id, _today(book), name, until, note, form_id(form)) else "right"

    return _done(request, book, form, batch_id, "right", act)


@router.post("/larder/{batch_id}/here")
def here(book: TheBook, form: TheForm, batch_id: str) -> Response:
    """What was taken as eaten is there."""
    larder_many.still_here(book, batch_id, _today(book), form_id(form))
    return RedirectResponse(put("/larder", "here"), 303)


@router.post("/larder/{batch_id}/unsay")
def unsay(book: TheBook, form: TheForm, batch_id: str) -> Response:
    """Something that was said of it was not so."""
    larder.unsay(book, batch_id, form.raw("fact"), _today(book))
    return RedirectResponse(put(batch_href(batch_id), "unsay"), 303)


@router.post("/larder/{batch_id}/strike")
def strike(book: TheBook, batch_id: str) -> Response:
    """It was put down by mistake."""
    lot_words.strike(book, batch_id, _today(book))
    return RedirectResponse(put("/larder", "struck"), 303)


def _done(request: Request, book: Book, form: Typed, batch_id: str, which: str, act: Callable[[], str]) -> Response:
    try:
        said = act()
    except BadInput as error:
        return _batch(request, book, batch_id, Wrong(which, form.values, error.fields))
    return RedirectResponse(put(batch_href(batch_id), said, fact=form_id(form)), 303)


def _home(book: Book, batch_id: str) -> bool:
    with book.reading() as session:
        return larder.find(session, batch_id).killed == "home"


def _unit(book: Book, batch_id: str) -> tuple[str, bool]:
    """In what a batch is counted, and whether the household reads pounds."""
    with book.reading() as session:
        return larder.find(session, batch_id).unit, book.holding(session).units == "imperial"


def _batch(request: Request, book: Book, batch_id: str, wrong: Wrong) -> Response:
    with book.reading() as session:
        row = larder.find(session, batch_id)
        one = larder.history(book, session, batch_id, _today(book))
        home = larder.home_killed(book, session)
        imperial = book.holding(session).units == "imperial"
    fact = request.query_params.get("fact", "")
    undo = unsay_form(batch_id, fact) if any(said.id == fact for said in one.facts) else None
    here = frame(request, f"Batch {row.number}", "larder", status(request, undo))
    return page(request, batch_page(here, row, one, home, wrong, book.today(), imperial), 422 if wrong.errors else 200)


def _today(book: Book) -> int:
    return book.today().toordinal()
