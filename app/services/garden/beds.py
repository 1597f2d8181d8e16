"""The beds: what stands where, what is free when, what each has had and wants."""

from collections.abc import Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import NotFound
from app.records import store
from app.records.store import BedFactRow, BedRow
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Laid
from app.services.book import Book
from app.services.garden.bed_advice import Garden, Wanted, advice, history, rotation
from app.services.garden.ground import (
    Bed,
    Fact,
    Gap,
    Kind,
    fed,
    gaps,
    in_bed,
    same_place,
    sick,
    watered_mm,
    year_of_growth,
)
from app.services.garden.stands import Stand, Tray, crop_word, number, said_or_usual, stands_of, trays_of
from app.services.garden.watering import Account, Weather, account
from app.trade.garden.feeding import Fed, Quarrel, quarrels, still_wants
from app.trade.garden.fit import Fit, fits
from app.trade.garden.rotation import GREEN_MANURES, GROUPS, Grown, in_turn, wants_next

__all__ = [
    "BedLine", "BedView", "Cover", "Grown", "Holds", "Overview", "Quarrel", "bed_view", "garden", "kinds_of",
    "overview", "sowing_advice",
]  # fmt: skip

YEARS_BACK = 3
"""So many years before this one are shown, for whose groups a bed still rests."""
SPREADS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "muck": ("muck", ("spread",)),
    "compost": ("compost", ("spread",)),
    "lime": ("lime", ("spread",)),
    "green-manure": ("green manure", ("dig", "dig-summer")),
}
"""Sheets that feed the ground, and the steps whose doing does."""
GROUP_KINDS: Mapping[str, Kind] = {
    "group:potatoes": Kind("something of the potato family", "potatoes", ""),
    "group:legumes": Kind("peas or beans", "legumes", ""),
    "group:brassicas": Kind("something of the cabbage family", "brassicas", ""),
    "group:onions": Kind("something of the onion family", "onions", ""),
    "group:roots": Kind("roots", "roots", ""),
}
"""What may have grown somewhere when more is not known."""


class BedLine(NamedTuple):
    """A bed today. ``years`` pairs each growing year with what stood; ``wants`` are the groups for the next one.

    ``feeds`` is what it still wants before what comes next, ``before`` that; ``water`` the account of each crop there,
    ``clashes`` what the rotation says against what is planned.
    """

    bed: Bed
    stands: tuple[Stand, ...]
    now: tuple[Stand, ...]
    next: Stand | None
    gaps: tuple[Gap, ...]
    years: tuple[tuple[int, tuple[Grown, ...]], ...]
    wants: tuple[str, ...]
    before: str
    feeds: tuple[str, ...]
    water: tuple[Account, ...]
    clashes: tuple[str, ...]


class Cover(NamedTuple):
    """The room under cover: trays in all, the most wanted at one time, the day that begins, and whose they are."""

    room: int
    most: int
    on: Day
    trays: tuple[Tray, ...]


class Overview(NamedTuple):
    """Every bed, the places that things stand in and that are no beds yet, and the room under cover.

    ``year`` is the growing year; in the south it is named after the year in which it ends.
    """

    lines: tuple[BedLine, ...]
    unmeasured: tuple[str, ...]
    cover: Cover | None
    year: int
    southern: bool


class Holds(NamedTuple):
    """What a bed holds of a crop at its spacing; ``rested`` says whether the rotation lets it stand there next year."""

    word: str
    fit: Fit
    rested: bool


class BedView(NamedTuple):
    """One bed: its line, all it has had, what was said of it, what fed it, and what quarrels or lies in its ground."""

    line: BedLine
    grown: tuple[Grown, ...]
    facts: tuple[Fact, ...]
    fed: tuple[Fed, ...]
    quarrels: tuple[Quarrel, ...]
    sick: tuple[tuple[str, int], ...]
    kinds: Mapping[str, Kind]
    holds: tuple[Holds, ...]
    year: int


