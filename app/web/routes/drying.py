"""The dryer: drying reckoned, powder brought back, a load weighed."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from starlette.responses import Response

from app.errors import BadInput, NotFound
from app.services.book import Book
from app.services.entries import find
from app.services.preserving.drying import Reckoned, drying_of
from app.services.preserving.drying_sums import Back, bring_back, dryable, reckon_for, weigh
from app.web import pages, told
from app.web.depends import TheBook, TheForm, page
from app.web.fields import in_units
from app.web.forms import Wrong, form_id
from app.web.frames import frame
from app.web.links import entry_href
from app.web.preserving.drying_page import FRESH, NOW, POWDER, PUT_ON, SO_FAR, drying_part, entry_back, sums_page
from app.web.typed import Typed

router = APIRouter()


@router.get("/preserving/drying")
def sums(request: Request, book: TheBook) -> Response:
    """Both forms, and the answer to what was asked."""
    typed = dict(request.query_params)
    errors: dict[str, str] = {}
    found: Reckoned | None = None
    back: Back | None = None
    with book.reading() as session:
        book.holding(session)
        try:
            if typed.get("crop") or typed.get("kg"):
                form = Typed(typed)
                what = form.choice("crop", dryable(), "What is it?")
                kg = form.asked(in_units((PUT_ON,), book.imperial)).get("kg")
                how = form.choice("how", ("pieces", "powder")) or "pieces"
                target, water = form.number("target", 1, 99, "%"), form.number("water", 1, 99, "%")
                form.check()
                found = reckon_for(
                    book, session, what, how, float(str(kg)), book.today().toordinal(), target_percent=target,
                    water_percent=water,
                )  # fmt: skip
            if typed.get("powder") or typed.get("solids"):
                back = _back(Typed(typed), book.imperial)
        except BadInput as error:
            errors |= error.fields
    here = frame(request, "The dryer", "preserving")
    shown = sums_page(here, book.library, typed, errors, dryable(), found, back, book.imperial)
    return page(request, shown, 422 if errors else 200)


@router.post("/preserving/drying/{entry_id}")
def weighed(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """A load was weighed."""
    today = book.today().toordinal()
    for name, wanted in (("kg", "What does it weigh now?"), ("hours", "How many hours has it been in?")):
        if not form.raw(name):
            form.fault(name, wanted)
    found = form.asked(in_units((NOW, SO_FAR, FRESH), book.imperial))
    on = form.day("on")
    if on is not None and on > today:
        form.fault("on", "That day has not come yet.")
    try:
        form.check()
        load = found.get("load_kg")
        weigh(
            book, entry_id, float(str(found["kg"])), float(str(found["hours"])),
            float(str(load)) if load else None, today if on is None else on, today, form_id(form),
        )  # fmt: skip
    except BadInput as error:
        return _batch(request, book, entry_id, form.values, error.fields)
    return RedirectResponse(f"{entry_href(entry_id)}?put=weighed#drying", 303)


def _back(form: Typed, imperial: bool) -> Back:
    powder = form.asked(in_units((POWDER,), imperial)).get("powder")
    moist = form.number("moist", 0, 29, "%")
    solids = form.number("solids", 0.1, 99, "%")
    form.check()
    return bring_back(float(str(powder)), moist, solids)


def _batch(
    request: Request, book: Book, entry_id: str, typed: Mapping[str, str], errors: Mapping[str, str]
) -> Response:
    """The batch alone, with what was refused beside its field."""
    today = book.today()
    with book.reading() as session:
        zone = book.holding(session).timezone
        entry = find(book, session, entry_id, today.toordinal())
        one = drying_of(book, session, entry, today.toordinal())
    if one is None:
        raise NotFound("That is not a batch for the dryer.")
    part = drying_part(one, book.imperial, zone, today, Wrong("weigh", typed, errors))
    here = frame(request, entry.name, "preserving")
    return page(request, pages.DryingBatch(here, told.name(entry.name), part, entry_back(entry_id)), 422)
