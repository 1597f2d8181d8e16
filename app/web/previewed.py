"""What would follow, as a part of a page: dates on a scale of their own, what moves, what clashes, what is barred."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from app.rules.moves import Move
from app.rules.sheet import Sheet
from app.rules.tasks import Bar, Clash, Fate, Task
from app.rules.why import FATES, said
from app.services.preview import Looked
from app.web import pages, told
from app.web.drawing import Stretch, at, line
from app.web.larder.kit_words import clash_words, room_words, work_words
from app.web.parts import Moved
from app.web.words import MONTHS, between, counted, day

MOST_DATES = 14
"""So many jobs are shown before an entry is put down; the rest is counted."""
TROUBLE = (Fate.NO_ROOM, Fate.SQUEEZED, Fate.LOST, Fate.UNLAWFUL, Fate.BARRED)


def preview_new(sheet: Sheet, looked: Looked, today: date, names: Mapping[str, str]) -> pages.Preview:
    """The dates of a new entry, on a scale of their own, and what else moves."""
    tasks = [task for task in looked.laid.tasks if task.best is not None]
    tasks.sort(key=lambda task: (task.best or 0, told.place_in(sheet, task.step), task.label))
    firsts, rest = _first_of_each(tasks)
    shown = firsts[:MOST_DATES]
    stretch = _stretch(shown, today)
    own = looked.laid.entry.id
    dates = tuple(_date_line(sheet, task, stretch, today, rest.get(task.step, 0)) for task in shown)
    lacking = tuple(_lack(sheet, lack.step, lack.fact, lack.reason) for lack in looked.lacks)
    others = [move for move in looked.moves if not move.key.startswith((f"{own}.", f"{own}+"))]
    return pages.Preview(
        heading="These dates would follow" if dates else "Nothing can be dated yet",
        dates=dates,
        months=_months(stretch) if dates else (),
        moves=moved(others, looked.titles, today),
        clashes=_clashes(looked, own, names, today),
        bars=(*looked.warnings, *bars(looked.bars, today), *lacking),
        more=_more(len(tasks), len(shown), looked),
        seen=looked.seen,
        confirm="Put it down",
        advice=looked.advice,
    )


def preview_change(sheet: Sheet, looked: Looked, today: date, names: Mapping[str, str]) -> pages.Preview:
    """What a change moves: was and now."""
    lacking = tuple(_lack(sheet, lack.step, lack.fact, lack.reason) for lack in looked.lacks)
    return pages.Preview(
        heading="This would move" if looked.moves else "The dates",
        dates=(),
        months=(),
        moves=moved(looked.moves, looked.titles, today),
        clashes=_clashes(looked, looked.laid.entry.id, names, today),
        bars=(*looked.warnings, *bars(looked.bars, today), *lacking),
        more="",
        seen=looked.seen,
        confirm="Change it",
        advice=looked.advice,
    )


def moved(moves: Sequence[Move], titles: Mapping[str, str], today: date, most: int = 40) -> tuple[Moved, ...]:
    """Moves in words; beyond so many the rest is counted."""
    rows = [_moved(move, titles, today) for move in moves[:most]]
    if len(moves) > most:
        rows.append(Moved(f"and {counted(len(moves) - most, 'more job', 'more jobs')}", "", "moved in the same way"))
    return tuple(rows)


def clashes(found: Iterable[Clash], own: str, names: Mapping[str, str], today: date) -> tuple[str, ...]:
    """Clashes in sentences, each once for each other entry."""
    found_once: dict[tuple[str, str], str] = {}
    for clash in found:
        other = clash.other if clash.one == own else clash.one
        name = names.get(other, "")
        when = between(date.fromordinal(clash.first), date.fromordinal(clash.last), today)
        found_once.setdefault((other, clash.says), f"{clash.says} With {name or other}: {when}.")
    return tuple(found_once.values())


def _clashes(looked: Looked, own: str, names: Mapping[str, str], today: date) -> tuple[str, ...]:
    """What clashes, kit with the way out; where there are two of a thing, two may have one each."""
    others = clashes((one for one in looked.clashes if one.on != "kit" or looked.work is None), own, names, today)
    return (*others, *clash_words(looked.kit, today), *room_words(looked.room))


def bars(found: Iterable[Bar], today: date) -> tuple[str, ...]:
    """Bars in sentences, with their days."""
    return tuple(f"{bar.says} {_bar_days(bar, today)}" for bar in found)


def _bar_days(bar: Bar, today: date) -> str:
    first = date.fromordinal(bar.first)
    if bar.last is None:
        return f"From {day(first, today)} until something more is said."
    return f"{between(first, date.fromordinal(bar.last), today)}."


def _moved(move: Move, titles: Mapping[str, str], today: date) -> Moved:
    return Moved(titles.get(move.key, move.key), told.in_words(move.was, today), told.in_words(move.now, today))


def _first_of_each(tasks: Sequence[Task]) -> tuple[list[Task], dict[str, int]]:
    """The first job of each step, and how many more there are of it."""
    first: dict[str, Task] = {}
    more: dict[str, int] = {}
    for task in tasks:
        if task.step in first:
            more[task.step] = more.get(task.step, 0) + 1
        else:
            first[task.step] = task
    return list(first.values()), more


def _date_line(sheet: Sheet, task: Task, stretch: Stretch, today: date, more: int) -> pages.DateLine:
    step = told.step_of(sheet, task.step)
    bests = (task.best,) if task.best is not None else ()
    when = told.days(task.opens, task.best, task.closes, today)
    if task.done is not None:
        when = f"done on {day(date.fromordinal(task.done), today)}"
    note = FATES.get(task.fate, "") if task.fate is not Fate.PLAIN else ""
    if more and not note:
        note = f"and {counted(more, 'time', 'times')} more after that"
    return pages.DateLine(
        step.title if step else task.step,
        when,
        line(stretch, task.opens, task.closes, bests, task.done),
        note,
        task.fate in TROUBLE,
    )


def _stretch(tasks: Sequence[Task], today: date) -> Stretch:
    """From the first month to the last of what is shown, whole months, five years at most."""
    days = [day for task in tasks for day in (task.opens, task.closes) if day is not None]
    first = date.fromordinal(min(days, default=today.toordinal())).replace(day=1)
    last = date.fromordinal(min(max(days, default=today.toordinal()), first.toordinal() + 5 * 365))
    after = date(last.year + last.month // 12, last.month % 12 + 1, 1)
    return Stretch(first.toordinal(), after.toordinal() - 1, today.toordinal())


def _months(stretch: Stretch) -> tuple[tuple[float, str], ...]:
    first, last = date.fromordinal(stretch.first), date.fromordinal(stretch.last)
    count = (last.year - first.year) * 12 + last.month - first.month + 1
    every = next((n for n in (1, 2, 3, 4, 6, 12) if count / n <= 7), 24)
    marks = []
    for index in range(first.year * 12 + first.month - 1, first.year * 12 + first.month - 1 + count, every):
        on = date(index // 12, index % 12 + 1, 1)
        name = MONTHS[on.month - 1][:3]
        marks.append((at(stretch, on.toordinal()), name if every < 12 and on.month > every else f"{name} {on.year}"))
    return tuple(marks)


def _more(every: int, shown: int, looked: Looked) -> str:
    parts: list[str] = []
    if every > shown:
        parts.append(f"{counted(every, 'job')} in all over the next three years.")
    parts += [f"And a round, every {one.at}, from {said(one.first)}." for one in looked.laid.standing]
    parts += work_words(looked.work)
    return " ".join(parts)


def _lack(sheet: Sheet, step: str, fact: str, reason: str) -> str:
    known = told.step_of(sheet, step)
    ask = sheet.facts.get(fact)
    title = known.title if known else step
    if ask is not None:
        return f"‘{title}’ can’t be dated until ‘{told.label(ask)}’ is said."
    return f"‘{title}’ can’t be dated: {reason or fact}"