def garden(book: Book, session: Session, today: Day) -> Garden:
    """All that is known of the beds.

    Raises: MissingFact while the first run is not done.
    """
    every = list(book.live(session, today).laid.values())
    sheets = book.library.sheets
    beds = [_bed(row) for row in store.beds(session)]
    facts = [_fact(row) for row in store.bed_facts(session) if not row.struck]
    spread = []
    for laid in every:
        if laid.entry.sheet in SPREADS and laid.entry.place and not laid.entry.struck:
            what, steps = SPREADS[laid.entry.sheet]
            done = [task.done for task in laid.tasks if task.step in steps and task.done is not None]
            spread += [(laid.entry.place, Fed(what, day)) for day in done]
    return Garden(
        sorted(beds, key=lambda bed: (bed.ends is not None, bed.cover != "open", bed.name.casefold())),
        facts, stands_of(every, sheets), trays_of(every, sheets), kinds_of(sheets), spread,
        book.holding(session).latitude < 0,
    )  # fmt: skip


def overview(book: Book, session: Session, today: Day) -> Overview:
    """The beds that are beds today, each in a line.

    Raises: MissingFact while the first run is not done.
    """
    known = garden(book, session, today)
    there = [bed for bed in known.beds if bed.ends is None or bed.ends >= today]
    weather = _weather(session, today)
    lines = tuple(_line(book, session, known, bed, weather, today) for bed in there)
    places = {one.place for one in known.stands if one.last is None or one.last >= today}
    named = [place for place in places if not any(same_place(place, bed.name) for bed in known.beds)]
    return Overview(
        lines,
        tuple(sorted(named, key=str.casefold)),
        _cover(known, there, today),
        year_of_growth(today, known.southern),
        known.southern,
    )


def bed_view(book: Book, session: Session, bed_id: int, today: Day) -> BedView:
    """One bed.

    Raises: NotFound; MissingFact while the first run is not done.
    """
    known = garden(book, session, today)
    bed = next((bed for bed in known.beds if bed.id == bed_id), None)
    if bed is None:
        raise NotFound("There is no such bed.")
    had = fed(bed, known.facts, known.spread)
    line = _line(book, session, known, bed, _weather(session, today), today)
    return BedView(
        line,
        tuple(history(known, bed)),
        tuple(sorted((one for one in known.facts if one.bed == bed.id), key=lambda one: (-one.on, one.id))),
        tuple(had),
        tuple(quarrels(one for one in had if today - one.day < 365)),
        tuple(sick(bed, known.facts, known.southern)),
        known.kinds,
        _holds(bed, book.library.sheets, line.wants),
        year_of_growth(today, known.southern),
    )


def _holds(bed: Bed, sheets: Mapping[str, Sheet], wants: tuple[str, ...]) -> tuple[Holds, ...]:
    """What a bed holds of each crop, once for each crop."""
    found: dict[str, Holds] = {}
    for sheet in sheets.values():
        spacing = sheet.crop.spacing if sheet.crop is not None else None
        if sheet.crop is None or spacing is None or not spacing.plant_cm or not spacing.row_cm:
            continue
        fit = fits(max(0.1, bed.length_m), max(0.05, bed.width_m), spacing.plant_cm, spacing.row_cm)
        rested = sheet.crop.rotation not in GROUPS or sheet.crop.rotation in wants
        found.setdefault(crop_word(sheet), Holds(crop_word(sheet), fit, rested))
    return tuple(found[word] for word in sorted(found, key=str.casefold))


def kinds_of(sheets: Mapping[str, Sheet]) -> dict[str, Kind]:
    """What may have grown in a bed, by what it is kept as: a sheet's id, a green manure, or a group."""
    found: dict[str, Kind] = {}
    words: set[str] = set()
    for sheet in sorted(sheets.values(), key=lambda sheet: (len(sheet.id), sheet.id)):
        word = crop_word(sheet)
        if sheet.crop is not None:
            found[sheet.id] = Kind(word, sheet.crop.rotation, sheet.species)
            words.add(word)
    manures = {f"green:{what}": Kind(what, *of) for what, of in GREEN_MANURES.items()}
    return {**found, **manures, **GROUP_KINDS}


