"""The table: what is growing, picked, kept and eaten through the year ahead, and the weeks with little of any."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.rules.crop import Crop
from app.rules.facts import Entry, Way
from app.rules.live import Live
from app.rules.plan import Planner
from app.rules.sheet import Sheet
from app.rules.spans import Day, length_in_days
from app.rules.tasks import Laid, Task
from app.services.book import Book
from app.services.garden.sowing_time import harvests, sowing_time
from app.services.garden.stands import BEGINS, crop_word
from app.services.garden.tallies import GONE, expected_of
from app.services.larder.batch_days import taken_as_eaten
from app.services.larder.lots import Lot, lots
from app.services.what_there_is import is_over
from app.sheets.garden_tables import need_of
from app.trade.garden.sowing import expected_kg, row_of_m

FRESH_DAYS = 31
"""What keeps no longer is eaten fresh."""
LEAST_FRESH, LEAST_IN_ALL = 2, 3
"""A week has little when fewer crops than these are picked, and fewer than those are picked or in store."""
LEAST_GAP_WEEKS = 2
MOST_TO_SOW = 6
OVERLAP_DAYS = 7

Stretch = tuple[Day, Day]
"""Days, both ends inclusive."""


class Store(NamedTuple):
    """What lies in store from a day until it no longer keeps; ``lasts`` is the day on which it is eaten up."""

    first: Day
    last: Day
    lasts: Day


class CropYear(NamedTuple):
    """A crop's year: when it stands, is picked, is in store.

    ``expected_kg`` and ``need_kg`` (of all mouths in a year) are None where no figure says so.
    """

    sheet: Sheet
    name: str
    entries: tuple[str, ...]
    growing: tuple[Stretch, ...]
    picked: tuple[Stretch, ...]
    kept: tuple[Store, ...]
    expected_kg: float | None
    need_kg: float | None


class Sow(NamedTuple):
    """What can still be sown against a gap: from when, by when, and when it is then picked."""

    sheet: Sheet
    since: Day
    by: Day
    first: Day
    last: Day


class Gap(NamedTuple):
    """Weeks with little to eat."""

    first: Day
    last: Day
    sow: tuple[Sow, ...]


class Table(NamedTuple):
    """The year ahead from the first of this month."""

    first: Day
    last: Day
    crops: tuple[CropYear, ...]
    gaps: tuple[Gap, ...]


def table(book: Book, session: Session, today: Day) -> Table:
    """The table of the year ahead.

    Raises: MissingFact while the first run is not done.
    """
    on = date.fromordinal(today)
    first = on.replace(day=1).toordinal()
    last = date(on.year + 1, on.month, 1).toordinal() - 1
    live = book.live(session, today)
    mouths = book.holding(session).mouths
    made = lots(book, session, today, "lot")
    ways = store.own_ways(session)
    crops = []
    for sheet, some in _by_sheet(book, live, today):
        one = _crop_year(sheet, some, live.planner, _Eaten(mouths, ways, made, today), (first, last))
        if one.growing or one.picked or one.kept:
            crops.append(one)
    crops.sort(key=lambda one: one.name.casefold())
    gaps = tuple(_with_advice(book, live, gap, today) for gap in gaps_of(crops, today, last)) if crops else ()
    return Table(first, last, tuple(crops), gaps)


def _by_sheet(book: Book, live: Live, today: Day) -> list[tuple[Sheet, list[Laid]]]:
    """What stands here now or is to come, by crop."""
    found: dict[str, list[Laid]] = {}
    for laid in list(live.laid.values()):
        entry, sheet = laid.entry, book.library.sheets.get(laid.entry.sheet)
        crop = sheet is not None and sheet.trade == "garden" and sheet.crop is not None
        if crop and entry.sure and not is_over(entry, today):
            found.setdefault(entry.sheet, []).append(laid)
    return [(book.library.sheets[name], some) for name, some in found.items()]


# ── A crop's year ─────────────────────────────────────────────────────────────────────────────────────────────────


class _Eaten(NamedTuple):
    """What is needed to say how long a store lasts."""

    mouths: float
    ways: Sequence[Way]
    made: Sequence[Lot]
    today: Day


def _crop_year(sheet: Sheet, some: Sequence[Laid], planner: Planner, eaten: _Eaten, year: Stretch) -> CropYear:
    growing, picked, kept = [], [], []
    for laid in some:
        mine = planner.sheet_of(laid.entry) or sheet
        growing += _growing(laid, mine, year)
        fresh, store_of = harvest_of(laid, mine, eaten.today)
        picked += fresh
        kept += store_of
    stock = [
        one for one in eaten.made
        if one.sheet == sheet.id and not one.over
        and not taken_as_eaten(one, one.keeps_until, sheet.trade, eaten.today)
    ]  # fmt: skip
    kept += [
        (one.made_on, one.keeps_until) for one in stock
        if one.keeps_until is not None and one.keeps_until - one.made_on > FRESH_DAYS
    ]  # fmt: skip
    years = {date.fromordinal(day).year for day in year}
    expected = [max(expected_of(one, sheet, eaten.ways, each) or 0.0 for each in years) for one in some]
    known = [one for one in expected if one]
    need = _need_kg(sheet, eaten.mouths)
    total = sum(known) if known else None
    weighed = sum(one.left or 0.0 for one in stock if one.unit == "kg")
    return CropYear(
        sheet, crop_word(sheet), tuple(one.entry.id for one in some), merged(growing, year), merged(picked, year),
        tuple(_stores(merged(kept, year), weighed, total, need, eaten.today)), total, need,
    )  # fmt: skip


def _growing(laid: Laid, sheet: Sheet, year: Stretch) -> list[Stretch]:
    """From its first sowing or planting to its last job; a perennial's for good."""
    acts = {step.id for step in sheet.steps if step.act in BEGINS}
    began = [day for task in laid.tasks if task.step in acts and task.fate not in GONE and (day := _day(task))]
    if not began:
        return []
    if sheet.crop is not None and sheet.crop.life == "perennial":
        return [(min(began), year[1])]
    ground = {step.id for step in harvests(sheet)} | acts | {step.id for step in sheet.steps if step.id == "clear"}
    days = [day for task in laid.tasks if task.step in ground and task.fate not in GONE and (day := _day(task))]
    return [(min(began), max(days))]


