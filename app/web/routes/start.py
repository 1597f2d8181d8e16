"""The first run: three screens, and the year is filled."""

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, Conflict
from app.services import setup
from app.services.book import Book
from app.services.setup import Estimate, Where
from app.web.depends import TheBook, TheForm, page
from app.web.frames import frame
from app.web.house.start_forms import house_page, read_house, read_where, things_page, where_page
from app.web.parts import Frame
from app.web.typed import Typed

router = APIRouter()


@router.get("/start")
def start(request: Request, book: TheBook) -> Response:
    """Where it is."""
    with book.reading() as session:
        if setup.is_set_up(session):
            return RedirectResponse("/", 303)
    return page(request, where_page(_frame(request, "Where it is"), dict(request.query_params), {}))


@router.get("/start/{screen}")
def again(screen: str) -> Response:
    """A screen asked for by itself: the run begins at its beginning, since nothing is kept between."""
    return RedirectResponse("/start", 303)


@router.post("/start/1")
def where(request: Request, book: TheBook, form: TheForm) -> Response:
    """Where it is, taken on to the frosts."""
    _still_to_do(book)
    try:
        place = read_where(form)
    except BadInput as error:
        return page(request, where_page(_frame(request, "Where it is"), form.values, error.fields), 422)
    return page(
        request, house_page(_frame(request, "Frost and mouths"), place, _estimate(book, place), form.values, {})
    )


@router.post("/start/2")
def house(request: Request, book: TheBook, form: TheForm) -> Response:
    """When it freezes and who eats, taken on to what there is."""
    _still_to_do(book)
    try:
        place = read_where(form)
    except BadInput as error:
        return page(request, where_page(_frame(request, "Where it is"), form.values, error.fields), 422)
    estimated = _estimate(book, place)
    try:
        read_house(form, estimated, place.latitude)
    except BadInput as error:
        shown = house_page(_frame(request, "Frost and mouths"), place, estimated, form.values, error.fields)
        return page(request, shown, 422)
    return page(request, things_page(_frame(request, "What there is"), setup.offered(book), form.values, ()))


@router.post("/start/3")
def things(request: Request, book: TheBook, form: TheForm) -> Response:
    """What there is; the year is filled."""
    _still_to_do(book)
    shown = _again(request, book, form)
    if shown is not None:
        return shown
    place = read_where(form)
    household = read_house(form, _estimate(book, place), place.latitude)
    setup.begin(book, place, household, form.several.get("have", ()), book.today(household.timezone).toordinal())
    return RedirectResponse("/", 303)


def _again(request: Request, book: Book, form: Typed) -> Response | None:
    """The screen whose answers do not hold, when what was carried along was changed on the way."""
    try:
        place = read_where(form)
    except BadInput as error:
        return page(request, where_page(_frame(request, "Where it is"), form.values, error.fields), 422)
    try:
        read_house(form, _estimate(book, place), place.latitude)
    except BadInput as error:
        here = _frame(request, "Frost and mouths")
        return page(request, house_page(here, place, _estimate(book, place), form.values, error.fields), 422)
    return None


def _estimate(book: Book, place: Where) -> Estimate:
    return setup.estimate(place, book.today().year + 1)


def _still_to_do(book: Book) -> None:
    with book.reading() as session:
        if setup.is_set_up(session):
            raise Conflict("The holding is set up already; it is changed on the Household page.")


def _frame(request: Request, title: str) -> Frame:
    return frame(request, title, bare=True)
