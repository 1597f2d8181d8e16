"""The seed tin: its lots, their labels, what became of them, and what flowers together."""

from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.garden import flowering, seed_lines
from app.services.garden.seed_lot import keep_store
from app.services.garden.seed_tin import find, tin
from app.services.larder import lot_words
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, form_id
from app.web.frames import frame
from app.web.garden.crossing_page import crossing_page
from app.web.garden.seed_forms import (
    WAYS,
    kinds_of,
    read_amount,
    read_lot,
    read_near,
    read_on,
    read_store,
    read_test,
)
from app.web.garden.seed_lot_page import MOST_COPIES, jar_page, labels_page
from app.web.garden.seed_page import seed_page
from app.web.garden.seed_words import jar_href
from app.web.parts import Status
from app.web.typed import LONGEST_NOTE, Typed

router = APIRouter()

SAID = {
    "lot": "It is in the tin.",
    "store": "That is kept, and every life reckoned by it.",
    "take": "That is put down.",
    "short": "That is put down. By the book there was less than that: count what is left.",
    "count": "What you found stands.",
    "right": "The count is put right; what the book had is kept beside it.",
    "test": "The test is put down.",
    "back": "That is taken back.",
    "struck": "It is struck out.",
    "near": "That is put down.",
    "gone": "It is off the list.",
}


@router.get("/garden/seed")
def show(request: Request, book: TheBook) -> Response:
    """The tin."""
    return _tin(request, book, Wrong())


@router.post("/garden/seed")
def add(request: Request, book: TheBook, form: TheForm) -> Response:
    """Seed that no job here made."""
    today = book.today()
    _ready(book)
    try:
        new = read_lot(form, kinds_of(book.library.sheets.values()), today)
        ident = lot_words.put_lot(book, new, today.toordinal(), form_id(form))
    except BadInput as error:
        return _tin(request, book, Wrong("add", form.values, error.fields))
    return RedirectResponse(f"{jar_href(ident)}?put=lot", 303)


@router.post("/garden/seed/tin")
def store(request: Request, book: TheBook, form: TheForm) -> Response:
    """How warm and damp it is where the seed lies."""
    _ready(book)
    try:
        c, rh_percent = read_store(form, book.imperial)
    except BadInput as error:
        return _tin(request, book, Wrong("store", form.values, error.fields))
    keep_store(book, c, rh_percent, _today(book))
    return RedirectResponse("/garden/seed?put=store", 303)


@router.get("/garden/seed/labels")
def labels(request: Request, book: TheBook) -> Response:
    """A label for every jar."""
    with book.reading() as session:
        found = tin(book, session, _today(book))
    here = frame(request, "A label for every jar", "garden")
    return page(request, labels_page(here, found.lots, book.name, book.today(), None, 1))


@router.get("/garden/seed/crossing")
def crossing(request: Request, book: TheBook) -> Response:
    """What flowers together."""
    return _crossing(request, book, Wrong())


@router.post("/garden/seed/crossing")
def near(request: Request, book: TheBook, form: TheForm) -> Response:
    """Something that flowers next door."""
    _ready(book)
    species = [latin for latin, _ in flowering.species_named(book.library.sheets.values())]
    try:
        said = read_near(form, species, book.imperial)
    except BadInput as error:
        return _crossing(request, book, Wrong("near", form.values, error.fields))
    flowering.add_neighbour(book, *said, _today(book))
    return RedirectResponse("/garden/seed/crossing?put=near", 303)


@router.post("/garden/seed/crossing/{ident}/gone")
def gone(book: TheBook, ident: Annotated[int, Path(ge=1, lt=2**63)]) -> Response:
    """It flowers there no longer."""
    flowering.strike_neighbour(book, ident, _today(book))
    return RedirectResponse("/garden/seed/crossing?put=gone", 303)


@router.get("/garden/seed/{lot_id}")
def one(request: Request, book: TheBook, lot_id: str) -> Response:
    """One lot."""
    return _jar(request, book, lot_id, Wrong())


@router.get("/garden/seed/{lot_id}/label")
def label(request: Request, book: TheBook, lot_id: str) -> Response:
    """Its label, as many as there are jars."""
    typed = Typed({"copies": request.query_params.get("copies", "1")})
    copies = round(typed.number("copies", 1, MOST_COPIES, "labels") or 1)
    with book.reading() as session:
        found = find(book, session, lot_id, _today(book))
    here = frame(request, "Label", "garden")
    error = typed.errors.get("copies", "")
    shown = labels_page(here, [found], book.name, book.today(), found, copies, error)
    return page(request, shown, 422 if error else 200)