def sowing_advice(book: Book, session: Session, laid: Laid, today: Day) -> tuple[str, ...]:
    """What to say of an entry that is looked at, in the bed it would stand in and under cover; nothing is forbidden.

    Raises: MissingFact while the first run is not done.
    """
    sheet = book.library.sheets.get(laid.entry.sheet)
    if sheet is None or sheet.trade != "garden" or laid.entry.struck:
        return ()
    known = garden(book, session, today)
    if not known.beds:
        return ()
    stand = next(iter(stands_of([laid], {sheet.id: sheet})), None)
    tray = next((one for one in trays_of([laid], {sheet.id: sheet}) if one.last >= today), None)
    bed = next((bed for bed in known.beds if same_place(bed.name, laid.entry.place)), None)
    closes = [task.closes for task in laid.tasks if task.step == "sow" and task.closes is not None]
    entry = said_or_usual(laid.entry, sheet)
    rows, plants = number(entry, "row_m"), number(entry, "plants", "sets", "cloves")
    return advice(known, bed, Wanted(stand, tray, max(closes, default=None), rows, plants))


def _line(book: Book, session: Session, known: Garden, bed: Bed, weather: Mapping[Day, Weather], today: Day) -> BedLine:
    stands = in_bed(bed, known.stands)
    grown = history(known, bed)
    year = year_of_growth(today, known.southern)
    coming = [one for one in stands if one.first > today and not one.begun]
    wants = _wants(known, bed, grown, year + 1)
    before = coming[0].group if coming else (wants[0] if wants else "")
    when = coming[0].first if coming else today + 120
    given = watered_mm(bed, known.facts)
    normal = book.season(session)
    water = [account(bed, one, normal, weather, given, today) for one in stands if one.holds(today) and one.begun]
    return BedLine(
        bed,
        tuple(stands),
        tuple(one for one in stands if one.holds(today)),
        coming[0] if coming else None,
        tuple(gaps(stands, today)),
        tuple((one, _grew(grown, one)) for one in range(year - YEARS_BACK, year + 1)),
        wants,
        before,
        still_wants(before, when, fed(bed, known.facts, known.spread)),
        tuple(one for one in water if one is not None),
        tuple(f"{one.name}: {said}" for one in coming for said in rotation(known, bed, one)[:1]),
    )


def _wants(known: Garden, bed: Bed, grown: list[Grown], year: int) -> tuple[str, ...]:
    """The groups for a bed in a year, best first; a bed that has had nothing takes its turn among the others."""
    wants = wants_next(year, grown, sick(bed, known.facts, known.southern))
    if any(one.group in GROUPS for one in grown):
        return wants
    number = next((n for n, one in enumerate(known.beds) if one.id == bed.id), 0)
    return tuple(sorted(wants, key=lambda group: group not in in_turn(number, year)))


def _grew(grown: list[Grown], year: int) -> tuple[Grown, ...]:
    return tuple(one for one in grown if one.first_year <= year <= one.last_year)


def _cover(known: Garden, beds: list[Bed], today: Day) -> Cover | None:
    """When the trays under cover want the most room in the year ahead."""
    room = sum(bed.trays or 0 for bed in beds)
    if not room:
        return None
    coming = [one for one in known.trays if one.last >= today and one.first <= today + 365]
    days = {max(today, one.first) for one in coming}
    held = [(sum(one.trays for one in known.trays if one.first <= day <= one.last), -day) for day in days]
    most, day = max(held, default=(0, -today))
    return Cover(room, most, -day, tuple(coming))


def _weather(session: Session, today: Day) -> dict[Day, Weather]:
    rows = store.weather_days(session, today - 310, today)
    return {row.day.toordinal(): Weather(row.min_c, row.max_c, row.rain_mm) for row in rows}


def _bed(row: BedRow) -> Bed:
    ends = row.ends.toordinal() if row.ends is not None else None
    return Bed(row.id or 0, row.name, row.length_m, row.width_m, row.cover, row.soil, row.trays, ends, row.note)


def _fact(row: BedFactRow) -> Fact:
    return Fact(row.id, row.bed, row.kind, row.what, row.on_day.toordinal(), row.amount, row.unit, row.note)
