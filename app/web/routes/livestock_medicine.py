"""The medicine cupboard, and what is given from it."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.livestock import medicine as cupboard
from app.services.livestock.animals import AnimalRow, animals_of
from app.services.livestock.groups import Group, herd
from app.services.livestock.registers import medicine_book
from app.services.livestock.treat import treat
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, any_id
from app.web.frames import frame
from app.web.livestock.medicine_forms import kept, read_bottle, read_treat
from app.web.livestock.medicine_page import bottle_page, by_id, medicine_page, treat_page
from app.web.livestock.said import status
from app.web.livestock.words import href

router = APIRouter()


@router.get("/livestock/medicine")
def show(request: Request, book: TheBook) -> Response:
    """The cupboard."""
    return _cupboard(request, book, Wrong())


@router.post("/livestock/medicine")
def put(request: Request, book: TheBook, form: TheForm) -> Response:
    """A medicine put into it."""
    try:
        cupboard.put(book, read_bottle(form, any_id(form), book.now()), book.today().toordinal())
    except BadInput as error:
        return _cupboard(request, book, Wrong("bottle", form.values, error.fields))
    return RedirectResponse("/livestock/medicine?put=bottle", 303)


@router.get("/livestock/medicine/treat")
def treating(request: Request, book: TheBook, group: str = "", medicine: str = "") -> Response:
    """A treatment to be written down."""
    return _treating(request, book, group, medicine, Wrong())


@router.post("/livestock/medicine/treat")
def treated(request: Request, book: TheBook, form: TheForm) -> Response:
    """A treatment written down."""
    now = book.today().toordinal()
    groups, bottles = _known(book)
    try:
        done = treat(book, read_treat(form, groups, bottles, now), now, any_id(form))
    except BadInput as error:
        wrong = Wrong("treat", kept(form), error.fields)
        return _treating(request, book, form.raw("group"), form.raw("medicine"), wrong)
    said = "unclear" if done.days is None else "treated" if done.days else "nought"
    return RedirectResponse(f"{href(form.raw('group'))}?put={said}", 303)


@router.get("/livestock/medicine/bottle/{medicine_id}")
def bottle(request: Request, book: TheBook, medicine_id: str) -> Response:
    """One medicine."""
    return _bottle(request, book, medicine_id, Wrong())


@router.post("/livestock/medicine/bottle/{medicine_id}")
def change(request: Request, book: TheBook, form: TheForm, medicine_id: str) -> Response:
    """A medicine changed."""
    try:
        with book.reading() as session:
            cupboard.find(session, medicine_id)
        row = read_bottle(form, medicine_id, book.now())
        cupboard.put(book, row, book.today().toordinal(), change=True)
    except BadInput as error:
        return _bottle(request, book, medicine_id, Wrong("bottle", form.values, error.fields))
    return RedirectResponse("/livestock/medicine?put=changed", 303)


@router.post("/livestock/medicine/bottle/{medicine_id}/finish")
def finish(request: Request, book: TheBook, form: TheForm, medicine_id: str) -> Response:
    """It is used up, or went back to the vet."""
    now = book.today().toordinal()
    try:
        on, how = form.day("on"), form.text("how", longest=200)
        form.check()
        cupboard.finish(book, medicine_id, how, now if on is None else on, now)
    except BadInput as error:
        return _bottle(request, book, medicine_id, Wrong("finish", form.values, error.fields))
    return RedirectResponse("/livestock/medicine?put=finished", 303)


@router.post("/livestock/medicine/bottle/{medicine_id}/back")
def back(book: TheBook, medicine_id: str) -> Response:
    """It is not finished after all."""
    cupboard.back(book, medicine_id, book.today().toordinal())
    return RedirectResponse("/livestock/medicine?put=changed", 303)


def _known(book: Book) -> tuple[Mapping[str, Group], Mapping[str, cupboard.MedicineRow]]:
    """The groups that can be treated, and what is in the cupboard; a colony is treated by the jobs of its own sheet."""
    now = book.today().toordinal()
    with book.reading() as session:
        found = herd(book, session, now)
        rows = [one.row for one in cupboard.bottles(session, now) if one.row.finished_on is None]
    groups = {one.entry.id: one for one in (*found.here, *found.coming) if one.species != "bees"}
    return {name: one for name, one in groups.items() if one.sheet.kind != "clutch"}, by_id(rows)


def _cupboard(request: Request, book: Book, wrong: Wrong) -> Response:
    today = book.today()
    with book.reading() as session:
        book.holding(session)
        found = cupboard.bottles(session, today.toordinal())
    here = frame(request, "Medicine cupboard", "livestock", status(request))
    return page(request, medicine_page(here, found, book.library, wrong, today), 422 if wrong.errors else 200)


def _treating(request: Request, book: Book, group: str, medicine: str, wrong: Wrong) -> Response:
    groups, bottles = _known(book)
    animals: list[AnimalRow] = []
    if group in groups:
        with book.reading() as session:
            animals = animals_of(session, group)
    here = frame(request, "Treat a group", "livestock")
    shown = treat_page(
        here, list(groups.values()), groups.get(group), list(bottles.values()), bottles.get(medicine), animals,
        book.library, wrong, book.today(),
    )  # fmt: skip
    return page(request, shown, 422 if wrong.errors else 200)


def _bottle(request: Request, book: Book, medicine_id: str, wrong: Wrong) -> Response:
    today = book.today()
    with book.reading() as session:
        found = cupboard.bottle(cupboard.find(session, medicine_id), today.toordinal())
        given = [one for one in medicine_book(book, session, today.toordinal()) if one.medicine == medicine_id]
    here = frame(request, found.row.name, "livestock", status(request))
    return page(request, bottle_page(here, found, given, book.library, wrong, today), 422 if wrong.errors else 200)
