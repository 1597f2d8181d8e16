"""A cure from the scales to the slice: reckoned without saving, then put down."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.errors import BadInput, Conflict
from app.services.book import Book
from app.services.meat import cure
from app.web.depends import TheBook, TheForm, page
from app.web.forms import form_id
from app.web.frames import frame
from app.web.links import entry_href
from app.web.meat.cure_forms import cure_groups, read_cure
from app.web.meat.cure_page import cure_page
from app.web.typed import Typed

router = APIRouter()
ASKED = "kg"
"""Without it nothing was asked yet: the address may still say which piece it is."""


@router.get("/meat/cure")
def show(request: Request, book: TheBook) -> Response:
    """The questions, and the answer to what was asked; nothing is saved."""
    return _drawn(request, book, Typed(dict(request.query_params)))


@router.post("/meat/cure")
def put(request: Request, book: TheBook, form: TheForm) -> Response:
    """Put it down as it was shown; or weigh it out for an entry that is there already."""
    today, entry = book.today().toordinal(), form.raw("entry")
    try:
        asked = read_cure(form, book.imperial)
        with book.reading() as session:
            found = cure.reckon(book, session, asked, today, entry)
        ident = cure.put_down(book, found, today, form_id(form), form.raw("seen"), entry)
    except BadInput as error:
        return _drawn(request, book, form, errors=error.fields)
    except Conflict as error:
        return _drawn(request, book, form, conflict=str(error))
    return RedirectResponse(f"{entry_href(ident)}?put={'changed' if entry else 'new'}", 303)


def _drawn(
    request: Request, book: Book, form: Typed, errors: Mapping[str, str] | None = None, conflict: str = ""
) -> Response:
    entry, today = form.raw("entry"), book.today()
    wrong, found = dict(errors or {}), None
    with book.reading() as session:
        law = cure.usual_jurisdiction(book, session)
        known = cure.known_of(book, session, entry, today.toordinal()) if entry else {}
        if form.raw(ASKED) and not wrong:
            found, wrong = _reckoned(book, session, form, today.toordinal(), entry)
    groups = cure_groups(form.values, wrong, known, law, book.imperial, today)
    here = frame(request, "A cure, reckoned", "meat")
    shown = cure_page(here, groups, found, form.values, wrong, book, entry, conflict)
    return page(request, shown, 422 if wrong else 409 if conflict else 200)


def _reckoned(
    book: Book, session: Session, form: Typed, today: int, entry: str
) -> tuple[cure.Cure | None, dict[str, str]]:
    try:
        return cure.reckon(book, session, read_cure(form, book.imperial), today, entry), {}
    except BadInput as error:
        return None, error.fields
