"""Saying something about a job: tick, take back, not this year, another day."""

from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse
from sqlalchemy.orm import Session
from starlette.responses import Response

from app.errors import BadInput
from app.rules.facts import Window
from app.rules.spans import Day
from app.rules.terms import Ask
from app.services.book import Book
from app.services.jobs import Job, asks_of, jobs_named, jobs_of
from app.services.month import month
from app.services.moving import Risk, move
from app.services.numbers import numbers
from app.services.rounds import is_walk, tick_round, walk_of
from app.services.ticking import Outcome, Words, let_go, tick, undo
from app.web import pages
from app.web.depends import TheBook, TheForm, by_htmx, page, who_says
from app.web.drawing import Stretch
from app.web.fields import in_units
from app.web.job_forms import PREFIX
from app.web.job_page import job_page
from app.web.monthly import summary
from app.web.news import back, told
from app.web.parts import Form, Pair, Row, Status
from app.web.rows import about, date_of, job_href, row
from app.web.typed import LONGEST_NOTE, Typed
from app.web.where import Where, where
from app.web.yard_rows import walk_row, yard_row

router = APIRouter()

MOST_ROWS = 5
"""So many moved rows go out with a tick's answer, which stays small; the others are seen when the page is loaded."""


@router.post("/tick")
def done(request: Request, book: TheBook, form: TheForm) -> Response:
    """A job, or a round, is done."""
    today = book.today().toordinal()
    key = form.raw("key")
    if is_walk(key):
        walk = tick_round(book, key, form.raw("id") or f"{key}~0", today, who_says(request))
        return _walked(request, book, walk.key, "Done")
    asks = asks_of(book, key) if any(name.startswith(PREFIX) for name in form.values) else ()
    said = read_words(request, form, in_units(asks, book.imperial))
    on = form.day("on")
    try:
        form.check()
        came = tick(book, key, today, on=on, tick_id=form.raw("id"), shown=form.window("shown"), words=said)
    except BadInput as error:
        if by_htmx(request):
            return _wrong(request, book, key, form, error.fields)
        return job_page(request, book, key, typed=form, errors=error.fields, which="tick")
    return _answer(request, book, came, today)


@router.post("/undo")
def take_back(request: Request, book: TheBook, form: TheForm) -> Response:
    """Something that was said is taken back."""
    today = book.today().toordinal()
    key = form.raw("key")
    came = undo(book, form.raw("answers"), today, tick_id=form.raw("id"), person=who_says(request))
    if is_walk(key):
        return _walked(request, book, key, "Taken back")
    return _answer(request, book, came, today)


@router.post("/letgo")
def not_this_year(request: Request, book: TheBook, form: TheForm) -> Response:
    """A job will not be done this time."""
    today = book.today().toordinal()
    key = form.raw("key")
    reason = form.text("reason")
    if form.errors:
        return job_page(request, book, key, typed=form, errors=form.errors, which="letgo")
    came = let_go(
        book, key, today, tick_id=form.raw("id"), shown=form.window("shown"), reason=reason, person=who_says(request)
    )
    return _answer(request, book, came, today)


@router.post("/move")
def another_day(request: Request, book: TheBook, form: TheForm) -> Response:
    """A job is put on another day."""
    today = book.today().toordinal()
    key = form.raw("key")
    to = form.day("on", "Say which day.")
    knowing = form.raw("confirm") == "yes" and form.raw("risked") == str(to)
    try:
        form.check()
        came = move(
            book,
            key,
            to or today,
            today,
            tick_id=form.raw("id"),
            shown=form.window("shown"),
            knowing=knowing,
            person=who_says(request),
        )
    except BadInput as error:
        return job_page(request, book, key, typed=form, errors=error.fields, which="move")
    if isinstance(came, Risk):
        return job_page(request, book, key, typed=form, errors={}, which="move", risk=came)
    return _answer(request, book, came, today)


