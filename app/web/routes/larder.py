"""The larder: what there is, one batch and what became of it, labels; kit."""

from collections.abc import Callable
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, Conflict
from app.services import larder, lot_words
from app.services.book import Book
from app.services.search import kit_uses
from app.web import pages
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.larder_forms import KILLED, WAYS, add_form, read_add, read_kit, read_much
from app.web.larder_page import SIZES, batch_href, batch_page, kit_page, labels_page, larder_page
from app.web.parts import Pair, Status
from app.web.rows import job_href
from app.web.seed_forms import Wrong
from app.web.typed import LONGEST_NOTE, Typed
from app.web.words import day

router = APIRouter()
SAID = {
    "add": "It is in the larder.",
    "take": "That is put down.",
    "short": "That is put down. By the book there was less than that: count what is left.",
    "count": "What you found stands.",
    "back": "It is back.",
    "mark": "That is put right.",
    "unsay": "That is taken back.",
    "struck": "It is struck out.",
    "kit": "It is put down.",
}
MOST_LABELS = 130


@router.get("/larder")
def show(request: Request, book: TheBook) -> Response:
    """The larder."""
    with book.reading() as session:
        mouths = book.holding(session).mouths
        found = larder.larder(book, session, _today(book))
        shown = larder_page(frame(request, "Larder", "larder", _status(request)), found, mouths, book.today())
    return page(request, shown)


@router.get("/larder/add")
def adding(request: Request, book: TheBook) -> Response:
    """A batch by hand."""
    return _adding(request, book, Wrong())


@router.post("/larder/add")
def add(request: Request, book: TheBook, form: TheForm) -> Response:
    """A batch that no job here made."""
    try:
        new, killed = read_add(form, book.today())
    except BadInput as error:
        return _adding(request, book, Wrong("add", form.values, error.fields))
    ident = lot_words.put_lot(book, new, _today(book), _id(form))
    if killed:
        larder.mark(book, ident, _today(book), killed=killed)
    return RedirectResponse(f"{batch_href(ident)}?put=add", 303)


@router.get("/larder/labels")
def labels(
    request: Request, book: TheBook, size: str = "21", batch: str = "", copies: Annotated[int, Query(ge=1, le=65)] = 1
) -> Response:
    """Labels to print: of every batch there is, the first to expire first, or of one."""
    with book.reading() as session:
        rows = [larder.find(session, batch)] if batch else larder.there(session, MOST_LABELS)
    base = f"{request.url.scheme}://{request.url.netloc}"
    shown = labels_page(frame(request, "Labels", "larder"), rows, size if size in SIZES else "21", copies, base)
    return page(request, shown)


@router.get("/larder/{batch_id}")
def batch(request: Request, book: TheBook, batch_id: str) -> Response:
    """One batch."""
    return _batch(request, book, batch_id, Wrong())


