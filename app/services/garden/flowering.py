"""What flowers when, here and next door, and what of it would cross with what is kept for seed."""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.records.store import NearbyRow
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Fate, Laid, Task
from app.services.book import Book
from app.trade.garden.crossing import Meeting, Stand, meetings, species_of

AHEAD_DAYS = 550
FRUITING = frozenset({"Cucurbitaceae", "Solanaceae", "Fabaceae", "Poaceae"})
"""Families of which the fruit is eaten: they flower whether seed is kept or not."""
FLOWERS_BEFORE_DAYS = 56
UNKNOWN_APART_M = 1000.0
"""How far apart a crop is wished while its sheet does not say: the widest that is usual in gardens."""
_GONE = frozenset({Fate.LOST, Fate.PASSED_OVER, Fate.LET_GO, Fate.NO_ROOM})


Meets = Meeting
"""What would cross, as the pages tell it."""


class Flowering(NamedTuple):
    """An entry in flower: its days, and, where its seed is kept, how far off another must be."""

    entry: str
    name: str
    species: str
    first: Day
    last: Day
    for_seed: bool
    apart_m: float
    apart_known: bool


class Neighbour(NamedTuple):
    """What flowers next door."""

    id: int
    species: str
    what: str
    distance_m: float
    first: Day | None
    last: Day | None
    note: str


class Crossing(NamedTuple):
    """All that flowers, what flowers next door, and for each entry kept for seed what it would cross with."""

    flowers: tuple[Flowering, ...]
    neighbours: tuple[Neighbour, ...]
    meetings: Mapping[str, tuple[Meeting, ...]]


def crossing(book: Book, session: Session, today: Day) -> Crossing:
    """What will flower over the next year and a half, and what would cross.

    Raises: MissingFact while the first run is not done.
    """
    live = book.live(session, today)
    flowers = []
    for laid in list(live.laid.values()):
        sheet = live.planner.sheet_of(laid.entry)
        one = _flowering(laid, sheet) if sheet is not None and not laid.entry.struck else None
        if one is not None and one.last >= today and one.first <= today + AHEAD_DAYS:
            flowers.append(one)
    flowers.sort(key=lambda one: (one.species, one.first, one.name))
    near = tuple(_neighbour(row) for row in store.nearby(session))
    found = {one.entry: _meetings(one, flowers, near) for one in flowers if one.for_seed}
    return Crossing(tuple(flowers), near, {entry: some for entry, some in found.items() if some})


def _meetings(one: Flowering, flowers: list[Flowering], near: tuple[Neighbour, ...]) -> tuple[Meeting, ...]:
    own = [Stand(one.name, one.species, one.first, one.last)]
    others = [Stand(other.name, other.species, other.first, other.last) for other in flowers if other is not one]
    others += [_stand(each, one.first) for each in near]
    return tuple(meetings(own, others, one.apart_m))


def _stand(near: Neighbour, year_of: Day) -> Stand:
    """What flowers next door flowers there every year: in the year that is asked about."""
    shift = 0
    if near.first is not None or near.last is not None:
        shift = round((year_of - (near.first if near.first is not None else near.last or 0)) / 365.25)
    first, last = (None if day is None else _years_on(day, shift) for day in (near.first, near.last))
    return Stand(near.what or near.species, near.species, first, last, near.distance_m)


def _years_on(day: Day, years: int) -> Day:
    on = date.fromordinal(day)
    return date(on.year + years, on.month, min(on.day, 28) if on.month == 2 else on.day).toordinal()


def near_warnings(book: Book, session: Session, laid: Laid, today: Day) -> tuple[str, ...]:
    """What must be said before an entry kept for seed is put down: what flowers next door, too near.

    Raises: MissingFact while the first run is not done.
    """
    sheet = book.live(session, today).planner.sheet_of(laid.entry)
    one = _flowering(laid, sheet) if sheet is not None and not laid.entry.struck else None
    if one is None or not one.for_seed:
        return ()
    met = _meetings(one, [], tuple(_neighbour(row) for row in store.nearby(session)))
    return tuple(
        f"Its flowers would cross with {each.other}, {each.distance_m:,.0f} m off: {one.apart_m:,.0f} m apart is "
        "wanted, or bags or a cage."
        for each in met
    )


