"""Kit: what there is and when it is in use, put down, put right, gone."""

from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, Conflict, NotFound
from app.services.book import Book
from app.services.larder import larder
from app.services.larder.kit_uses import kit_uses
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong
from app.web.frames import frame
from app.web.larder.kit import between_days, kit_page, read_kit
from app.web.parts import Status

router = APIRouter()
MOST_CLASHES = 20
"""So many are said one by one, the first to come first."""
SAID = {"kit": "It is put down.", "right": "It is put right."}


@router.get("/kit")
def kit(request: Request, book: TheBook) -> Response:
    """Kit and when it is in use."""
    return _kit(request, book, Wrong())


@router.post("/kit")
def put_kit(request: Request, book: TheBook, form: TheForm) -> Response:
    """A freezer, a dryer, a smoker; or what is so of one now."""
    said = form.raw("kit")
    ident = int(said) if said.isdecimal() and len(said) < 16 else None
    if said and ident is None:
        raise NotFound("There is no such piece of kit.")
    which = "kit" if ident is None else f"kit-{ident}"
    try:
        larder.put_kit(book, read_kit(form, ident), book.today().toordinal())
    except BadInput as error:
        return _kit(request, book, Wrong(which, form.values, error.fields))
    except Conflict as error:
        return _kit(request, book, Wrong(which, form.values, {"name": str(error)}))
    return RedirectResponse("/kit?put=kit" if ident is None else f"/kit?put=right#kit-{ident}", 303)


def _kit(request: Request, book: Book, wrong: Wrong) -> Response:
    today = book.today()
    said = SAID.get(request.query_params.get("put", ""))
    here = frame(request, "Kit and room", "kit", Status(said) if said else None)
    with book.reading() as session:
        book.holding(session)
        things, uses, clashes = kit_uses(book, session, today.toordinal())
        told = [_clash(one.subject, one.first, one.last, one.says, today) for one in clashes[:MOST_CLASHES]]
        if len(clashes) > MOST_CLASHES:
            told.append(f"And {len(clashes) - MOST_CLASHES} more of them later.")
        shown = kit_page(here, things, uses, tuple(told), wrong, today)
    return page(request, shown, 422 if wrong.errors else 200)


def _clash(subject: str, first: int, last: int, says: str, today: date) -> str:
    return f"{subject[:1].upper()}{subject[1:]}, {between_days(first, last, today)}: {says}"