def harvest_of(laid: Laid, sheet: Sheet, today: Day) -> tuple[list[Stretch], list[Stretch]]:
    """When an entry is picked for eating fresh, and when what it gives lies in store, by its sheet.

    What a doing has put into store is among the lots, and not here.
    """
    makes = {step.id: step for step in harvests(sheet)}
    fresh: list[Stretch] = []
    kept: list[Stretch] = []
    for task in laid.tasks:
        day, step = _day(task), makes.get(task.step)
        if step is None or day is None or task.fate in GONE:
            continue
        keeps = max((length_in_days(make.keeps) for make in step.makes if make.keeps is not None), default=0)
        if keeps > FRESH_DAYS and task.done is None:
            kept.append((day, day + keeps))
        elif keeps <= FRESH_DAYS:
            fresh.append((day, day + max(keeps, 7) if task.done is not None else max(task.closes or day, day + keeps)))
    return fresh, kept


def _day(task: Task) -> Day | None:
    return task.done if task.done is not None else task.best


def merged(stretches: Iterable[Stretch], year: Stretch) -> tuple[Stretch, ...]:
    """Stretches cut to the year, those that meet within a week joined."""
    found: list[Stretch] = []
    for first, last in sorted(stretches):
        first, last = max(first, year[0]), min(last, year[1])
        if last < first:
            continue
        if found and first <= found[-1][1] + 8:
            found[-1] = (found[-1][0], max(found[-1][1], last))
        else:
            found.append((first, last))
    return tuple(found)


