"""The rounds as a sheet to be printed, for whoever minds the place."""

from datetime import date

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.services.jobs import Job
from app.services.minding import Line, Minding, minding
from app.services.rounds_sheet import FROST_PERCENT, RoundDay, out_at, round_day, shut_at
from app.web import pages, told, words
from app.web.depends import TheBook, page
from app.web.frames import frame
from app.web.pages import RoundLine, RoundPart
from app.web.parts import Field, Follow, Form, Frame, Pair
from app.web.rows import date_of, job_href, when
from app.web.typed import Typed
from app.web.weights import weight

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
        told_day = round_day(book, session, found.first, found.last, today)
    here = frame(request, "For whoever minds the place", "today")
    return page(request, _sheet(here, found, told_day, today, book.imperial))


def _sheet(here: Frame, found: Minding, day: RoundDay, today: int, imperial: bool) -> pages.RoundSheet:
    now = date_of(today)
    fields = (
        Field("from", "From", "date", date_of(found.first).isoformat(), required=True),
        Field("to", "To", "date", date_of(found.last).isoformat(), required=True),
    )
    held = [f"{name}: {bar.says.rstrip('.')}{_until(bar.last, today)}." for name, bar in found.held]
    return pages.RoundSheet(
        frame=here,
        days=words.between(date_of(found.first), date_of(found.last), now),
        parts=tuple(_part(part, lines, found, day, imperial) for part, lines in found.parts),
        also=_also(found.closing, now),
        not_to_eat=tuple(dict.fromkeys(held)),
        call=(Pair("The vet", day.vet),) if day.vet else (Pair("The vet", "nobody is put down", "/household"),),
        form=Form("/round", "Show these days", fields, method="get"),
        gets=tuple(
            Pair(f"{one.name}, {words.counted(one.head, 'head', 'head')}", _amounts(one.a_day, imperial))
            for one in day.gets
            if one.a_day
        ),
        frost=_frost(day) if found.parts else "",
    )


def _also(jobs: list[Job], now: date) -> tuple[Follow, ...]:
    """What can't wait, each job of an entry once, however often it comes round in those days."""
    same: dict[tuple[str, str], list[Job]] = {}
    for job in jobs:
        same.setdefault((job.row.entry, job.row.step), []).append(job)
    return tuple(
        Follow(
            f"{some[0].row.title}: {some[0].row.entry_name}", job_href(some[0].row.key),
            when(some[0], now) if len(some) == 1 else f"{words.counted(len(some), 'time')}, first {when(some[0], now)}",
        )
        for some in same.values()
    )  # fmt: skip


def _frost(day: RoundDay) -> str:
    if day.frost_percent < FROST_PERCENT:
        return ""
    chance = f"{words.figure(day.frost_percent, 0)}{words.SP}% of such nights freeze"
    return (
        f"Frost: {chance}. Carry water warm, morning and evening, and break the ice at noon; what is frozen is empty."
    )


def _amounts(amounts: tuple[tuple[str, str, float], ...], imperial: bool) -> str:
    return words.listed(
        f"{words.figure(much, 1)}{words.SP}l {what}"
        if unit == "l"
        else f"{weight(much, imperial)} {what.partition(',')[0]}"
        for what, unit, much in amounts
    )


def _until(last: int | None, today: int) -> str:
    if last is None:
        return ", until the days are written down"
    return f", until {words.day(date_of(last), date_of(today))}"


def _part(part: str, lines: list[Line], found: Minding, day: RoundDay, imperial: bool) -> RoundPart:
    sun = out_at(day) if part == "morning" else shut_at(day)
    plain, birds = ("at first light", "birds out from") if part == "morning" else ("before dusk", "birds shut up at")
    return RoundPart(
        heading=part.capitalize(),
        when=f"{plain}; {birds} {_clocks(sun)}" if sun is not None else plain,
        minutes=words.minutes(sum(line.row.minutes_a_day for line in lines)),
        lines=tuple(_line(line, found, _fed(line, found, day), imperial) for line in lines),
    )


def _clocks(ends: tuple[int, int]) -> str:
    first, last = (words.clock(end) for end in ends)
    return first if first == last else f"{first}, on the last day {last}"


def _fed(line: Line, found: Minding, day: RoundDay) -> tuple[tuple[str, str, float], ...] | None:
    """What a line's group is fed on it: its day's feed, shared over the lines that feed it; None where not known."""
    gets = next((one for one in day.gets if one.entry == line.row.entry), None)
    if gets is None or not gets.feed:
        return None
    mine = [one for _, some in found.parts for one in some if one.row.entry == line.row.entry]
    feeding = [one for one in mine if one.step is not None and one.step.uses] or mine[:1]
    if line not in feeding:
        return ()
    return tuple((what, unit, much / len(feeding)) for what, unit, much in gets.feed)


def _line(line: Line, found: Minding, fed: tuple[tuple[str, str, float], ...] | None, imperial: bool) -> RoundLine:
    step, row = line.step, line.row
    amounts = [told.uses(use, line.facts) for use in step.uses] if step is not None and fed is None else []
    notes = [step.note] if step is not None and step.note else []
    if (line.first, line.last) != (found.first, found.last):
        notes.append(words.between(date_of(line.first), date_of(line.last), date_of(found.first)))
    listed = words.listed(f"{pair.value} {pair.name}" for pair in amounts)
    return RoundLine(
        what=f"{row.title}: {row.entry_name}",
        place=row.place,
        amount=_amounts(fed, imperial) if fed else listed,
        note=" · ".join(notes),
    )