@router.post("/larder/{batch_id}/take")
def take(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """Some was used, spoiled or given away."""

    def act() -> str:
        kind = form.choice("kind", WAYS, "What became of it?")
        note = form.text("note", longest=LONGEST_NOTE)
        much, on = read_much(form, book.today())
        which = next(way for way in ("used", "given", "thrown") if way == kind)
        came = lot_words.take(book, batch_id, which, much, on, _today(book), note, _id(form))
        return "short" if came.short else "take"

    return _done(request, book, form, batch_id, "take", act)


@router.post("/larder/{batch_id}/back")
def put_back(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """Some went back."""

    def act() -> str:
        much, on = read_much(form, book.today())
        larder.put_back(book, batch_id, much, on, _today(book), ident=_id(form))
        return "back"

    return _done(request, book, form, batch_id, "back", act)


@router.post("/larder/{batch_id}/count")
def count(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """It was counted again."""

    def act() -> str:
        much, on = read_much(form, book.today())
        lot_words.count(book, batch_id, much, on, _today(book), ident=_id(form))
        return "count"

    return _done(request, book, form, batch_id, "count", act)


@router.post("/larder/{batch_id}/mark")
def mark(request: Request, book: TheBook, form: TheForm, batch_id: str) -> Response:
    """Where it lies, and how it was killed."""

    def act() -> str:
        place, killed = form.text("place", longest=80), form.choice("killed", KILLED)
        form.check()
        larder.mark(book, batch_id, _today(book), killed=killed or None, place=place or None)
        return "mark"

    return _done(request, book, form, batch_id, "mark", act)


@router.post("/larder/{batch_id}/unsay")
def unsay(book: TheBook, form: TheForm, batch_id: str) -> Response:
    """Something that was said of it was not so."""
    lot_words.take_back(book, batch_id, form.raw("fact"), _today(book))
    return RedirectResponse(f"{batch_href(batch_id)}?put=unsay", 303)


@router.post("/larder/{batch_id}/strike")
def strike(book: TheBook, batch_id: str) -> Response:
    """It was put down by mistake."""
    lot_words.strike(book, batch_id, _today(book))
    return RedirectResponse("/larder?put=struck", 303)


@router.get("/kit")
def kit(request: Request, book: TheBook) -> Response:
    """Kit and when it is in use."""
    return _kit(request, book, Wrong())


@router.post("/kit")
def put_kit(request: Request, book: TheBook, form: TheForm) -> Response:
    """A freezer, a dryer, a smoker."""
    try:
        larder.put_kit(book, read_kit(form), _today(book))
    except BadInput as error:
        return _kit(request, book, Wrong("kit", form.values, error.fields))
    except Conflict as error:
        return _kit(request, book, Wrong("kit", form.values, {"name": str(error)}))
    return RedirectResponse("/kit?put=kit", 303)


# ── Drawing ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _done(request: Request, book: Book, form: Typed, batch_id: str, which: str, act: Callable[[], str]) -> Response:
    try:
        said = act()
    except BadInput as error:
        return _batch(request, book, batch_id, Wrong(which, form.values, error.fields))
    return RedirectResponse(f"{batch_href(batch_id)}?put={said}", 303)


def _adding(request: Request, book: Book, wrong: Wrong) -> Response:
    with book.reading() as session:
        book.holding(session)
    here = frame(request, "Put a batch in the larder", "larder")
    return page(request, pages.LarderAdd(here, add_form(wrong, book.today())), 422 if wrong.errors else 200)


def _batch(request: Request, book: Book, batch_id: str, wrong: Wrong) -> Response:
    with book.reading() as session:
        row = larder.find(session, batch_id)
        one = larder.history(book, session, batch_id, _today(book))
    here = frame(request, f"Batch {row.number}", "larder", _status(request))
    return page(request, batch_page(here, row, one, wrong, book.today()), 422 if wrong.errors else 200)


def _kit(request: Request, book: Book, wrong: Wrong) -> Response:
    today = book.today()
    here = frame(request, "Kit and room", "larder", _status(request))
    with book.reading() as session:
        book.holding(session)
        things, uses, clashes = kit_uses(book, session, _today(book))
        used = tuple(
            Pair(one.kit, f"{one.title}: {one.name}, {_between(one.first, one.last, today)}", job_href(one.key))
            for one in uses
        )
        said = tuple(
            f"{one.subject.capitalize()}, {_between(one.first, one.last, today)}: {one.says}" for one in clashes
        )
        shown = kit_page(here, things, used, said, wrong)
    return page(request, shown, 422 if wrong.errors else 200)


def _between(first: int, last: int, today: date) -> str:
    return f"{day(date.fromordinal(first), today)} to {day(date.fromordinal(last), today)}"


def _status(request: Request) -> Status | None:
    said = SAID.get(request.query_params.get("put", ""))
    return Status(said) if said else None


def _id(form: Typed) -> str:
    ident = form.raw("id")
    return ident if len(ident) == 32 and ident.isalnum() else ""


def _today(book: Book) -> int:
    return book.today().toordinal()
