"""Out of the freezer for a meal."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.meat import thawing
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.links import entry_href
from app.web.meat.thaw_forms import read_freezing, read_thaw, with_batch
from app.web.meat.thaw_page import thaw_page
from app.web.typed import Typed

router = APIRouter()


@router.get("/meat/thaw")
def show(request: Request, book: TheBook) -> Response:
    """The form, and the answer to what was asked."""
    return _shown(request, book, dict(request.query_params), {})


@router.post("/meat/thaw")
def put(request: Request, book: TheBook, form: TheForm) -> Response:
    """A meal put down: its jobs follow."""
    today = book.today().toordinal()
    try:
        with book.reading() as session:
            nation, batches = book.holding(session).nation or "", thawing.frozen_meat(session, form.raw("batch"))
            meal = read_thaw(form, batches, nation, book.imperial)
            thawing.reckon(book, session, meal, today)
        return RedirectResponse(f"{entry_href(thawing.put_down(book, meal, form.raw('id'), today))}?put=new", 303)
    except BadInput as error:
        return _shown(request, book, form.values, error.fields)


def _shown(request: Request, book: Book, typed: Mapping[str, str], errors: Mapping[str, str]) -> Response:
    today = book.today()
    meal: thawing.Meal | None = None
    out: thawing.Out | None = None
    frozen: thawing.Freezing | None = None
    with book.reading() as session:
        nation, batches = book.holding(session).nation or "", thawing.frozen_meat(session, typed.get("batch", ""))
        batch = next((row for row in batches if row.id == typed.get("batch")), None)
        lay = thawing.days_in_the_fridge(book, session, batch, today.toordinal()) if batch is not None else None
        typed = with_batch(typed, batch, book.imperial, lay)
        try:
            if typed.get("thickness_mm"):
                frozen = read_freezing(Typed(typed), book.imperial)
            if "day" in typed and not errors:
                meal = read_thaw(Typed(typed), batches, nation, book.imperial)
                out = thawing.reckon(book, session, meal, today.toordinal())
        except BadInput as error:
            errors = error.fields
        shown = thaw_page(
            frame(request, "Out of the freezer", "meat"), book.library, typed, errors, batches, nation, book.imperial,
            today, meal, out, frozen,
        )  # fmt: skip
    return page(request, shown, 422 if errors else 200)
