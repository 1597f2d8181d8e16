"""What was said before comes back when it is of use: at the same job of a later year, with what came of it."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import Told
from app.rules.facts import Entry, Tick
from app.rules.keys import Key, split_key
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.step import Step
from app.rules.tasks import Laid
from app.rules.terms import Value
from app.rules.ticks import in_force
from app.services.book import Book

MOST = 6
LATER_DAYS = 150
"""What was said so long ago, or longer, was said in a former season."""
REACH_DAYS = 420
"""What came of a thing within so many days is put down to it."""


class Remembered(NamedTuple):
    """What was said: on which day, of which entry, with which answers; and what came of it.

    ``kg`` is what was weighed after it in the same cycle, None for nothing; else ``then`` is the next doing of the
    entry that says something, with its step. ``step`` is None for an entry's own note.
    """

    on: Day
    entry: Entry
    step: Step | None
    key: str
    text: str
    measures: Mapping[str, Value]
    let_go: bool
    kg: float | None
    then: Tick | None
    then_step: Step | None
    then_text: str


def remembered_at(book: Book, session: Session, key: str, sheet: Sheet, step: Step, before: Day) -> list[Remembered]:
    """What was said at the same step of this sheet in seasons before a day, the latest first; ``key`` is this job's.

    With the first step of the sheet, the notes of earlier entries too. Source: none; remarks and ticks as they stand.
    """
    mine = split_key(key).entry
    found = _said(book, session, sheet, before, {step.id, *step.was})
    if sheet.begins == step.id or sheet.order[:1] == (step.id,):
        found += _notes(book, session, sheet, before, mine)
    return _latest(one for one in found if one.key != key)


def remembered_of(book: Book, session: Session, sheet: Sheet, before: Day) -> list[Remembered]:
    """What was said at any step of a sheet in seasons before a day, and the notes of its entries: for a new one."""
    return _latest([*_said(book, session, sheet, before, None), *_notes(book, session, sheet, before)])


def _latest(found: Iterable[Remembered]) -> list[Remembered]:
    return sorted(found, key=lambda one: (-one.on, one.key))[:MOST]


def _of_sheet(book: Book, session: Session, sheet: Sheet) -> dict[str, Laid]:
    """Its entries, those that are over and those struck out among them: what was said of them was said."""
    live = book.live(session, book.today().toordinal())
    return {name: laid for name, laid in list(live.laid.items()) if laid.entry.sheet == sheet.id}


def _said(book: Book, session: Session, sheet: Sheet, before: Day, steps: set[str] | None) -> list[Remembered]:
    laid = _of_sheet(book, session, sheet)
    spoken = [one for one in store.remarked(session, list(laid)) if one.tick.on <= before - LATER_DAYS]
    if not spoken:
        return []
    names = {name for each in sheet.steps for name in (each.id, *each.was)}
    wanted = names if steps is None else steps
    ticks = _standing(session, {split_key(one.tick.key).entry for one in spoken})
    words = {one.tick.id: one for one in spoken}
    holding = {tick.id for some in ticks.values() for tick in some}
    return [
        _remembered(laid[part.entry].entry, sheet, one, part, ticks[part.entry], words)
        for one in spoken
        if one.tick.id in holding and (part := split_key(one.tick.key)).step in wanted
    ]


def _standing(session: Session, entries: set[str]) -> dict[str, list[Tick]]:
    """What holds of all that was said of some entries, by entry, in order of days."""
    found: dict[str, list[Tick]] = {name: [] for name in entries}
    for tick in store.ticks(session, list(entries)):
        found[split_key(tick.key).entry].append(tick)
    return {name: sorted(in_force(some), key=lambda tick: (tick.on, tick.at)) for name, some in found.items()}


def _remembered(
    entry: Entry, sheet: Sheet, one: Told, part: Key, ticks: Sequence[Tick], words: Mapping[str, Told]
) -> Remembered:
    tick = one.tick
    after = [
        other for other in ticks if other.kind == "done" and tick.on <= other.on <= tick.on + REACH_DAYS
        and other.id != tick.id and _same_cycle(split_key(other.key).label, part.label)
    ]  # fmt: skip
    kg = sum(weighed(other) for other in after)
    then = next((other for other in after if other.measures or _text(words.get(other.id))), None) if not kg else None
    return Remembered(
        tick.on, entry, _step(sheet, part.step), tick.key, _text(one), tick.measures, tick.kind == "let go",
        kg or None, then, _step(sheet, split_key(then.key).step) if then else None,
        _text(words.get(then.id)) if then else "",
    )  # fmt: skip


def _notes(book: Book, session: Session, sheet: Sheet, before: Day, without: str = "") -> list[Remembered]:
    """The notes of earlier entries, with all that was weighed of each."""
    laid = _of_sheet(book, session, sheet)
    notes = store.entry_notes(session, [name for name in laid if name != without])
    ticks = _standing(session, set(notes))
    found = []
    for name, note in notes.items():
        entry = laid[name].entry
        on = entry.facts.get("date")
        if isinstance(on, int) and on <= before - LATER_DAYS:
            kg = sum(weighed(tick) for tick in ticks[name] if tick.kind == "done")
            found.append(Remembered(on, entry, None, "", note, {}, False, kg or None, None, None, ""))
    return found


def weighed(tick: Tick) -> float:
    """What a doing weighed, kg; nothing when it was not weighed."""
    kg = tick.measures.get("kg")
    return float(kg) if isinstance(kg, int | float) and not isinstance(kg, bool) else 0.0


def _same_cycle(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    short = min(len(one), len(other))
    return one[:short] == other[:short]


def _text(one: Told | None) -> str:
    return " ".join(part for part in (one.reason, one.remark) if part) if one is not None else ""


def _step(sheet: Sheet, name: str) -> Step | None:
    return next((each for each in sheet.steps if name in (each.id, *each.was)), None)


def year_of(one: Remembered) -> int:
    """The year in which it was said."""
    return date.fromordinal(one.on).year
