"""Putting something down: the form, the dates that would follow, the confirmation. Add and Found… share it."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from fastapi import Request
from fastapi.responses import RedirectResponse
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.errors import BadInput, Conflict
from app.rules.facts import Entry
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.services.book import Book
from app.services.entries import look_new, put_down
from app.services.garden.bed_records import bed_names
from app.services.preview import Draft, Looked, sheet_of
from app.services.remembered import remembered_of
from app.services.setup import likely_date
from app.services.what_there_is import all_entries
from app.web import pages, told
from app.web.depends import page
from app.web.entry_forms import form_fields, others_of, read_draft
from app.web.frames import frame
from app.web.links import entry_href, sheet_href
from app.web.parts import Form, Link, Pair
from app.web.previewed import preview_new
from app.web.then import remembered
from app.web.typed import Typed


def first_look(request: Request, book: Book, sheet_id: str, *, found: bool) -> Response:
    """The form with a likely date in it, and the dates at once where nothing else must be said."""
    sheet = sheet_of(book, sheet_id)
    with book.reading() as session:
        book.holding(session)
        today = book.today().toordinal()
        day = today if found else likely_date(book, session, sheet, today)
        asked = {name: value[:80] for name, value in request.query_params.items() if name in (*sheet.facts, "place")}
        typed = {"date": date.fromordinal(day).isoformat(), "place": ""} | asked
        try:
            draft = read_draft(sheet, Typed(typed), {}, book.imperial, today)
            looked: Looked | None = look_new(book, session, draft, today)
        except BadInput:
            looked = None
        return page(request, _page(request, book, session, sheet, typed, {}, looked, found=found))


def sent(request: Request, book: Book, sheet_id: str, form: Typed, *, found: bool) -> Response:
    """What was sent: dates to look at, or, once they were seen, an entry put down."""
    sheet = sheet_of(book, sheet_id)
    today = book.today().toordinal()
    errors: Mapping[str, str] = {}
    conflict = ""
    try:
        draft = _draft(book, sheet, form, today)
        if form.raw("confirm") == "yes":
            # What was seen in the yard is a fact, and is taken down whatever dates were looked at.
            ident = put_down(book, draft, today, "" if found else form.raw("seen"))
            return RedirectResponse(f"{entry_href(ident)}?put=new", 303)
    except BadInput as error:
        errors = error.fields
    except Conflict as error:
        conflict = str(error)
    with book.reading() as session:
        looked = None if errors else look_new(book, session, draft, today)
        shown = _page(request, book, session, sheet, form.values, errors, looked, found=found, conflict=conflict)
        return page(request, shown, 422 if errors else 409 if conflict else 200)


def _draft(book: Book, sheet: Sheet, form: Typed, today: Day) -> Draft:
    with book.reading() as session:
        others = others_of(all_entries(book, session, today))
    return read_draft(sheet, form, others, book.imperial, today)


def _places(session: Session, sheet: Sheet, entries: list[Entry]) -> list[str]:
    """Where it may stand: the beds first, for what is of the garden, then where others are."""
    beds = bed_names(session) if sheet.trade == "garden" else []
    taken = {entry.place for entry in entries if entry.place and not entry.struck}
    return [*beds, *sorted(taken - set(beds))][:12]


def _page(
    request: Request,
    book: Book,
    session: Session,
    sheet: Sheet,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    looked: Looked | None,
    *,
    found: bool,
    conflict: str = "",
) -> pages.EntryForm:
    today = book.today()
    entries = all_entries(book, session, today.toordinal())
    others = others_of(entries)
    places = _places(session, sheet, entries)
    where = "/found" if found else "/add"
    button = "Show the dates again" if looked is not None else "Show the dates"
    preview = preview_new(sheet, looked, today, {entry.id: entry.name for entry in entries}) if looked else None
    hidden: tuple[Pair, ...] = ()
    if found:
        button, hidden = "Begin it today", (Pair("confirm", "yes"),)
        preview = replace(preview, confirm=button) if preview is not None else None
    fields = form_fields(sheet, typed, errors, None, "", others, book.imperial, places)
    return pages.EntryForm(
        frame=frame(request, f"Add: {sheet.title}", "found" if found else "add"),
        heading=sheet.title,
        trade=sheet.trade,
        about=sheet.about,
        form=Form(
            f"{where}/{sheet.id}", button, fields, hidden, error=conflict, quiet=preview is not None and not found
        ),
        preview=preview,
        cautions=told.cautions(book.library, sheet.cautions),
        back=Link("Choose something else", where),
        how=Link("How it’s done", sheet_href(sheet.id)),
        remembered=remembered(remembered_of(book, session, sheet, today.toordinal()), book.imperial, named=True),
    )
