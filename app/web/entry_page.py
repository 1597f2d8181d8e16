"""An entry's page: its chain drawn and listed, what is known of it, what would move if it began later."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.state import State, state
from app.rules.tasks import Clash, Fate, Task
from app.rules.why import FATES
from app.services.book import Book
from app.services.preview import Looked
from app.services.what_there_is import OPEN, Whole, is_over
from app.web import pages, told
from app.web.chain import Chain, Item, lay
from app.web.drawing import Stretch, line
from app.web.fields import in_units
from app.web.links import entry_href, sheet_href
from app.web.meat.delivery_packing import packing_link
from app.web.parts import Field, Follow, Form, Frame, Link, Moved, Pair
from app.web.previewed import bars, clashes, moved
from app.web.rows import STATES, job_href
from app.web.ways_page import ways_href
from app.web.words import counted, day, month

A_YEAR = 365
MOST_COMING = 3
MOST_PAST = 2
LATER_DAYS = 14
LONGEST_LATER_DAYS = 730


class Asked(NamedTuple):
    """What was asked of the page: all of the chain, how it would be if it began later, a form that was refused."""

    every: bool = False
    later: Looked | None = None
    typed: Mapping[str, str] = {}
    errors: Mapping[str, str] = {}


class _Pictured(NamedTuple):
    """The chain as drawn, told and listed."""

    chain: Chain
    words: str
    steps: tuple[Follow, ...]
    older: Link | None


def entry_page(book: Book, whole: Whole, frame: Frame, asked: Asked) -> pages.Entry:
    """The page."""
    entry, sheet, today = whole.entry, whole.sheet, book.today()
    here = entry_href(entry.id)
    over = is_over(entry, today.toordinal())
    pictured = _pictured(whole, here, today, asked.every)
    days = _later_days(asked.typed)
    return pages.Entry(
        frame=frame,
        name=told.name(entry.name),
        trade=sheet.trade if sheet else "upkeep",
        kind=sheet.kind if sheet else "entry",
        place=entry.place,
        sub=_sub(whole, today),
        made_by=Link(whole.maker, job_href(entry.made_by)) if entry.made_by else None,
        chain=pictured.chain,
        chain_words=pictured.words,
        today=f"{day(today, today)}, today",
        steps=pictured.steps,
        older=pictured.older,
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


def _pictured(whole: Whole, here: str, today: date, every: bool) -> _Pictured:
    sheet, now = whole.sheet, today.toordinal()
    dated = [task for task in whole.laid.tasks if task.best is not None or task.done is not None]
    shown, hidden = _shown(_in_order(sheet, dated), now, every)
    items = [_item(sheet, task) for task in shown]
    first = min((item.opens for item in items), default=now)
    last = max((item.closes for item in items), default=now)
    stretch = Stretch(first, max(last, first + 27), now)
    chain = lay(items, first, last, now)
    numbers = _numbers(chain, items) if chain.numbered else {}
    return _Pictured(
        chain,
        _in_words(dated, items, today),
        tuple(
            _follow(sheet, task, stretch, today, hidden.get(task.step, 0), numbers.get(task.step, "")) for task in shown
        ),
        _older(here, len(dated) - len(shown), every),
    )


def _numbers(chain: Chain, items: list[Item]) -> dict[str, str]:
    """The number of each step in a picture that has numbers for names."""
    steps = {item.href: item.step for item in items}
    return {steps[one.href]: one.label for one in chain.steps}


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
    """The clashes of an entry in sentences."""
    found = [
        Clash(c.on_what, c.subject, c.one, c.other, c.first, c.last, c.says)  # type: ignore[arg-type]
        for c in whole.clashes
    ]
    return clashes(found, whole.entry.id, whole.names, today)


def _shown(tasks: list[Task], today: Day, every: bool) -> tuple[list[Task], dict[str, int]]:
    """What the page lists: the last year and what is to come, of each step a few.

    Also how many more are to come of each. ``tasks`` are in the order of their days.
    """
    if every:
        return tasks, {}
    recent = [task for task in tasks if _last(task) >= today - A_YEAR]
    past = [task for task in recent if state(task, today) not in OPEN]
    coming = [task for task in recent if state(task, today) in OPEN]
    few = {task.key for some in _by_step(past) for task in some[-MOST_PAST:]}
    few |= {task.key for some in _by_step(coming) for task in some[:MOST_COMING]}
    hidden = {some[0].step: len(some) - MOST_COMING for some in _by_step(coming) if len(some) > MOST_COMING}
    return [task for task in recent if task.key in few], hidden


def _by_step(tasks: list[Task]) -> list[list[Task]]:
    steps: dict[str, list[Task]] = {}
    for task in tasks:
        steps.setdefault(task.step, []).append(task)
    return list(steps.values())


def _last(task: Task) -> Day:
    """The day a job was done, else its last."""
    return task.done if task.done is not None else task.closes or 0


def _in_order(sheet: Sheet | None, tasks: list[Task]) -> list[Task]:
    """In the order of days, those done by the day they were done; on one day, as the sheet has them."""

    def place(task: Task) -> tuple[Day, int, tuple[int, ...]]:
        on = task.done if task.done is not None else task.best or 0
        return on, told.place_in(sheet, task.step), task.label

    return sorted(tasks, key=place)


def _item(sheet: Sheet | None, task: Task) -> Item:
    best = task.best if task.best is not None else task.done or 0
    opens = task.opens if task.opens is not None else best
    closes = task.closes if task.closes is not None else best
    if task.done is not None:
        opens, closes = min(opens, task.done), max(closes, task.done)
    return Item(task.step, _title(sheet, task), job_href(task.key), opens, best, closes, task.done)


def _follow(sheet: Sheet | None, task: Task, stretch: Stretch, today: date, more: int, number: str) -> Follow:
    what = state(task, today.toordinal())
    bests = (task.best,) if task.best is not None else ()
    when = told.days(task.opens, task.best, task.closes, today)
    if task.done is not None:
        when = f"done on {day(date.fromordinal(task.done), today)}"
    note = STATES.get(what, "")
    if not note and task.fate is not Fate.PLAIN and what in OPEN:
        note = FATES.get(task.fate, "")
    if not note and not task.sure:
        note = "not sure yet"
    if not note and more and what in OPEN:
        note = f"one of {MOST_COMING + more}"
    trouble = what in (State.LOST, State.UNLAWFUL, State.NO_ROOM, State.LATE) or task.fate is Fate.SQUEEZED
    return Follow(
        _title(sheet, task),
        job_href(task.key),
        when,
        line(stretch, task.opens, task.closes, bests, task.done),
        number,
        past=what not in OPEN,
        note=note,
        trouble=trouble,
    )


def _title(sheet: Sheet | None, task: Task) -> str:
    step = told.step_of(sheet, task.step)
    return step.title if step else task.step.replace("-", " ").capitalize()


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


def _in_words(tasks: list[Task], items: list[Item], today: date) -> str:
    if not items:
        return "No job can be dated yet."
    done = sum(task.done is not None for task in tasks)
    first = month(date.fromordinal(min(item.opens for item in items)))
    last = month(date.fromordinal(max(item.closes for item in items)))
    return f"{counted(len(tasks), 'job').capitalize()} from {first} to {last}; {counted(done, 'is', 'are')} done."


def _older(here: str, left_out: int, every: bool) -> Link | None:
    if every:
        return Link("Show less", here)
    return Link(f"Show all of it: {counted(left_out, 'more job')}", f"{here}?all=yes") if left_out > 0 else None


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
