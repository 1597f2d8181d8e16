"""What each crop has given: kilos by week, from what was weighed, against what its rows were to give."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.rules.facts import Entry, Way
from app.rules.keys import split_key
from app.rules.own import ways_of, yield_percent
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Fate, Laid, Task
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.garden.sowing_time import harvests
from app.services.garden.stands import number, said_or_usual
from app.services.remembered import weighed
from app.trade.garden.sowing import expected_kg, row_of_m

GONE = frozenset({Fate.LOST, Fate.PASSED_OVER, Fate.LET_GO, Fate.NO_ROOM, Fate.UNLAWFUL})


class Tally(NamedTuple):
    """A crop's year: ``kg`` picked, ``expected`` (None where no yield is known), and by weeks from their Mondays."""

    sheet: Sheet
    kg: float
    expected_kg: float | None
    weeks: tuple[tuple[Day, float], ...]


def tallies(book: Book, session: Session, year: int, today: Day) -> list[Tally]:
    """The crops of which something was weighed or is to be expected in a calendar year, by title.

    Raises: MissingFact while the first run is not done.
    """
    ways = store.own_ways(session)
    by_sheet: dict[str, list[Laid]] = {}
    for laid in list(book.live(session, today).laid.values()):
        sheet = book.library.sheets.get(laid.entry.sheet)
        if sheet is not None and sheet.trade == "garden" and sheet.crop is not None and not laid.entry.struck:
            by_sheet.setdefault(sheet.id, []).append(laid)
    found = []
    for name, some in by_sheet.items():
        sheet = book.library.sheets[name]
        weeks = _weeks(session, sheet, [one.entry.id for one in some], year)
        wanted = [expected_of(one, sheet, ways, year) for one in some if one.entry.sure]
        known = [one for one in wanted if one is not None]
        total = sum(known) if known else None
        if weeks or total:
            found.append(Tally(sheet, sum(kg for _, kg in weeks), total, tuple(weeks)))
    return sorted(found, key=lambda one: one.sheet.title.casefold())


def _weeks(session: Session, sheet: Sheet, entries: Sequence[str], year: int) -> list[tuple[Day, float]]:
    """What was weighed at its harvests, by the Monday of each week."""
    steps = {name for step in harvests(sheet) for name in (step.id, *step.was)}
    found: dict[Day, float] = {}
    for tick in in_force(store.ticks(session, entries)):
        on = date.fromordinal(tick.on)
        if tick.kind == "done" and split_key(tick.key).step in steps and on.year == year and (kg := weighed(tick)):
            monday = tick.on - on.weekday()
            found[monday] = found.get(monday, 0.0) + kg
    return sorted(found.items())


def expected_of(laid: Laid, sheet: Sheet, ways: Iterable[Way], year: int) -> float | None:
    """What an entry’s rows are to give in a year, kg; None where yield or row is not known, or no harvest falls in it.

    ``L * kilos a metre``, for each of its sowings, by this holding's own yield. Source: the crop's figures.
    """
    crop = sheet.crop
    row_m = row_m_of(laid.entry, sheet)
    if crop is None or crop.yields is None or not crop.yields.kg_a_m or not row_m:
        return None
    steps = {step.id for step in harvests(sheet)}
    if not any(task.step in steps and task.fate not in GONE and _year(task) == year for task in laid.tasks):
        return None
    sown = [task for task in laid.tasks if task.step == "sow" and task.label and task.fate not in GONE]
    turns = sum(1 for task in sown if _year(task) == year) or 1
    own = yield_percent(ways_of(laid.entry, ways))
    return expected_kg(row_m * turns, crop.yields.kg_a_m, own)


def row_m_of(entry: Entry, sheet: Sheet) -> float:
    """An entry's metres of row: as said, else by its plants and their spacing; 0 where neither is known."""
    whole = said_or_usual(entry, sheet)
    row_m, plants = number(whole, "row_m"), number(whole, "plants", "sets", "cloves")
    spacing = sheet.crop.spacing if sheet.crop is not None else None
    if row_m or not plants or spacing is None or not spacing.plant_cm:
        return row_m
    return row_of_m(plants, spacing.plant_cm)


def _year(task: Task) -> int:
    day = task.done if task.done is not None else task.best
    return date.fromordinal(day).year if day is not None else 0
