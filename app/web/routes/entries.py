"""What there is: the list, its search, and what is over."""

from datetime import date
from itertools import groupby

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.rules.state import State
from app.services.what_there_is import Thing, Things, what_there_is
from app.web import pages, told
from app.web.choose_page import search, trade_links
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.links import entry_href
from app.web.parts import Frame, Link
from app.web.words import counted, day, left

router = APIRouter()


@router.get("/entries")
def entries(request: Request, book: TheBook, q: str = "", trade: str = "", over: str = "") -> HTMLResponse:
    """The entries, by trade."""
    today = book.today()
    with book.reading() as session:
        things = what_there_is(book, session, today.toordinal(), words=q[:80], trade=trade, over=over == "yes")
    return page(request, _page(frame(request, "What there is", "entries"), things, today, q[:80], trade, over == "yes"))


def _page(frame: Frame, things: Things, today: date, words: str, trade: str, over: bool) -> pages.Entries:
    groups = groupby(things.shown, key=lambda thing: thing.sheet.trade if thing.sheet is not None else "upkeep")
    ended = None
    if over:
        ended = Link("Leave out what is over", "/entries")
    elif things.over:
        ended = Link(f"Show what is over, too: {counted(things.over, 'entry', 'entries')}", "/entries?over=yes")
    nothing = f"Nothing there has “{words}” in it." if words else "Nothing is put down yet."
    return pages.Entries(
        frame=frame,
        count=f"{counted(things.there, 'thing').capitalize()}, each with what follows next",
        search=search("/entries", words, trade),
        trades=trade_links("/entries", trade),
        groups=tuple(pages.EntryGroup(name, tuple(_line(one, today) for one in some)) for name, some in groups),
        ended=ended,
        empty=nothing,
    )


def _line(thing: Thing, today: date) -> pages.EntryLine:
    entry, sheet, job = thing.entry, thing.sheet, thing.next
    since = entry.facts.get("date")
    over = "struck out" if entry.struck else ""
    if not over and entry.ends is not None:
        over = f"until {day(date.fromordinal(entry.ends), today)}"
    began = ""
    if isinstance(since, int) and not over:
        on = date.fromordinal(since)
        began = f"{'from' if on > today else 'since'} {day(on, today)}"
    parts = (sheet.kind if sheet else entry.sheet, entry.place, began, over)
    step = told.step_of(sheet, job.step) if job is not None else None
    pressing = ""
    if job is not None and job.closes is not None and thing.state in (State.LATE, State.CLOSING):
        pressing = left(date.fromordinal(job.closes), today)
    return pages.EntryLine(
        name=told.name(entry.name),
        href=entry_href(entry.id),
        sub=" · ".join(part for part in parts if part),
        next=step.title if step else (job.step if job else ""),
        next_when=told.days(job.opens, job.best, job.closes, today) if job else "",
        pressing=pressing,
    )