def read_words(request: Request, form: Typed, asks: tuple[Ask, ...]) -> Words:
    """What is written beside a tick; what is wrong with it is taken down in the form."""
    entries = [form.raw(PREFIX + ask.name) for ask in asks if ask.kind == "entry"]
    measures = form.asked(asks, entries, PREFIX) if asks else {}
    up, tried = measures.get("up"), measures.get("tried")
    if isinstance(up, int) and isinstance(tried, int) and up > tried:
        form.fault(f"{PREFIX}up", f"{up} can’t have come up of {tried}; one of the two is mistyped.")
    dates = [ask.name for ask in asks if ask.kind == "date" and ask.name in measures]
    remark = form.text("remark", longest=LONGEST_NOTE)
    return Words(measures, dates, remark, person=form.person(who_says(request)))


# ── Answers ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _answer(request: Request, book: Book, came: Outcome, today: Day) -> Response:
    if not by_htmx(request):
        return RedirectResponse(back(request, came.tick_id, len(came.moved), job_href(came.key)), 303)
    here = where(request, today)
    stretch = here.stretch(today)
    with book.reading() as session:
        jobs = jobs_of(book, session, [came.row] if came.row is not None else [], today)
        others = [move.key for move in came.moved if _on_page(move.was, here)][:MOST_ROWS]
        moved = jobs_named(book, session, others, today)
        head, known = _head(book, session, here, today)
    sent = tuple(_row(book, job, stretch, today, known) for job in moved)
    status = told(came, len(came.moved))
    if not jobs:
        return _unshown(request, status)
    return page(request, pages.Ticked(_row(book, jobs[0], stretch, today, known), status, head, sent))


def _row(book: Book, job: Job, stretch: Stretch | None, today: Day, known: Mapping[str, int]) -> Row:
    if stretch is None:
        return yard_row(job, today, book.imperial)
    return row(job, stretch, today, about(job), str(known.get(job.row.key, "")))


def _on_page(was: Window | None, here: Where) -> bool:
    """Whether a job that moved stood on the page before; on a page without a scale nobody can tell."""
    if was is None:
        return False
    return here.month is None or (was.closes >= here.month[0] and was.opens <= here.month[1])


def _head(book: Book, session: Session, here: Where, today: Day) -> tuple[pages.Summary | None, Mapping[str, int]]:
    """The month's head anew, and its printed numbers."""
    if here.month is None:
        return None, {}
    first, last = here.month
    return summary(month(book, session, first, last, today)), numbers(session, f"{date_of(first):%Y-%m}")


def _wrong(request: Request, book: Book, key: str, form: Typed, errors: Mapping[str, str]) -> Response:
    """A tick that was not taken, told in its row: what was typed is kept, and what is wrong stands beside it."""
    today = book.today().toordinal()
    name = next((one for one in errors if one.startswith(PREFIX)), "")
    with book.reading() as session:
        jobs = jobs_named(book, session, [key], today)
    says = " ".join(errors.values())
    rows = tuple(
        yard_row(job, today, book.imperial, typed=form.raw(name), error=errors.get(name, "")) for job in jobs if name
    )
    answer = page(request, pages.Ticked(None, Status(f"Not ticked. {says}", alert=True), None, rows), 422)
    answer.headers["HX-Reswap"] = "none"
    return answer


def _unshown(request: Request, status: Status) -> Response:
    """What is said of a tick whose job follows from the facts no longer: the row stays, the status line tells."""
    answer = page(request, pages.Ticked(None, status))
    answer.headers["HX-Reswap"] = "none"
    return answer


def _walked(request: Request, book: Book, key: str, lead: str) -> Response:
    with book.reading() as session:
        walk = walk_of(book, session, key)
    if not by_htmx(request):
        return RedirectResponse(back(request, walk.tick_id) if walk.done else "/today", 303)
    shown = walk_row(walk)
    undo_it = None
    if walk.done:
        hidden = (Pair("key", walk.key), Pair("answers", walk.tick_id), Pair("id", shown.tick_id))
        undo_it = Form("/undo", "Take back", hidden=hidden, quiet=True)
    return page(request, pages.Ticked(shown, Status(f"{lead}: {shown.title.lower()}.", undo_it)))
