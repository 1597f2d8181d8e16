"""An entry's page: its chain, what is known of it, what would move if it began later."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from app.rules.tasks import Clash
from app.services.book import Book
from app.services.preview import Looked
from app.services.upkeep.elements import misfit_of
from app.services.what_there_is import Whole, is_over
from app.web import pages, told
from app.web.entry_chain import pictured
from app.web.fields import in_units
from app.web.links import entry_href, sheet_href
from app.web.meat.delivery_packing import packing_link
from app.web.parts import Field, Form, Frame, Link, Moved, Pair
from app.web.previewed import bars, clashes, moved
from app.web.rows import job_href
from app.web.ways_page import ways_href
from app.web.words import counted, day

LATER_DAYS = 14
LONGEST_LATER_DAYS = 730


class Asked(NamedTuple):
    """What was asked of the page: all of the chain, how it would be if it began later, a form that was refused."""

    every: bool = False
    later: Looked | None = None
    typed: Mapping[str, str] = {}
    errors: Mapping[str, str] = {}


def entry_page(book: Book, whole: Whole, frame: Frame, asked: Asked) -> pages.Entry:
    """The page."""
    entry, sheet, today = whole.entry, whole.sheet, book.today()
    here = entry_href(entry.id)
    over = is_over(entry, today.toordinal())
    drawn = pictured(whole, here, today, asked.every)
    days = _later_days(asked.typed)
    return pages.Entry(
        frame=frame,
        name=told.name(entry.name),
        trade=sheet.trade if sheet else "upkeep",
        kind=sheet.kind if sheet else "entry",
        place=entry.place,
        sub=_sub(whole, today),
        made_by=Link(whole.maker, job_href(entry.made_by)) if entry.made_by else None,
        chain=drawn.chain,
        chain_words=drawn.words,
        today=f"{day(today, today)}, today",
        steps=drawn.steps,
        older=drawn.older,
        facts=_facts(whole, today, book.imperial),
        change=Link("Change these", f"{here}/change"),
        later=None if over or entry.made_by or not _has_date(whole) else _later_form(here, days, asked.errors),
        later_heading=f"If it began {counted(abs(days), 'day')} {'later' if days >= 0 else 'earlier'}",
        moves=_moves(asked.later, today),
        bars=bars(whole.bars, today),
        clashes=clashes_of(whole, today),
        lacks=_lacks(whole, here),
        changed=_changed(book, whole),
        made=(
            *packing_link(sheet, entry.id),
            *(Link(told.name(one.name), entry_href(one.id)) for one in whole.made if one.sure and not one.struck),
        ),
        end=None if over else _end_form(here, asked, today),
        strike=None if over else Form(f"{here}/strike", "Strike it out", note="What was ticked is kept.", quiet=True),
        ended=_ended(whole, today),
        how=_how(whole),
        otherwise=Link("Does it go differently here?", ways_href(sheet.id, entry=entry.id)) if sheet else None,
        back=Form(f"{here}/back", "Bring it back", quiet=True) if entry.struck or entry.ends is not None else None,
    )


def _changed(book: Book, whole: Whole) -> tuple[Pair, ...]:
    """The household's own figures and ways, beside what came with the program."""
    sheet = whole.sheet
    figures = told.changed(book.library.changes.get(sheet.id, ()), sheet) if sheet is not None else ()
    return (*figures, *(Pair(title, said) for title, said in whole.own))


def _how(whole: Whole) -> Link:
    if whole.sheet is None:
        return Link("Its sheet is not there any more; choose another", "/add")
    return Link("How it’s done", sheet_href(whole.sheet.id))


def clashes_of(whole: Whole, today: date) -> tuple[str, ...]:
    """The clashes of an entry in sentences, and why its coat does not suit what it is on."""
    misfit = misfit_of(whole.entry, whole.sheet) if whole.sheet is not None else ""
    found = [
        Clash(c.on_what, c.subject, c.one, c.other, c.first, c.last, c.says)  # type: ignore[arg-type]
        for c in whole.clashes
    ]
    return (*clashes(found, whole.entry.id, whole.names, today), *((misfit,) if misfit else ()))


def _sub(whole: Whole, today: date) -> str:
    value = whole.entry.facts.get("date")
    if not isinstance(value, int):
        return ""
    on = date.fromordinal(value)
    return f"{'From' if on > today else 'Since'} {day(on, today)}"


def _facts(whole: Whole, today: date, imperial: bool) -> tuple[Pair, ...]:
    entry, sheet = whole.entry, whole.sheet
    known = entry.facts
    asks = in_units(sheet.facts.values(), imperial) if sheet else ()
    pairs = [Pair(told.label(ask), told.answer(ask, known.get(ask.name), today, whole.names)) for ask in asks]
    pairs += [Pair("Where", entry.place), Pair("Note", whole.note)]
    return tuple(pair for pair in pairs if pair.value)


def _lacks(whole: Whole, here: str) -> tuple[Link, ...]:
    found: dict[str, Link] = {}
    for lack in whole.laid.lacks:
        step = told.step_of(whole.sheet, lack.step)
        title = step.title if step else lack.step
        ask = whole.sheet.facts.get(lack.fact) if whole.sheet else None
        if ask is not None:
            text = f"‘{title}’ waits for ‘{told.label(ask)}’: say it here."
            found.setdefault(text, Link(text, f"{here}/change#{lack.fact}"))
        else:
            text = f"‘{title}’ can’t be dated: {lack.reason or lack.fact.replace('_', ' ')}"
            found.setdefault(text, Link(text, sheet_href(whole.entry.sheet, lack.step)))
    return tuple(found.values())


def _has_date(whole: Whole) -> bool:
    return isinstance(whole.entry.facts.get("date"), int)


def _later_days(typed: Mapping[str, str]) -> int:
    text = typed.get("later", "")
    return int(text) if text.removeprefix("-").isdecimal() and abs(int(text)) <= LONGEST_LATER_DAYS else LATER_DAYS


def _later_form(here: str, days: int, errors: Mapping[str, str]) -> Form:
    box = Field("later", "Later by", "count", str(days), "days", error=errors.get("later", ""), required=True)
    return Form(here, "Look", (box,), method="get", quiet=True)


def _moves(later: Looked | None, today: date) -> tuple[Moved, ...] | None:
    return None if later is None else moved(later.moves, later.titles, today)


def _end_form(here: str, asked: Asked, today: date) -> Form:
    typed = asked.typed.get("on", today.isoformat())
    error = asked.errors.get("on", "")
    on = Field("on", "Its last day", "date", typed, error=error, required=True)
    note = "After that day nothing is asked of it. What was ticked is kept."
    lead = "Please look again: nothing was changed." if error else ""
    return Form(f"{here}/end", "End it", (on,), error=lead, note=note, quiet=True)


def _ended(whole: Whole, today: date) -> str:
    entry = whole.entry
    if entry.struck:
        return "Struck out: nothing is asked of it."
    if entry.ends is None:
        return ""
    on = date.fromordinal(entry.ends)
    return f"{'Ended' if on < today else 'Ends'} on {day(on, today)}."
