"""A job's page: its window, the ways to answer it, why its days are what they are, what follows."""

from collections.abc import Mapping
from datetime import date, datetime

from fastapi import Request
from starlette.responses import Response

from app.rules.spans import Day
from app.rules.state import State
from app.rules.step import Step
from app.services.book import Book
from app.services.job import JobView, Saying, job_view
from app.services.jobs import Job
from app.services.moving import Risk
from app.services.today import zone
from app.sheets.library import Library
from app.web import drawing, fields, pages, told, words
from app.web.depends import page
from app.web.drawing import Stretch
from app.web.frames import frame
from app.web.garden.seed_words import jar_href
from app.web.job_forms import Back, JobForms
from app.web.links import entry_href, sheet_href
from app.web.meat.cure_entry import reckon_first, weighed_out
from app.web.meat.delivery_packing import packing_link
from app.web.news import news
from app.web.parts import NO_LINE, Choice, DayMark, Follow, Form, Link, Pair, Reasoned, Scale, Status, Undoing
from app.web.rows import date_of, job_href, next_id, pressing, when
from app.web.rows import told as state_words
from app.web.then import remembered
from app.web.typed import Typed
from app.web.ways_page import ways_href

MARGIN_DAYS = 7
EVERY_DAY = 45


def job_page(
    request: Request,
    book: Book,
    key: str,
    *,
    typed: Typed | None = None,
    errors: Mapping[str, str] | None = None,
    which: str = "",
    risk: Risk | None = None,
) -> Response:
    """The page of a job; with what was typed and what was wrong with it, when it comes back.

    Raises: NotFound.
    """
    today = book.today().toordinal()
    with book.reading() as session:
        view = job_view(book, session, key, today)
        people = tuple(Choice(str(one.id), one.name) for one in book.house(session).people)
        said = news(book, session, request) if request.method == "GET" else None
        timezone = book.holding(session).timezone
        names = [Choice(name, laid.entry.name) for name, laid in sorted(book.live(session, today).laid.items())]
    back = Back(typed, errors or {}, which, risk)
    made = JobForms(view, today, people, names, back, book.imperial)
    shown_page = _page(request, book, view, made, said, timezone)
    return page(request, shown_page, 200 if not which else 409 if risk is not None else 422)


def _page(request: Request, book: Book, view: JobView, made: JobForms, said: Status | None, timezone: str) -> pages.Job:
    job, sheet, step, today = view.job, view.sheet, view.step, made.today
    r, now = job.row, date_of(made.today)
    stretch = _stretch(job, today)
    library = book.library
    return pages.Job(
        frame=frame(request, r.title, status=said),
        key=r.key,
        title=r.title,
        trade=r.trade,
        entry=Link(r.entry_name or r.entry, entry_href(r.entry)),
        place=r.place,
        when=_when(job, today),
        pressing=pressing(job, now),
        state=state_words(job, now),
        note=job.note,
        line=drawing.line(stretch, r.opens, r.closes, (r.best,) if r.best else (), r.done) if stretch else NO_LINE,
        scale=_scale(stretch) if stretch else Scale(()),
        loses=step.loses if step else "",
        tick=made.tick(),
        barred=_barred(view, today),
        move=made.move(),
        move_risk=_free(job, today),
        let_go=made.let_go(),
        said=tuple(_saying(one, view, today, timezone, book.imperial) for one in view.said),
        why=_why(view, library, now),
        changed=told.changed(library.changes.get(sheet.id, ()), sheet, step.id) if sheet and step else (),
        cautions=told.cautions(library, r.cautions.split()),
        needs=told.needs(step.needs) if step else (),
        clock=told.by_the_clock(step.timed) if step and step.timed else "",
        uses=_uses(view, step),
        makes=tuple(told.makes(library, make) for make in step.makes) if step else (),
        minutes=words.minutes(r.minutes),
        follows=tuple(_follow(other, today) for other in view.follows),
        how=Link(f"How it is done: {sheet.title}", sheet_href(sheet.id, r.step)) if sheet else Link("Sheets", "/add"),
        labels=(*_labels(job, step), *reckon_first(step, sheet, view.facts, r.entry), *packing_link(sheet, r.entry)),
        otherwise=Link("Does it go differently here?", ways_href(sheet.id, r.step, r.entry)) if sheet else None,
        remembered=remembered(view.remembered, book.imperial),
    )


def _why(view: JobView, library: Library, today: date) -> tuple[Reasoned, ...]:
    """The rules behind its days, each with what it used, the day it came to, and its source."""
    return tuple(
        Reasoned(
            one.rule, one.inputs, words.day(date_of(one.day), today) if one.day else "",
            told.source(library, one.source),
        )
        for one in view.reasons
    )  # fmt: skip


