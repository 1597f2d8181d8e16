"""Lines that are kept by their seed: generations that stand at once, sowings of old seed, rows that did not come up."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.rules.facts import Entry
from app.rules.live import Live
from app.rules.sheet import Sheet
from app.rules.spans import Day, length_in_days
from app.rules.step import Step
from app.rules.tasks import Fate, Laid, Task
from app.services.book import Book
from app.services.larder.lots import Lot, lots, words_of
from app.trade.garden.germination import resow_after_days

SHORT_LIVED_DAYS = 740
"""Seed that lives no longer must be saved every year or every other."""
SLACK_DAYS = 42
LOOKED_FOR_DAYS = 100
GAPS_DAYS = 28
_GONE = frozenset({Fate.LOST, Fate.PASSED_OVER, Fate.LET_GO, Fate.NO_ROOM})


class Generation(NamedTuple):
    """One sowing of a line: sown, in flower and its seed in the tin on these days, planned or done."""

    entry: str
    name: str
    sown: Day
    flowers: Day | None
    seed: Day


class Line(NamedTuple):
    """A short-lived line: its generations by the day they were sown, and when the next must be sown.

    ``life_days`` is how long its seed lives; ``standing`` how many generations are in the ground today; ``sow_by``
    None when the next is planned already; ``late`` when that day is past.
    """

    what: str
    life_days: int
    generations: tuple[Generation, ...]
    standing: int
    sow_by: Day | None
    late: bool


class Stale(NamedTuple):
    """A sowing for which the tin holds no seed young enough: the newest lot was to be sown by ``sow_by``."""

    what: str
    entry: str
    name: str
    on: Day
    made_on: Day
    sow_by: Day


class NotUp(NamedTuple):
    """A row that should be up: sown on a day, and not up after twice the days it should take; or up with ``gaps``."""

    key: str
    name: str
    what: str
    sown: Day
    waited_days: int
    still: bool  # whether there is time to sow again
    gaps: bool = False


# ── Generations ───────────────────────────────────────────────────────────────────────────────────────────────────


def lines(book: Book, session: Session, today: Day) -> tuple[Line, ...]:
    """The short-lived lines that are kept, each with the generations that stand.

    Raises: MissingFact while the first run is not done.
    """
    live = book.live(session, today)
    found: dict[str, tuple[int, list[Generation]]] = {}
    for laid in list(live.laid.values()):
        sheet = live.planner.sheet_of(laid.entry)
        made = _short_lived(sheet)
        if sheet is None or made is None or laid.entry.struck:
            continue
        step, what, life = made
        one = _generation(laid, sheet, step)
        if one is not None:
            found.setdefault(what, (life, []))[1].append(one)
    return tuple(_line(what, life, some, today) for what, (life, some) in sorted(found.items()))


def _short_lived(sheet: Sheet | None) -> tuple[Step, str, int] | None:
    """The step that makes short-lived seed, what it is called, and how long it lives."""
    if sheet is None or sheet.trade != "garden":
        return None
    for step in sheet.steps:
        for make in step.makes:
            short = make.keeps is not None and length_in_days(make.keeps) <= SHORT_LIVED_DAYS
            if make.kind == "seed" and make.name.endswith(" seed") and make.keeps is not None and short:
                return step, make.name, length_in_days(make.keeps)
    return None


def _generation(laid: Laid, sheet: Sheet, step: Step) -> Generation | None:
    """One sowing that will give seed in a later year than its own; None where it will not."""
    acts = {one.id: one.act for one in sheet.steps}
    days = {task.step: day for task in laid.tasks if task.fate not in _GONE and (day := _day(task)) is not None}
    sown, seed = days.get(sheet.begins), days.get(step.id)
    flowers = min((day for name, day in days.items() if acts.get(name) == "flower"), default=None)
    if sown is None or seed is None or seed - sown < 300:
        return None
    return Generation(laid.entry.id, laid.entry.name, sown, flowers, seed)


def _line(what: str, life: int, some: list[Generation], today: Day) -> Line:
    some.sort(key=lambda one: (one.sown, one.entry))
    due = some[-1].sown + 365 + SLACK_DAYS
    planned = some[-1].sown > today
    standing = sum(one.sown <= today <= one.seed for one in some)
    recent = tuple(one for one in some if one.seed >= today - 366)
    return Line(what, life, recent, standing, None if planned else due, not planned and due < today)


def _day(task: Task) -> Day | None:
    return task.done if task.done is not None else task.best


# ── Sowing old seed ───────────────────────────────────────────────────────────────────────────────────────────────


def stale(book: Book, session: Session, today: Day, some: Iterable[Laid] | None = None) -> tuple[Stale, ...]:
    """The sowings to come (of ``some`` entries, else of all) whose seed in the tin will be past its day.

    Where the tin holds none of that seed nothing is said: it is bought, or was never put down.
    Raises: MissingFact while the first run is not done.
    """
    kept = [one for one in lots(book, session, today, "seed") if not one.over]
    live = book.live(session, today)
    found: dict[tuple[str, str], Stale] = {}
    for laid in list(live.laid.values()) if some is None else some:
        sheet = live.planner.sheet_of(laid.entry)
        if sheet is not None and not laid.entry.struck:
            for one in _stale_of(laid, sheet, kept, today):
                found.setdefault((one.what, one.entry), one)
    return tuple(sorted(found.values(), key=lambda one: (one.on, one.name)))


def _stale_of(laid: Laid, sheet: Sheet, kept: Sequence[Lot], today: Day) -> list[Stale]:
    uses = {step.id: [use.what for use in step.uses] for step in sheet.steps if step.uses}
    found = []
    for task in laid.tasks:
        day = _day(task)
        if day is None or task.fate in _GONE or (task.done is not None and task.done < today):
            continue
        for what in uses.get(task.step, ()):
            old = too_old(kept, what, day)
            if old is not None and old.keeps_until is not None:
                found.append(Stale(what, laid.entry.id, laid.entry.name, day, old.made_on, old.keeps_until))
    return found


def too_old(kept: Sequence[Lot], what: str, on: Day) -> Lot | None:
    """The lot that lasts longest of a kind of seed, where even that one is past its day on ``on``; else None."""
    some = [one for one in kept if one.what == what]
    if not some or any(one.keeps_until is None or one.keeps_until >= on for one in some):
        return None
    return max(some, key=lambda one: one.keeps_until or 0)


def warnings(book: Book, session: Session, laid: Laid, today: Day) -> tuple[str, ...]:
    """What must be said before an entry is put down: seed that is past its day, and F1 kinds kept for seed.

    Raises: MissingFact while the first run is not done.
    """
    found = [says(one) for one in stale(book, session, today, [laid])]
    return tuple(dict.fromkeys([*found, f1_says(laid.entry)] if f1_says(laid.entry) else found))


def says(one: Stale) -> str:
    """A stale sowing in a sentence."""
    return (
        f"The newest {one.what} in the tin, of {_said(one.made_on)}, was to be sown by {_said(one.sow_by)}; on "
        f"{_said(one.on)} it is past that. Try twenty on damp paper first, sow it thicker, or find fresher seed."
    )


def _said(day: Day) -> str:
    on = date.fromordinal(day)
    return f"{on.day}\u00a0{on:%B}\u00a0{on.year}"


def f1_says(entry: Entry) -> str:
    """What must be said of an F1 kind whose seed is to be kept; "" where it is none."""
    if entry.facts.get("f1") is not True or entry.facts.get("seed") is not True:
        return ""
    return (
        "This is an F1 kind: its seed comes up mixed, and little of it like the parents. It is yours to keep and to "
        "try; for a line that stays true, sow a kind that is not F1."
    )


# ── Rows that did not come up ─────────────────────────────────────────────────────────────────────────────────────


def not_up(book: Book, session: Session, today: Day) -> tuple[NotUp, ...]:
    """The rows sown twice as long ago as their seed should have taken, where nobody has said that they are up.

    Raises: MissingFact while the first run is not done.
    """
    live = book.live(session, today)
    found = []
    for laid in list(live.laid.values()):
        sheet = live.planner.sheet_of(laid.entry)
        if sheet is None or sheet.trade != "garden" or laid.entry.struck:
            continue
        tasks = {(task.step, task.label): task for task in laid.tasks}
        for (step, label), up in tasks.items():
            sown = (
                tasks.get((sheet.begins, label))
                or tasks.get((sheet.begins, label[:1]))
                or tasks.get((sheet.begins, ()))
            )
            if step == "up" and sown is not None and sown.done is not None:
                found += _gaps(live, laid, sheet, sown, up, today) if up.done is not None else []
                found += _not_up(laid, sheet, sown, up, today) if up.done is None else []
    return tuple(sorted(found, key=lambda one: (one.sown, one.name)))


def _gaps(live: Live, laid: Laid, sheet: Sheet, sown: Task, up: Task, today: Day) -> list[NotUp]:
    """A row that was looked at lately and had gaps."""
    if sown.done is None or up.done is None or today > up.done + GAPS_DAYS:
        return []
    word = words_of(live.facts.ticks.get(laid.entry.id, ()), laid.entry.id, sheet).get(up.key)
    if word is None or word.measures.get("gaps") is not True:
        return []
    return [_row(laid, sheet, sown, up, today)._replace(gaps=True)]


def _row(laid: Laid, sheet: Sheet, sown: Task, up: Task, today: Day) -> NotUp:
    what = next((use.what for step in sheet.steps if step.id == sown.step for use in step.uses), "seed")
    on = sown.done or 0
    return NotUp(up.key, laid.entry.name, what, on, today - on, sown.closes is not None and today <= sown.closes)


def _not_up(laid: Laid, sheet: Sheet, sown: Task, up: Task, today: Day) -> list[NotUp]:
    if sown.done is None or up.best is None or up.fate in _GONE - {Fate.PASSED_OVER}:
        return []
    waited = today - sown.done
    limit = resow_after_days(up.best - sown.done)
    if waited <= limit or waited > limit + LOOKED_FOR_DAYS:
        return []
    return [_row(laid, sheet, sown, up, today)]
