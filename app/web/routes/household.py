"""Household: the place, who is here, for how long, and who is away when."""

from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services import household as people
from app.services.book import Book
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong
from app.web.frames import frame
from app.web.house.household_page import household_page
from app.web.house.start_forms import read_house, read_where
from app.web.parts import Status

router = APIRouter()

SAID = {
    "kept": "It is kept, and every date follows.",
    "added": "Somebody more is here. Put down their hours next.",
    "hours": "The hours are kept.",
    "away": "That is put down.",
    "back": "That is taken back.",
    "left": "They are off the list; what they said stays said.",
}


@router.get("/household")
def household(request: Request, book: TheBook) -> Response:
    """The page."""
    said = SAID.get(request.query_params.get("put", ""))
    return _drawn(request, book, Wrong(), Status(said) if said else None)


@router.post("/household")
def keep(request: Request, book: TheBook, form: TheForm) -> Response:
    """The place's own facts."""
    try:
        where = read_where(form, own_months=people.has_own_months(book))
        house = read_house(form, people.estimated(book, _today(book)), where.latitude)
    except BadInput as error:
        return _drawn(request, book, Wrong("holding", form.values, error.fields))
    people.keep_holding(book, people.Place(where, house), _today(book))
    return RedirectResponse("/household?put=kept", 303)


@router.post("/household/people")
def add(request: Request, book: TheBook, form: TheForm) -> Response:
    """Somebody more."""
    try:
        name = form.text("person_name", "A name is wanted.", longest=40)
        form.check()
        people.add_person(book, name, _today(book))
    except BadInput as error:
        return _drawn(request, book, Wrong("person", form.values, error.fields))
    return RedirectResponse("/household?put=added", 303)


@router.post("/household/people/{person}/hours")
def hours(request: Request, book: TheBook, form: TheForm, person: int) -> Response:
    """How many hours somebody gives on each weekday."""
    try:
        given = {day: form.number(day, 0, 24, "h") for day in people.DAYS}
        form.check()
    except BadInput as error:
        return _drawn(request, book, Wrong(f"hours {person}", form.values, error.fields))
    people.keep_hours(book, person, {day: round(60 * (value or 0)) for day, value in given.items()}, _today(book))
    return RedirectResponse("/household?put=hours", 303)


@router.post("/household/people/{person}/away")
def away(request: Request, book: TheBook, form: TheForm, person: int) -> Response:
    """Somebody will be away."""
    try:
        first, last = form.day("from", "The first day is wanted."), form.day("to", "The last day is wanted.")
        form.check()
        people.go_away(book, person, first or 0, last or 0, _today(book))
    except BadInput as error:
        return _drawn(request, book, Wrong(f"away {person}", form.values, error.fields))
    return RedirectResponse("/household?put=away", 303)


@router.post("/household/people/{person}/leave")
def leave(request: Request, book: TheBook, person: int) -> Response:
    """Somebody is no longer of the household."""
    people.leave(book, person, _today(book))
    request.app.state.devices.forget()
    return RedirectResponse("/household?put=left", 303)


@router.post("/household/away/{absence}/back")
def back(book: TheBook, absence: Annotated[int, Path(ge=1, lt=2**63)]) -> Response:
    """They will not be away after all."""
    people.stay_after_all(book, absence, _today(book))
    return RedirectResponse("/household?put=back", 303)


def _drawn(request: Request, book: Book, wrong: Wrong, status: Status | None = None) -> Response:
    today = book.today()
    with book.reading() as session:
        view = people.household(book, session, today.toordinal())
    shown = household_page(frame(request, "Household", "household", status), view, today, wrong)
    return page(request, shown, 422 if wrong.errors else 200)


def _today(book: Book) -> int:
    return book.today().toordinal()