def _uses(view: JobView, step: Step | None) -> tuple[Pair, ...]:
    """What it uses up; of a cure that was reckoned, the grams."""
    if step is None or view.sheet is None:
        return ()
    return weighed_out(step, view.sheet, view.facts) or tuple(told.uses(use, view.facts) for use in step.uses)


def _labels(job: Job, step: Step | None) -> tuple[Link, ...]:
    """Once seed is in the tin, the way to a label for its jar."""
    if step is None or job.row.done is None:
        return ()
    jars = [(f"{job.row.key}#{n}", make.name) for n, make in enumerate(step.makes) if make.kind == "seed"]
    return tuple(Link(f"A label for the jar: {name}", f"{jar_href(jar)}/label") for jar, name in jars)


def _when(job: Job, today: Day) -> str:
    r = job.row
    if r.opens is None or r.best is None or r.closes is None:
        return when(job, date_of(today))
    span = words.between(date_of(r.opens), date_of(r.closes), date_of(today))
    return span if r.opens == r.closes else f"{span}, best on {words.day(date_of(r.best), date_of(today))}"


def _barred(view: JobView, today: Day) -> str:
    """What bars it now, in sentences."""
    found = []
    for bar in view.bars:
        until = f" Until {words.day(date_of(bar.last), date_of(today))}." if bar.last is not None else ""
        found.append(bar.says.rstrip(".") + "." + until)
    if not found and view.job.state is State.WAITING:
        found.append("It waits until something is said.")
    if found and any(bar.kind == "law" for bar in view.bars):
        found.append("What has happened is taken down all the same.")
    return " ".join(dict.fromkeys(found))


def _free(job: Job, today: Day) -> str:
    r = job.row
    if r.opens is None or r.closes is None:
        return ""
    span = words.between(date_of(r.opens), date_of(r.closes), date_of(today))
    return f"Within {span}, as you like." + (" The law allows no later day." if r.legal else "")


def _stretch(job: Job, today: Day) -> Stretch | None:
    r = job.row
    days = [day for day in (r.opens, r.closes, r.done) if day is not None]
    if not days:
        return None
    return Stretch(min(days) - MARGIN_DAYS, max(days) + MARGIN_DAYS, today)


def _scale(stretch: Stretch) -> Scale:
    """The days around a window; of a long one only the firsts of months, or of years."""
    length = stretch.last - stretch.first
    marks = []
    for day in range(stretch.first, stretch.last + 1):
        on = date_of(day)
        if length <= EVERY_DAY or (length < 400 and on.day == 1) or (on.day, on.month) == (1, 1):
            today = day == stretch.today
            marks.append(DayMark(on.day, drawing.middle(stretch, day), on.weekday() > 4, today, on.day % 7 == 1))
    return Scale(tuple(marks), words="The days around its window.")


def _saying(one: Saying, view: JobView, today: Day, timezone: str, imperial: bool) -> Undoing:
    tick, now = one.told.tick, date_of(today)
    on = words.day(date_of(tick.on), now)
    lead = {
        "done": f"Done on {on}",
        "let go": "Not this year",
        "moved": f"Moved to {on}",
        "undone": "Taken back",
    }[tick.kind]
    by = f" by {one.person}" if one.person else ""
    asks = {ask.name: ask for ask in fields.in_units(view.step.asks, imperial)} if view.step is not None else {}
    measures = [
        f"{told.label(asks[name]).lower()} {told.answer(asks[name], value, now)}"
        for name, value in tick.measures.items()
        if name in asks
    ]
    tail = f": {words.listed(measures)}" if measures else ""
    written = "".join(f" {text}" for text in (one.told.reason, one.told.remark) if text)
    tied = " It was taken as done with what came after it." if tick.tied_to else ""
    at = datetime.fromisoformat(tick.at).astimezone(zone(timezone))
    undo = None
    if one.holds and tick.kind != "undone":
        r = view.job.row
        hidden = (Pair("key", r.key), Pair("answers", tick.id), Pair("id", next_id(r.key, view.job.said.times)))
        undo = Form("/undo", "Take back", hidden=hidden, quiet=True)
    return Undoing(
        f"{lead}{by}{tail}.{written}{tied}",
        f"{words.day(at.date(), now)}, {words.clock(at.hour * 60 + at.minute)}",
        undo,
    )


def _follow(job: Job, today: Day) -> Follow:
    note = state_words(job, date_of(today))
    return Follow(job.row.title, job_href(job.row.key), when(job, date_of(today)), note=note)