@router.post("/garden/seed/{lot_id}/take")
def take(request: Request, book: TheBook, form: TheForm, lot_id: str) -> Response:
    """Some was sown, given away or thrown out."""
    with book.reading() as session:
        found = find(book, session, lot_id, _today(book))
    try:
        kind = form.choice("kind", WAYS, "What became of it?")
        on, note = read_on(form, book.today()), form.text("note", longest=LONGEST_NOTE)
        much = read_amount(form, found.lot)
        which = next(way for way in ("used", "given", "thrown") if way == kind)
        came = lot_words.take(book, lot_id, which, much, on, _today(book), note, form_id(form))
    except BadInput as error:
        return _jar(request, book, lot_id, Wrong("take", form.values, error.fields))
    return RedirectResponse(f"{jar_href(lot_id)}?put={'short' if came.short else 'take'}", 303)


@router.post("/garden/seed/{lot_id}/count")
def count(request: Request, book: TheBook, form: TheForm, lot_id: str) -> Response:
    """It was weighed or counted again."""
    with book.reading() as session:
        found = find(book, session, lot_id, _today(book))
    try:
        on, note = read_on(form, book.today()), form.text("note", longest=LONGEST_NOTE)
        much = read_amount(form, found.lot)
        came = lot_words.count(book, lot_id, much, on, _today(book), note, form_id(form))
    except BadInput as error:
        return _jar(request, book, lot_id, Wrong("count", form.values, error.fields))
    return RedirectResponse(f"{jar_href(lot_id)}?put={'count' if came.was == came.left else 'right'}", 303)


@router.post("/garden/seed/{lot_id}/test")
def test(request: Request, book: TheBook, form: TheForm, lot_id: str) -> Response:
    """Some were tried on damp paper."""
    with book.reading() as session:
        find(book, session, lot_id, _today(book))
    try:
        up, tried = read_test(form)
        on, note = read_on(form, book.today()), form.text("note", longest=LONGEST_NOTE)
        form.check()
        lot_words.put_test(book, lot_id, up, tried, on, _today(book), note, form_id(form))
    except BadInput as error:
        return _jar(request, book, lot_id, Wrong("test", form.values, error.fields))
    return RedirectResponse(f"{jar_href(lot_id)}?put=test", 303)


@router.post("/garden/seed/{lot_id}/back")
def back(book: TheBook, form: TheForm, lot_id: str) -> Response:
    """Something that was said of it was not so."""
    lot_words.take_back(book, lot_id, form.raw("fact"), _today(book))
    return RedirectResponse(f"{jar_href(lot_id)}?put=back", 303)


@router.post("/garden/seed/{lot_id}/strike")
def strike(book: TheBook, lot_id: str) -> Response:
    """It was put down by mistake."""
    lot_words.strike(book, lot_id, _today(book))
    return RedirectResponse("/garden/seed?put=struck", 303)


# ── Drawing ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _tin(request: Request, book: Book, wrong: Wrong) -> Response:
    today = _today(book)
    with book.reading() as session:
        found = tin(book, session, today)
        stale = seed_lines.stale(book, session, today)
        late = seed_lines.not_up(book, session, today)
        lines = seed_lines.lines(book, session, today)
        flowers = flowering.crossing(book, session, today)
    here = frame(request, "Seed tin", "garden", _status(request))
    shown = seed_page(book, here, found, stale, late, lines, flowers, wrong)
    return page(request, shown, 422 if wrong.errors else 200)


def _jar(request: Request, book: Book, lot_id: str, wrong: Wrong) -> Response:
    with book.reading() as session:
        found = find(book, session, lot_id, _today(book))
    here = frame(request, "Seed", "garden", _status(request))
    return page(request, jar_page(book, here, found, wrong), 422 if wrong.errors else 200)


def _crossing(request: Request, book: Book, wrong: Wrong) -> Response:
    with book.reading() as session:
        found = flowering.crossing(book, session, _today(book))
    here = frame(request, "What flowers together", "garden", _status(request))
    shown = crossing_page(here, found, book.library.sheets, wrong, book.today(), book.imperial)
    return page(request, shown, 422 if wrong.errors else 200)


def _ready(book: Book) -> None:
    """Nothing is put down before the first run is done."""
    with book.reading() as session:
        book.holding(session)


def _status(request: Request) -> Status | None:
    said = SAID.get(request.query_params.get("put", ""))
    return Status(said) if said else None


def _today(book: Book) -> int:
    return book.today().toordinal()
