"""One entry: its chain, changing it, ending it, striking it out, bringing it back."""

from collections.abc import Mapping
from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.errors import BadInput, Conflict
from app.services import entries
from app.services.book import Book
from app.services.meat.cure_weights import weights_of
from app.services.preserving.drying import drying_of
from app.services.preview import Looked, sheet_of
from app.services.what_there_is import all_entries, whole
from app.web import pages, told
from app.web.depends import TheBook, TheForm, page
from app.web.entry_forms import form_fields, others_of, read_draft
from app.web.entry_page import LONGEST_LATER_DAYS, Asked, entry_page
from app.web.frames import frame
from app.web.links import entry_href, sheet_href
from app.web.meat import cure_entry
from app.web.parts import Form, Link, Status
from app.web.preserving.drying_page import drying_part
from app.web.previewed import preview_change
from app.web.typed import Typed

router = APIRouter()

SAID = {
    "new": "It is put down. What follows stands below.",
    "changed": "It is changed, and what follows with it.",
    "ended": "Its end is put down.",
    "struck": "It is struck out; what was ticked is kept.",
    "back": "It is back.",
    "weighed": "The weight is put down.",
}


@router.get("/entry/{entry_id}")
def show(request: Request, book: TheBook, entry_id: str) -> Response:
    """The entry, and, when asked, what would move if it began later."""
    typed = dict(request.query_params)
    status = Status(SAID[typed["put"]]) if typed.get("put") in SAID else None
    return _drawn(request, book, entry_id, typed, {}, status=status)


@router.post("/entry/{entry_id}/end")
def end(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """It is over from a day on."""
    try:
        on = form.day("on", "A day is wanted.")
        form.check()
        entries.end(book, entry_id, on or 0, book.today().toordinal())
    except BadInput as error:
        return _drawn(request, book, entry_id, form.values, error.fields, 422)
    return RedirectResponse(f"{entry_href(entry_id)}?put=ended", 303)


@router.post("/entry/{entry_id}/strike")
def strike(book: TheBook, entry_id: str) -> Response:
    """It was put down by mistake."""
    entries.strike(book, entry_id, book.today().toordinal())
    return RedirectResponse(f"{entry_href(entry_id)}?put=struck", 303)


@router.post("/entry/{entry_id}/back")
def back(book: TheBook, entry_id: str) -> Response:
    """It is there after all."""
    entries.bring_back(book, entry_id, book.today().toordinal())
    return RedirectResponse(f"{entry_href(entry_id)}?put=back", 303)


@router.get("/entry/{entry_id}/change")
def change_form(request: Request, book: TheBook, entry_id: str) -> Response:
    """What is known of it, to be put right."""
    with book.reading() as session:
        return page(request, _form(request, book, session, entry_id, {}, {}, None))


@router.post("/entry/{entry_id}/change")
def change(request: Request, book: TheBook, form: TheForm, entry_id: str) -> Response:
    """What would move; or, once that was seen, the change."""
    today = book.today().toordinal()
    errors: Mapping[str, str] = {}
    conflict, looked = "", None
    with book.reading() as session:
        entry = entries.find(book, session, entry_id, today)
        others = others_of(all_entries(book, session, today))
    try:
        draft = read_draft(sheet_of(book, entry.sheet), form, others, book.imperial, today, entry)
        if form.raw("confirm") == "yes":
            entries.change(book, entry_id, draft, today, form.raw("seen"))
            return RedirectResponse(f"{entry_href(entry_id)}?put=changed", 303)
    except BadInput as error:
        errors = error.fields
    except Conflict as error:
        conflict = str(error)
    with book.reading() as session:
        if not errors:
            looked = entries.look_change(book, session, entry_id, draft, today)
        shown = _form(request, book, session, entry_id, form.values, errors, looked, conflict)
    return page(request, shown, 422 if errors else 409 if conflict else 200)


def _drawn(
    request: Request,
    book: Book,
    entry_id: str,
    typed: dict[str, str],
    errors: Mapping[str, str],
    code: int = 200,
    status: Status | None = None,
) -> Response:
    today = book.today().toordinal()
    later: Looked | None = None
    wrong = dict(errors)
    with book.reading() as session:
        found = whole(book, session, entry_id, today)
        dried = drying_of(book, session, found.entry, today)
        zone = book.holding(session).timezone
        weights = weights_of(session, found, today)
        form = Typed({name: value for name, value in typed.items() if name == "later"})
        days = form.number("later", -LONGEST_LATER_DAYS, LONGEST_LATER_DAYS, "days")
        wrong.update(form.errors)
        if days is not None and not found.entry.struck and not found.entry.made_by:
            later = entries.look_later(book, session, entry_id, round(days), today)
    here = frame(request, found.entry.name, "entries", status)
    shown = entry_page(book, found, here, Asked(typed.get("all") == "yes", later, typed, wrong))
    cured = cure_entry.kept(found, weights, book.imperial, today)
    if cured is not None:
        shown = replace(shown, cure=cured, facts=cure_entry.without_grams(shown.facts, found.sheet))
    if dried is not None:
        shown = replace(shown, drying=drying_part(dried, book.imperial, zone, book.today()))
    return page(request, shown, 422 if wrong and code == 200 else code)


def _form(
    request: Request,
    book: Book,
    session: Session,
    entry_id: str,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    looked: Looked | None,
    conflict: str = "",
) -> pages.EntryForm:
    today = book.today()
    found = whole(book, session, entry_id, today.toordinal())
    entry, sheet = found.entry, sheet_of(book, found.entry.sheet)
    others = others_of(all_entries(book, session, today.toordinal()))
    fields = form_fields(sheet, typed, errors, entry, found.note, others, book.imperial)
    return pages.EntryForm(
        frame=frame(request, f"Change: {entry.name}", "entries"),
        heading=f"Change: {entry.name}",
        trade=sheet.trade,
        about=f"{sheet.about} What was ticked stays as it was.",
        form=Form(
            f"{entry_href(entry_id)}/change", "Show what moves", fields, error=conflict, quiet=looked is not None
        ),
        preview=preview_change(sheet, looked, today, found.names) if looked is not None else None,
        cautions=told.cautions(book.library, sheet.cautions),
        back=Link("Leave it as it was", entry_href(entry_id)),
        how=Link("How it’s done", sheet_href(sheet.id)),
    )
