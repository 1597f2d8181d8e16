"""What there is to keep up as a page: what must be done next, the waits that run, every building with its years."""

from datetime import date

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.state import State
from app.services.book import Book
from app.services.upkeep.amounts import for_element
from app.services.upkeep.elements import Element, Waiting
from app.services.upkeep.there import Building, Doing, There, place_names, title_of
from app.web import pages
from app.web.drawing import Stretch, line
from app.web.forms import Wrong
from app.web.garden.page import months
from app.web.links import entry_href
from app.web.pages.upkeep import BuildingPart, ElementLine, JobLine, WaitLine
from app.web.parts import Frame, Link, Pair
from app.web.rows import job_href
from app.web.upkeep.drawing import Drawn, Lane, building, year_marks, years_scale
from app.web.upkeep.forms import element_form
from app.web.upkeep.words import last_words, of_words, on, quoted, size_words, task_href, unsuited_number, window_words
from app.web.words import counted, day, left, listed, month

__all__ = ["unsuited_number", "upkeep_page"]
ABOUT = "About the place"


def upkeep_page(
    book: Book, frame: Frame, found: There, sheets: tuple[Sheet, ...], wrong: Wrong, today: date
) -> pages.Upkeep:
    """The page."""
    every = [one for part in found.buildings for one in part.elements]
    stretch = _year(today)
    years = years_scale(today.toordinal(), found.last, today.toordinal())
    sub = counted(len(every), "thing") + " to keep up"
    if found.asked:
        sub += f"; {counted(found.asked, 'job')} {'is' if found.asked == 1 else 'are'} asked now"
    return pages.Upkeep(
        frame=frame,
        sub=f"{sub[:1].upper()}{sub[1:]}" if every else "",
        first=tuple(_first(one, today) for one in found.first),
        waits=tuple(_wait(one, today) for one in found.waits),
        buildings=tuple(_building(book, n, one, stretch, years, today) for n, one in enumerate(found.buildings)),
        months=months(stretch),
        years=year_marks(years),
        add=element_form(sheets, place_names(every), book.imperial, wrong),
        open=bool(wrong.errors) or not every,
        whole=Link("More can be said of it on the whole form", "/add"),
        notes=(
            "A window is drawn as a line, with a diamond on its best day; in the pictures of years a diamond is a coat,"
            " or a job that comes seldom.",
            "Listed buildings and conservation areas: ask for consent before paint, render or windows are touched.",
        ),
        empty="" if every else "Nothing is put down yet. A wall, a gutter, a chimney, an alarm: one line each, and its"
        " dates follow.",
    )  # fmt: skip


def _year(today: date) -> Stretch:
    """A month back and a year and a half ahead, in whole months: within it nearly every next job lies."""
    start = date(today.year - (today.month == 1), 12 if today.month == 1 else today.month - 1, 1)
    index = today.year * 12 + today.month + 18
    end = date(index // 12, index % 12 + 1, 1)
    return Stretch(start.toordinal(), end.toordinal() - 1, today.toordinal())


def _first(one: Doing, today: date) -> JobLine:
    closes = on(one.task.closes or today.toordinal())
    pressing = left(closes, today) if one.state in (State.LATE, State.CLOSING) else ""
    return JobLine(
        one.title, job_href(one.task.key), of_words(one.element), window_words(one.task, today), pressing
    )  # fmt: skip


def _wait(one: Waiting, today: date) -> WaitLine:
    now = today.toordinal()
    gone, whole = now - one.since, one.cured - one.since
    if now < one.cured:
        waits = f"{counted(gone, 'day')} of {counted(whole, 'day')} gone"
    else:
        waits = "it has stood long enough"
    season = f"; ready {day(on(one.cured), today)}, then it waits for its season" if one.until > one.cured + 7 else ""
    stretch = Stretch(one.since, max(one.best, one.until) + 3, now)
    return WaitLine(
        f"{one.then}: not before {day(on(one.until), today)}",
        job_href(one.key),
        f"{one.name} · {one.done}: done on {day(on(one.since), today)}, {waits}{season}",
        line(stretch, one.until, max(one.best, one.until), (one.best,), None, (one.since, one.until - 1)),
    )


def _building(book: Book, n: int, one: Building, stretch: Stretch, years: Stretch, today: date) -> BuildingPart:
    name = one.name or ABOUT
    drawn = [(each, each.drawn) for each in one.elements if each.drawn]
    if not any(len(tasks) > 1 for _, tasks in drawn):
        drawn = []  # nothing lies further ahead than the lines above show
    lanes = [
        Lane(each.entry.name, tuple(Drawn(t.opens or 0, t.best or 0, t.closes or 0) for t in tasks))
        for each, tasks in drawn
    ]
    told = tuple(
        Pair(each.entry.name, listed(_in_short(each, t.step, t.best or 0, today) for t in tasks[:5]))
        for each, tasks in drawn
    )
    words = "; ".join(f"{pair.name}: {pair.value}" for pair in told)
    return BuildingPart(
        f"b{n}",
        name[:1].upper() + name[1:],
        counted(len(one.elements), "thing"),
        tuple(_element(book, each, stretch, today) for each in one.elements),
        building(years, lanes, f"{name}, the years to come. {words}."),
        told,
    )


def _in_short(one: Element, step: str, best: Day, today: date) -> str:
    titles = {each.id: each.title for each in one.sheet.steps}
    what = titles.get(step, step)
    return f"{what[:1].lower()}{what[1:]} in {month(on(best), today)}"


def _element(book: Book, one: Element, stretch: Stretch, today: date) -> ElementLine:
    task = one.next
    pressing = ""
    if task is not None and task.closes is not None and task.closes - today.toordinal() < 3:
        pressing = left(on(task.closes), today)
    exposure = str(one.facts.get("exposure", "")) if one.coating else ""
    shown = (one.coating or one.sheet.title, size_words(one, book.imperial), exposure)
    amount = for_element(one)
    return ElementLine(
        name=one.entry.name,
        href=entry_href(one.entry.id),
        sub=" · ".join(part for part in shown if part and part.casefold() != one.entry.name.casefold()),
        last=last_words(one.last, today),
        found=_found(one, today),
        next=Link(title_of(one, task), task_href(book, task, one.entry.id)) if task is not None else None,
        when=window_words(task, today) if task is not None else "nothing is asked",
        line=line(stretch, task.opens, task.closes, (task.best,)) if task is not None and task.best else line(stretch),
        pressing=pressing,
        look=Link("Look at it", task_href(book, one.look, one.entry.id)) if one.look is not None else None,
        amount=Link("How much", f"/upkeep/amounts?what={quoted(amount[0])}&area={amount[1]:g}&coats={amount[2]}")
        if amount is not None
        else None,
        misfit=one.misfit,
    )


def _found(one: Element, today: date) -> str:
    if one.found is None:
        return ""
    where = f", {one.found.where}" if one.found.where else ""
    return f"Found {one.found.what}{where} on {day(on(one.found.day), today)}"
