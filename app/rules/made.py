"""Entries that tasks make: derived from ticks (or, before those, from plans), never stored, gone with an undo."""

from collections.abc import Iterable, Mapping

from app.rules.bars import Bars
from app.rules.facts import Amendment, Entry
from app.rules.keys import key as key_of
from app.rules.keys import made_id
from app.rules.moment import Given
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Make, Step
from app.rules.tasks import Fate, Task
from app.rules.terms import Value
from app.rules.ticks import Word

_GENERATIONS = 24
"""A stop for a sheet that makes an entry of itself on its own day."""

_NEVER = (Fate.LET_GO, Fate.LOST, Fate.PASSED_OVER, Fate.UNLAWFUL)


def made_entries(
    entry: Entry,
    sheet: Sheet,
    tasks: Iterable[Task],
    words: Mapping[str, Word],
    bars: Bars,
    amendments: Mapping[str, Amendment],
    until: Day,
) -> list[Entry]:
    """The entries that the tasks of one entry make, as amended by the household.

    Sure once the maker is ticked. A tick inside a bar of law makes nothing to eat or sell.
    """
    if entry.id.count("+") >= _GENERATIONS:
        return []
    makers = {step.id: step for step in sheet.steps if any(make.kind == "entry" for make in step.makes)}
    if not makers:
        return []
    found = []
    for task in tasks:
        step = makers.get(task.step)
        day = task.done if task.done is not None else task.best
        if step is None or day is None or day > until or _makes_nothing(entry, sheet, step, task, bars):
            continue
        made = [_made(entry, make, task, day, words) for make in step.makes if make.kind == "entry"]
        found += [amended(one, amendments) for one in made]
    return found


def _makes_nothing(entry: Entry, sheet: Sheet, step: Step, task: Task, bars: Bars) -> bool:
    if task.done is None:
        return task.fate in _NEVER or (task.fate is Fate.BARRED and task.opens == task.closes)
    held = bars.on(step.act, entry, sheet.species, task.done) if step.act else []
    return any(bar.kind == "law" for bar in held)


def _made(entry: Entry, make: Make, task: Task, day: Day, words: Mapping[str, Word]) -> Entry:
    sure = entry.sure and task.done is not None
    facts: dict[str, Value] = {"date": day, **(make.otherwise or {})}
    for name, given in (make.facts or {}).items():
        value = _value(given, entry, task, words)
        if value is not None:
            facts[name] = value
    name = f"{make.name} from {entry.name}" if entry.name else make.name
    # Once it is here, what should have been done before is not owed; until then (room in the freezer) it is.
    told = day if task.done is not None else min(entry.told, day)
    return Entry(
        made_id(task.key, make.name),
        make.sheet,
        name,
        facts,
        told,
        make.where or entry.place,
        made_by=task.key,
        sure=sure,
    )


def _value(given: Given, entry: Entry, task: Task, words: Mapping[str, Word]) -> Value | None:
    if given.of == "value":
        return given.value if isinstance(given.value, int | float | str | bool) else None
    if given.of == "fact":
        return entry.facts.get(given.name)
    # The measure of a step in the maker's own cycle, or in one of the cycles around it.
    for depth in range(len(task.label), -1, -1):
        word = words.get(key_of(entry.id, given.step, task.label[:depth]))
        if word is not None and word.done is not None:
            return word.measures.get(given.name)
    return None


def amended(entry: Entry, amendments: Mapping[str, Amendment]) -> Entry:
    """An entry with what the household added to it."""
    more = amendments.get(entry.id)
    if more is None:
        return entry
    return entry._replace(
        facts={**entry.facts, **more.facts},
        name=more.name or entry.name,
        place=more.place or entry.place,
        ends=more.ends if more.ends is not None else entry.ends,
        struck=more.struck or entry.struck,
    )


def with_defaults(entry: Entry, sheet: Sheet) -> Entry:
    """An entry with the sheet's defaults for what was not said.

    Source: the sheet's own ``else`` figures.
    """
    missing = {
        name: ask.default for name, ask in sheet.facts.items() if ask.default is not None and name not in entry.facts
    }
    return entry._replace(facts={**missing, **entry.facts}) if missing else entry
