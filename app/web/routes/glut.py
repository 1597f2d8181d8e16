"""The glut planner: every way side by side, what would be put down, putting it down."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.rules.terms import Ask
from app.services.book import Book
from app.services.preserving.glut import Glut, offers
from app.services.preserving.glut_put import check_shares, field_of, put_down
from app.sheets.glut_tables import crop_called, ways_of_keeping
from app.web.depends import TheBook, TheForm, page
from app.web.fields import in_units
from app.web.forms import Wrong, form_id
from app.web.frames import frame
from app.web.preserving.glut_page import Looked, asked_form, glut_page, read_glut, seen_of
from app.web.typed import Typed

router = APIRouter()


@router.get("/preserving/glut")
def show(request: Request, book: TheBook) -> Response:
    """The form, and every way once something was asked."""
    typed = dict(request.query_params)
    errors: Mapping[str, str] = {}
    glut: Glut | None = None
    if "kg" in typed:  # the form was sent; a link from what is coming in names only the crop and the day
        try:
            glut = read_glut(Typed(typed), book.imperial, book.today())
        except BadInput as error:
            errors = error.fields
    return _drawn(request, book, typed, errors, glut, Wrong())


@router.post("/preserving/glut")
def share(request: Request, book: TheBook, form: TheForm) -> Response:
    """What would be put down; or, once that was seen, the entries."""
    today = book.today()
    try:
        glut = read_glut(Typed(form.values), book.imperial, today)
    except BadInput as error:
        return _drawn(request, book, form.values, error.fields, None, Wrong())
    seen = seen_of(form.values)
    later = form.raw("later") == "yes"
    try:
        shares = _shares(form, glut, book.imperial)
        check_shares(glut, shares)
        if form.raw("confirm") == "yes" and form.raw("seen") == seen:
            put_down(book, glut, shares, form_id(form), today.toordinal(), later)
            return RedirectResponse("/preserving?put=glut", 303)
        with book.reading() as session:
            looked = Looked(offers(book, session, glut, today.toordinal(), shares, later), seen)
    except BadInput as error:
        return _drawn(request, book, form.values, {}, glut, Wrong("share", form.values, error.fields))
    wrong = {field_of(one.of): one.refused for one in looked.offers.ways if one.refused}
    return _drawn(request, book, form.values, {}, glut, Wrong("share", form.values, wrong), None if wrong else looked)


def _shares(form: Typed, glut: Glut, imperial: bool) -> dict[str, float]:
    """The kilos typed beside each way.

    Raises: BadInput with a sentence per field.
    """
    ways = {field_of(way): way.id for way in ways_of_keeping(crop_called(glut.what))}
    asks = [Ask(name, "kg", "Keep so much this way", low=0.0, high=500.0, optional=True) for name in ways]
    found = form.asked(in_units(asks, imperial))
    form.check()
    return {ways[name]: float(str(kg)) for name, kg in found.items() if float(str(kg)) > 0}


def _drawn(
    request: Request, book: Book, typed: Mapping[str, str], errors: Mapping[str, str], glut: Glut | None, wrong: Wrong,
    looked: Looked | None = None,
) -> Response:  # fmt: skip
    today = book.today()
    with book.reading() as session:
        book.holding(session)
        found = offers(book, session, glut, today.toordinal()) if glut is not None else None
        asked = asked_form(typed, errors, book.imperial, today, asked=found is not None)
        here = frame(request, "A glut", "preserving")
        shown = glut_page(here, book.library, asked, found, wrong, looked, book.imperial, today)
    return page(request, shown, 422 if errors or wrong.errors else 200)