def _need_kg(sheet: Sheet, mouths: float) -> float | None:
    """What so many mouths eat of a crop in a year, kg: the mean appetite's row at the sheet's yield."""
    need, crop = need_of(sheet), sheet.crop
    if need is None or crop is None or crop.yields is None or not crop.yields.kg_a_m or mouths <= 0:
        return None
    each = (sum(need.fresh) + sum(need.stored)) / 2
    if need.unit == "plants":
        if crop.spacing is None or not crop.spacing.plant_cm or not each:
            return None
        each = row_of_m(each, crop.spacing.plant_cm)
    return expected_kg(mouths * each, crop.yields.kg_a_m)


def _stores(
    kept: Sequence[Stretch], weighed_kg: float, expected_kg: float | None, need_kg: float | None, today: Day
) -> Iterator[Store]:
    """Each store with the day until when it lasts, eaten evenly through the year: never longer than it keeps.

    What lies there now counts by what was weighed, what is to come by what is expected.
    """
    for first, last in kept:
        kg = weighed_kg if first <= today and weighed_kg else expected_kg
        lasts = max(first, today) + int(kg / need_kg * 365) if kg and need_kg else last
        yield Store(first, last, min(last, lasts))


# ── The hungry gap ────────────────────────────────────────────────────────────────────────────────────────────────


def gaps_of(crops: Sequence[CropYear], today: Day, last: Day) -> list[Stretch]:
    """The stretches of two weeks or more with little to pick and little in store of what a person lives on.

    Source: none; the figures stand above, and on the page.
    """
    found: list[Stretch] = []
    crops = [one for one in crops if need_of(one.sheet) is not None]  # chillies feed nobody
    for week in range(today, last + 1, 7):
        end = min(week + 6, last)
        fresh = sum(any(first <= end and until >= week for first, until in one.picked) for one in crops)
        kept = sum(any(store.first <= end and store.lasts >= week for store in one.kept) for one in crops)
        if fresh >= LEAST_FRESH or fresh + kept >= LEAST_IN_ALL:
            continue
        if found and found[-1][1] == week - 1:
            found[-1] = (found[-1][0], end)
        else:
            found.append((week, end))
    return [(first, until) for first, until in found if until - first >= 7 * LEAST_GAP_WEEKS - 1]


def _with_advice(book: Book, live: Live, gap: Stretch, today: Day) -> Gap:
    """What can still be sown so that it is picked, or in store, within a gap; the soonest to be picked first."""
    found = []
    for sheet in book.library.sheets.values():
        crop = sheet.crop
        if crop is None or need_of(sheet) is None or not _may_fill(crop, live, gap, today):
            continue
        one = _fills(live, sheet, crop, gap, today)
        if one is not None:
            found.append(one)
    found.sort(key=lambda one: (one.first, one.by, one.sheet.title))
    return Gap(gap[0], gap[1], tuple(found[:MOST_TO_SOW]))


def _may_fill(crop: Crop, live: Live, gap: Stretch, today: Day) -> bool:
    """Whether by its days to maturity it could; the planner is asked only of these."""
    time = sowing_time(live.planner.almanac, crop, today)
    if time is None or crop.growth is None or not crop.growth.low_days or crop.life == "perennial":
        return False
    first = max(today, time.first)
    return first <= time.last and first + crop.growth.low_days <= gap[1]


def _fills(live: Live, sheet: Sheet, crop: Crop, gap: Stretch, today: Day) -> Sow | None:
    """Of a few sowings in the crop's time those that are picked in the gap, from the first to the last."""
    time = sowing_time(live.planner.almanac, crop, today)
    if time is None:
        return None
    first, last = max(today, time.first), time.last
    found: list[tuple[Day, Stretch]] = []
    for on in dict.fromkeys((first, (first + last) // 2, last)):
        entry = Entry("", sheet.id, "", {"date": on}, on)
        laid = live.planner.plan([entry], [], [], min(today, on), on + 500).laid[""]
        fresh, kept = harvest_of(laid, sheet, today)
        met = [one for one in (*fresh, *kept) if one[0] <= gap[1] - OVERLAP_DAYS and one[1] >= gap[0] + OVERLAP_DAYS]
        found += [(on, (max(gap[0], met[0][0]), max(until for _, until in met)))] if met else []
    if not found:
        return None
    return Sow(sheet, found[0][0], found[-1][0], found[0][1][0], found[-1][1][1])