def _flowering(laid: Laid, sheet: Sheet) -> Flowering | None:
    if sheet.trade != "garden" or not sheet.species:
        return None
    for_seed = _for_seed(laid, sheet)
    days = _by_bar(laid) or _by_steps(laid, sheet) or _by_harvest(laid, sheet)
    if days is None:
        return None
    apart = sheet.crop.crossing.apart_m if sheet.crop is not None and sheet.crop.crossing is not None else None
    known = apart is not None
    return Flowering(
        laid.entry.id,
        laid.entry.name,
        sheet.species,
        *days,
        for_seed,
        UNKNOWN_APART_M if apart is None else apart,
        known,
    )


def _for_seed(laid: Laid, sheet: Sheet) -> bool:
    makers = {step.id for step in sheet.steps if any(make.kind == "seed" for make in step.makes)}
    return any(task.step in makers and task.fate not in _GONE for task in laid.tasks)


def _by_bar(laid: Laid) -> tuple[Day, Day] | None:
    """By the days that its sheet claims for its flowers against others of its species."""
    bars = [bar for bar in laid.bars if bar.kind == "clash" and bar.on == "species" and bar.last is not None]
    return (min(bar.first for bar in bars), max(bar.last or bar.first for bar in bars)) if bars else None


def _by_steps(laid: Laid, sheet: Sheet) -> tuple[Day, Day] | None:
    acts = {step.id for step in sheet.steps if step.act == "flower"}
    tasks = [task for task in laid.tasks if task.step in acts and task.fate not in _GONE]
    return _around(tasks)


def _by_harvest(laid: Laid, sheet: Sheet) -> tuple[Day, Day] | None:
    """Of what is eaten as fruit: from eight weeks before the first picking to the last."""
    if sheet.family not in FRUITING:
        return None
    found = _around([task for task in laid.tasks if task.step in ("pick", "cut", "lift") and task.fate not in _GONE])
    return (found[0] - FLOWERS_BEFORE_DAYS, found[1]) if found else None


def _around(tasks: list[Task]) -> tuple[Day, Day] | None:
    days = [day for task in tasks for day in (task.done, task.opens, task.closes) if day is not None]
    return (min(days), max(days)) if days else None


def species_named(sheets: Iterable[Sheet]) -> list[tuple[str, str]]:
    """Every species that is grown from a sheet, with what the kitchen calls it."""
    found: dict[str, set[str]] = {}
    for sheet in sheets:
        if sheet.trade == "garden" and sheet.crop is not None:
            name = sheet.crop.name or sheet.title.partition(",")[0].lower()
            for latin in species_of(sheet.species):
                found.setdefault(latin, set()).add(name)
    return sorted(((latin, f"{latin}: {', '.join(sorted(names))}") for latin, names in found.items()))


# ── Next door ─────────────────────────────────────────────────────────────────────────────────────────────────────


def add_neighbour(
    book: Book, species: str, what: str, distance_m: float, first: Day | None, last: Day | None, note: str, today: Day
) -> None:
    """Put down what flowers next door.

    Raises: BadInput when its flowers end before they begin.
    """
    if first is not None and last is not None and last < first:
        raise BadInput({"last": "It ends before it begins."})
    row = NearbyRow(
        species=species, what=what, distance_m=distance_m, note=note,
        first=date.fromordinal(first) if first is not None else None,
        last=date.fromordinal(last) if last is not None else None,
    )  # fmt: skip
    with book.writing() as session:
        store.add_nearby(session, row)
        book.replan(session, (), today)


def strike_neighbour(book: Book, ident: int, today: Day) -> None:
    """It flowers there no longer.

    Raises: NotFound.
    """
    with book.writing() as session:
        row = next((row for row in store.nearby(session) if row.id == ident), None)
        if row is None:
            raise NotFound("That is not on the list of what flowers next door.")
        store.strike(session, row)
        book.replan(session, (), today)


def _neighbour(row: NearbyRow) -> Neighbour:
    first = row.first.toordinal() if row.first is not None else None
    last = row.last.toordinal() if row.last is not None else None
    return Neighbour(row.id or 0, row.species, row.what, row.distance_m, first, last, row.note)
