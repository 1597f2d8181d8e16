"""Upkeep's sums: fit to paint, how much to buy, firewood."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput
from app.services.book import Book
from app.services.upkeep.amounts import Amount, Asked, reckon
from app.services.upkeep.fit import ON, Fitness, fit_months, is_it_fit
from app.services.upkeep.prices import keep_pack, prices
from app.services.upkeep.shopping import shopping
from app.services.upkeep.wood import Meter, Winterful, meter, need, wood
from app.web.depends import TheBook, TheForm, page
from app.web.forms import Wrong
from app.web.frames import frame
from app.web.typed import Typed
from app.web.upkeep.amounts_page import MONTHS, amounts_page, read_amount, read_pack
from app.web.upkeep.fit_page import COATINGS, USUAL, fit_page, read_fit
from app.web.upkeep.wood_page import read_meter, read_need, wood_page
from app.web.upkeep.words import status

router = APIRouter()
USUAL_MONTHS = 6


@router.get("/upkeep/fit")
def fit(request: Request, book: TheBook) -> Response:
    """Is it fit to paint now; and in which months."""
    typed, today = dict(request.query_params), book.today()
    errors: Mapping[str, str] = {}
    answer: Fitness | None = None
    coating = typed.get("coating", "") if typed.get("coating", "") in COATINGS else USUAL
    on = typed["on"] if typed.get("on") in ON else next(iter(ON))
    with book.reading() as session:
        if any(name in typed for name in ("air", "humidity", "surface")):
            try:
                answer = is_it_fit(book, session, read_fit(Typed(typed), book.imperial), today.toordinal())
            except BadInput as error:
                errors = error.fields
        months = fit_months(book, session, coating, on, today.toordinal())
    shown = fit_page(book, frame(request, "Fit to paint?", "upkeep"), typed, errors, answer, months, today)
    return page(request, shown, 422 if errors else 200)


@router.get("/upkeep/amounts")
def amounts(request: Request, book: TheBook) -> Response:
    """How much to buy."""
    typed = dict(request.query_params)
    pack = {"what": typed["pack"][:80], "unit": typed.get("unit", "l")} if typed.get("pack") else {}
    return _amounts(request, book, typed, Wrong("packs", pack))


@router.post("/upkeep/amounts")
def sold(request: Request, book: TheBook, form: TheForm) -> Response:
    """How something is sold here."""
    with book.reading() as session:
        book.holding(session)
    try:
        keep_pack(book, read_pack(form), book.today().toordinal())
    except BadInput as error:
        return _amounts(request, book, {}, Wrong("packs", form.values, error.fields))
    return RedirectResponse("/upkeep/amounts?put=packs#packs", 303)


def _amounts(request: Request, book: Book, typed: Mapping[str, str], wrong: Wrong) -> Response:
    today = book.today()
    errors: Mapping[str, str] = {}
    asked: Asked | None = None
    found: Amount | None = None
    months = next((one for one in MONTHS if str(one) == typed.get("months")), USUAL_MONTHS)
    with book.reading() as session:
        known = prices(session)
        if typed.get("what") or typed.get("area"):
            try:
                asked = read_amount(Typed(typed))
                found = reckon(asked, known)
            except BadInput as error:
                errors = error.fields
        wanted = shopping(book, session, months, today.toordinal())
    here = frame(request, "How much to buy", "upkeep", status(request))
    shown = amounts_page(book, here, typed, errors, asked, found, wanted, months, known, wrong, today)
    return page(request, shown, 422 if errors or wrong.errors else 200)


@router.get("/upkeep/wood")
def firewood(request: Request, book: TheBook) -> Response:
    """Firewood."""
    typed, today = dict(request.query_params), book.today()
    errors: Mapping[str, str] = {}
    read: Meter | None = None
    wanted: Winterful | None = None
    try:
        if "percent" in typed:
            read = meter(*read_meter(Typed(typed)))
        elif "kilowatts" in typed:
            wanted = need(read_need(Typed(typed)))
    except BadInput as error:
        errors = error.fields
    with book.reading() as session:
        found = wood(book, session, today.toordinal())
    shown = wood_page(frame(request, "Firewood", "upkeep"), found, typed, errors, read, wanted, today)
    return page(request, shown, 422 if errors else 200)
