"""Typing a day's reading, correcting it, and taking that back."""

from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.weather.weather import Reading, last_days, reading_of, type_reading
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.parts import Status
from app.web.typed import Typed, read_day
from app.web.weather.reading_page import HERE, had, kept, read_had, reading_page
from app.web.weather.typed import read_reading, scale

router = APIRouter()


@router.get("/weather/reading")
def show(request: Request, book: TheBook) -> Response:
    """The boxes of a day: today's unless another is named."""
    today = book.today()
    asked = request.query_params.get("day", "")
    try:
        on = date.fromordinal(read_day(asked)) if asked else today
    except ValueError as error:
        return _drawn(request, book, today, errors={"day": str(error)})
    if on > today:
        return _drawn(request, book, today, errors={"day": "That day has not come yet; here is today."})
    return _drawn(request, book, on, status=_news(request, book))


@router.post("/weather/reading")
def keep(request: Request, book: TheBook, form: TheForm) -> Response:
    """Keep what was read, in place of what was on record."""
    today = book.today()
    on = _day(form, today)
    if on is None:
        return _drawn(request, book, today, form, form.errors)
    try:
        reading = read_reading(form, scale(book.imperial))
        with book.reading() as session:
            known = reading_of(session, on.toordinal())
        if reading == Reading() == known:
            raise BadInput({"min_c": "At least one of the three is wanted."})
        before = type_reading(book, on.toordinal(), reading, today.toordinal(), sure=form.raw("sure") == "yes")
    except BadInput as error:
        return _drawn(request, book, on, form, error.fields)
    return RedirectResponse(f"{HERE}?day={on}&put={on}&had={had(before)}", 303)


@router.post("/weather/reading/undo")
def take_back(request: Request, book: TheBook, form: TheForm) -> Response:
    """Put back what was on record before."""
    today = book.today()
    on = _day(form, today)
    try:
        before = read_had(form.raw("had"))
        if on is None:
            raise BadInput(form.errors)
        type_reading(book, on.toordinal(), before, today.toordinal(), sure=True)
    except (ValueError, BadInput):
        return _drawn(request, book, today, errors={"day": "That can't be taken back; type it anew."})
    return RedirectResponse(f"{HERE}?day={on}", 303)


def _day(form: Typed, today: date) -> date | None:
    found = form.day("day", "Which day is it?")
    if found is not None and found > today.toordinal():
        form.fault("day", "That day has not come yet.")
    return None if found is None or form.errors else date.fromordinal(found)


def _news(request: Request, book: Book) -> Status | None:
    """The status line after something was kept."""
    try:
        on = date.fromordinal(read_day(request.query_params["put"]))
        before = read_had(request.query_params.get("had", ""))
    except (KeyError, ValueError):
        return None
    with book.reading() as session:
        now = reading_of(session, on.toordinal())
    return kept(on, now, before, book.today(), scale(book.imperial))


def _drawn(
    request: Request,
    book: Book,
    on: date,
    form: Typed | None = None,
    errors: dict[str, str] | None = None,
    status: Status | None = None,
) -> Response:
    today = book.today()
    with book.reading() as session:
        book.holding(session)
        known = reading_of(session, on.toordinal())
        last = last_days(session, today.toordinal())
    typed = form.values if form else None
    here = frame(request, "The reading", "weather", status)
    shown = reading_page(here, on, known, last, today, scale(book.imperial), typed, errors)
    return page(request, shown, 422 if errors else 200)
