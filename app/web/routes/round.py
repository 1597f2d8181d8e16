"""The rounds as a sheet to be printed, for whoever minds the place."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.minding import Line, Minding, minding
from app.web import pages, told, words
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.pages import RoundLine, RoundPart
from app.web.parts import Field, Follow, Form, Frame
from app.web.rows import date_of, job_href, when
from app.web.typed import Typed

router = APIRouter()


@router.get("/round")
def show(request: Request, book: TheBook) -> Response:
    """The sheet for some days: from ``from`` to ``to``, else for this week.

    Raises: BadInput for days that can't be read.
    """
    today = book.today().toordinal()
    typed = Typed(dict(request.query_params))
    first = typed.day("from")
    last = typed.day("to")
    typed.check()
    first = today if first is None else first
    with book.reading() as session:
        found = minding(book, session, first, first + 6 if last is None else last, today)
    return page(request, _sheet(frame(request, "For whoever minds the place", "today"), found, today))


def _sheet(here: Frame, found: Minding, today: int) -> pages.RoundSheet:
    now = date_of(today)
    fields = (
        Field("from", "From", "date", date_of(found.first).isoformat(), required=True),
        Field("to", "To", "date", date_of(found.last).isoformat(), required=True),
    )
    held = [f"{name}: {bar.says.rstrip('.')}{_until(bar.last, today)}." for name, bar in found.held]
    return pages.RoundSheet(
        frame=here,
        days=words.between(date_of(found.first), date_of(found.last), now),
        parts=tuple(_part(part, lines, found) for part, lines in found.parts),
        also=tuple(
            Follow(f"{job.row.title}: {job.row.entry_name}", job_href(job.row.key), when(job, now))
            for job in found.closing
        ),
        not_to_eat=tuple(dict.fromkeys(held)),
        call=(),
        form=Form("/round", "Show these days", fields, method="get"),
    )


def _until(last: int | None, today: int) -> str:
    if last is None:
        return ", until the days are written down"
    return f", until {words.day(date_of(last), date_of(today))}"


def _part(part: str, lines: list[Line], found: Minding) -> RoundPart:
    return RoundPart(
        heading=part.capitalize(),
        when="at first light" if part == "morning" else "before dusk",
        minutes=words.minutes(sum(line.row.minutes_a_day for line in lines)),
        lines=tuple(_line(line, found) for line in lines),
    )


def _line(line: Line, found: Minding) -> RoundLine:
    step, row = line.step, line.row
    amounts = [told.uses(use, line.facts) for use in step.uses] if step is not None else []
    notes = [step.note] if step is not None and step.note else []
    if (line.first, line.last) != (found.first, found.last):
        notes.append(words.between(date_of(line.first), date_of(line.last), date_of(found.first)))
    return RoundLine(
        what=f"{row.title}: {row.entry_name}",
        place=row.place,
        amount=words.listed(f"{pair.value} {pair.name}" for pair in amounts),
        note=" · ".join(notes),
    )
