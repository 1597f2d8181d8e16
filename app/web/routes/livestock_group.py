"""One group of animals."""

from collections.abc import Callable

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, NotFound
from app.services.book import Book
from app.services.livestock import animals, heads
from app.services.livestock.groups import Group, find_group, herd
from app.services.livestock.held import held, still
from app.services.livestock.held_ones import held_ones
from app.services.livestock.orders import orders_in_force
from app.services.livestock.put import count_in, elsewhere
from app.services.livestock.registers import medicine_book
from app.services.livestock.weights import weights
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong, any_id
from app.web.frames import frame
from app.web.links import entry_href
from app.web.livestock.forms import read_animal, read_tell
from app.web.livestock.group_page import Seen, group_page
from app.web.livestock.said import status
from app.web.livestock.words import href
from app.web.typed import Typed

router = APIRouter()


@router.get("/livestock/{entry_id}")
def show(request: Request, book: TheBook, entry_id: str) -> Response:
    """A group."""
    return _shown(request, book, entry_id, Wrong())


@router.post("/livestock/{entry_id}/tell")
def tell(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """Something happened to its count."""
    today = book.today().toordinal()
    group, others = _group(book, entry_id)
    try:
        change = read_tell(form, today, [one.entry.id for one in others])
        told = heads.tell(book, group.entry.id, change, today, any_id(form))
    except BadInput as error:
        return _shown(request, book, entry_id, Wrong("tell", form.values, error.fields))
    return RedirectResponse(f"{href(entry_id)}?put={'barred' if told.flags else 'count'}", 303)


@router.post("/livestock/{entry_id}/take-back")
def take_back(book: TheBook, form: TheForm, entry_id: str) -> Response:
    """Something told of its count was not so."""
    heads.take_back(book, entry_id, form.raw("fact"), book.today().toordinal())
    return RedirectResponse(f"{href(entry_id)}?put=back", 303)


@router.post("/livestock/{entry_id}/count-in")
def take_off(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """What was told on another page is taken off the count."""
    group, _ = _group(book, entry_id)
    try:
        count_in(book, group, form.raw("source"), book.today().toordinal())
    except BadInput as error:
        said = " ".join(error.fields.values())
        return _shown(request, book, entry_id, Wrong("tell", {}, {"": said}))
    return RedirectResponse(f"{href(entry_id)}?put=count", 303)


@router.post("/livestock/{entry_id}/paper")
def paper(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """What stood on the paper with which they came."""
    try:
        other, tags, number = (form.text(name, longest=400) for name in ("other", "tags", "paper"))
        form.check()
        heads.put_paper(book, entry_id, other, tags, number, book.today().toordinal())
    except BadInput as error:
        return _shown(request, book, entry_id, Wrong("paper", form.values, error.fields))
    return RedirectResponse(f"{href(entry_id)}?put=paper", 303)


@router.post("/livestock/{entry_id}/animal")
def animal(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """An animal put down, or changed."""
    known = form.raw("animal")
    try:
        typed = read_animal(form)
        ident = known or any_id(form)
        animals.put(book, entry_id, typed, book.today().toordinal(), ident, change=bool(known))
    except BadInput as error:
        return _shown(request, book, entry_id, Wrong("animal", form.values, error.fields), known)
    return RedirectResponse(f"{href(entry_id)}?put=animal#animals-h", 303)


@router.post("/livestock/{entry_id}/gone")
def gone(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """An animal is gone."""

    def act(today: int, ident: str) -> str:
        why = form.choice("why", animals.GONE, "What became of it?")
        on = form.day("on")
        form.check()
        counted = form.raw("counted") != "no"
        flags = animals.gone(book, ident, why, today if on is None else on, today, any_id(form), counted=counted)
        return f"{href(entry_id)}?put={'barred' if flags else 'gone'}#animals-h"

    return _of_animal(request, book, form, entry_id, "gone", act)


@router.post("/livestock/{entry_id}/served")
def served(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """An animal was served."""

    def act(today: int, ident: str) -> str:
        on = form.day("served_on", "On which day?")
        form.check()
        return f"{entry_href(animals.serve(book, ident, on or today, today, any_id(form)))}?put=new"

    return _of_animal(request, book, form, entry_id, "served", act)


@router.post("/livestock/{entry_id}/here")
def here(book: TheBook, form: TheForm, entry_id: str) -> Response:
    """An animal is not gone after all."""
    _mine(book, entry_id, form.raw("animal"))
    animals.strike(book, form.raw("animal"), book.today().toordinal(), back=True)
    return RedirectResponse(f"{href(entry_id)}?put=here#animals-h", 303)


@router.post("/livestock/{entry_id}/strike")
def strike(book: TheBook, form: TheForm, entry_id: str) -> Response:
    """An animal was put down by mistake."""
    _mine(book, entry_id, form.raw("animal"))
    animals.strike(book, form.raw("animal"), book.today().toordinal())
    return RedirectResponse(f"{href(entry_id)}?put=strike#animals-h", 303)


def _of_animal(
    request: Request, book: Book, form: Typed, entry_id: str, what: str, act: Callable[[int, str], str]
) -> Response:  # fmt: skip
    ident = form.raw("animal")
    _mine(book, entry_id, ident)
    try:
        return RedirectResponse(act(book.today().toordinal(), ident), 303)
    except BadInput as error:
        return _shown(request, book, entry_id, Wrong(f"{what}-{ident}", form.values, error.fields))


def _mine(book: Book, entry_id: str, ident: str) -> None:
    with book.reading() as session:
        if all(one.id != ident for one in animals.animals_of(session, entry_id)):
            raise NotFound("There is no such animal in this group.")


def _group(book: Book, entry_id: str) -> tuple[Group, list[Group]]:
    now = book.today().toordinal()
    with book.reading() as session:
        group = find_group(book, session, entry_id, now)
        return group, _others(book, group, herd(book, session, now).here)


def _others(book: Book, group: Group, here: tuple[Group, ...]) -> list[Group]:
    """The other groups of its species: into one of them some can be moved."""
    return [one for one in here if one.species == group.species and one.entry.id != group.entry.id]


def _shown(request: Request, book: Book, entry_id: str, wrong: Wrong, edit: str = "") -> Response:
    today = book.today()
    now = today.toordinal()
    with book.reading() as session:
        group = find_group(book, session, entry_id, now)
        found, live = herd(book, session, now), book.live(session, now)
        seen = Seen(
            group, _others(book, group, found.here), held(live, [group], now), held_ones(session, live, [group], now),
            still(book, session, now), orders_in_force(live, now), animals.animals_of(session, entry_id),
            [one for one in medicine_book(book, session, now) if one.entry == entry_id],
            elsewhere(book, session, group, now), weights(book, session, group, now),
        )  # fmt: skip
    shown = group_page(
        frame(request, group.entry.name, "livestock", status(request)), seen, book.library, wrong, today,
        edit=edit or request.query_params.get("animal", ""), imperial=book.imperial,
    )  # fmt: skip
    return page(request, shown, 422 if wrong.errors else 200)
