"""Feed, water and bedding: what to order by when; what is there, how it is packed, what it costs."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.livestock.feed import feed, find, say, supply_of
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong
from app.web.frames import frame
from app.web.livestock.feed_page import feed_page
from app.web.parts import Status

router = APIRouter()


@router.get("/livestock/feed")
def show(request: Request, book: TheBook) -> Response:
    """The page."""
    return _drawn(request, book, Wrong())


@router.post("/livestock/feed")
def told(request: Request, book: TheBook, form: TheForm) -> Response:
    """What is there of a thing."""
    what, today = form.raw("what"), book.today()
    with book.reading() as session:
        thing = find(feed(book, session, today.toordinal()), what)
    try:
        left = form.number("left", 0, 10_000_000, thing.unit)
        pack = form.number("pack", 0.1, 100_000, thing.unit)
        price = form.number("price", 0, 1_000_000)
        lead = form.number("lead", 0, 365, "days")
        if lead is not None and lead != round(lead):
            form.fault("lead", "A whole number of days is wanted.")
        form.check()
    except BadInput as error:
        return _drawn(request, book, Wrong(what, form.values, error.fields))
    row = supply_of(what, thing.unit, pack, price, round(lead) if lead is not None else None, left, today)
    say(book, row, today.toordinal())
    return RedirectResponse("/livestock/feed?put=told", 303)


def _drawn(request: Request, book: Book, wrong: Wrong) -> Response:
    today = book.today()
    with book.reading() as session:
        found = feed(book, session, today.toordinal())
    status = Status("Taken down; what to order follows.") if request.query_params.get("put") == "told" else None
    here = frame(request, "Feed, water and bedding", "livestock", status)
    return page(request, feed_page(here, found, book.imperial, today, wrong), 422 if wrong.errors else 200)
