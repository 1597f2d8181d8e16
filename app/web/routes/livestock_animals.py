"""What animals there are, and putting a group down."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.livestock.groups import herd, offered
from app.services.livestock.held import held, still
from app.services.livestock.held_ones import held_ones
from app.services.livestock.medicine import bottles
from app.services.livestock.orders import orders_in_force
from app.services.livestock.put import elsewhere_of, put_group
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, any_id
from app.web.frames import frame
from app.web.livestock.forms import read_group
from app.web.livestock.page import Seen, livestock_page
from app.web.livestock.said import status
from app.web.livestock.words import href

router = APIRouter()


@router.get("/livestock")
def show(request: Request, book: TheBook) -> Response:
    """What animals there are."""
    return _shown(request, book, Wrong())


@router.post("/livestock")
def put(request: Request, book: TheBook, form: TheForm) -> Response:
    """A group put down in one line."""
    try:
        ident = put_group(book, read_group(form), any_id(form), book.today().toordinal())
    except BadInput as error:
        return _shown(request, book, Wrong("add", form.values, error.fields))
    return RedirectResponse(f"{href(ident)}?put=new", 303)


def _shown(request: Request, book: Book, wrong: Wrong) -> Response:
    today = book.today()
    now = today.toordinal()
    with book.reading() as session:
        book.holding(session)
        found = herd(book, session, now)
        live, every = book.live(session, now), (*found.here, *found.coming)
        seen = Seen(
            found, held(live, every, now), held_ones(session, live, every, now), still(book, session, now),
            orders_in_force(live, now), bottles(session, now), offered(book),
            elsewhere_of(book, session, [one.entry.id for one in found.here], now),
        )  # fmt: skip
        here = frame(request, "Livestock", "livestock", status(request))
        shown = livestock_page(here, seen, book.library, wrong, today)
    return page(request, shown, 422 if wrong.errors else 200)
