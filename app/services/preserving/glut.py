"""A glut: so many kilos on such a day, and every way to keep them side by side."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple
from uuid import uuid4

from sqlalchemy.orm import Session

from app.errors import OutOfRange, Refused
from app.rules.facts import Entry
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.tasks import Laid
from app.rules.terms import Value
from app.services.book import Book
from app.services.larder.kit_claims import KitClash, kit_clashes, pieces_of
from app.services.preserving.drying import reckon as reckon_drying
from app.services.preserving.drying_batches import Record, record_of
from app.services.preserving.glut_kitchen import Hands, Kitchen, hands, jars_a_load, kitchen
from app.services.preserving.glut_shopping import Bought, in_the_larder, to_buy
from app.services.work_of import Work, work_of
from app.sheets.bottling_tables import bottling_rows
from app.sheets.glut_tables import GlutCrop, GlutWay, crop_called, ways_of_keeping
from app.sheets.store_tables import RawStore, blanching, dry_crops, raw_stores
from app.trade.preserving.bottling import row_minutes, row_of
from app.trade.preserving.freezing import blanch_minutes, day_load_kg
from app.trade.preserving.glut import Way, by_bottling, by_crock, by_freezing, by_pan, prepared_kg, short_of

AHEAD_DAYS = 400
BOTTLING_KWH = 2.0
"""A load of the pan: 12 litres from 10 °C to the boil are 1.26 kWh, then the tested time; common practice."""
PAN_READY_MIN = 45
"""To heat a panful of jars and to lift them out again; common practice."""
DAYS_OF_WORK = 3
"""A glut waits so many days at most, and its work is set against the hours of those."""
FREEZER_BATCH_KG, FREEZER_BATCH_MIN = 2.0, 20.0
GARDEN_FRESH = ("freeze", "dry", "powder", "crock")
"""Ways that take trimmed produce; the others count kilos as they come in."""


class Glut(NamedTuple):
    """So many kilos as picked of a crop, on a day; the jars there are, None where nobody counted."""

    what: str
    kg: float
    on: Day
    jar_ml: float = 500.0
    jars: int | None = None


class Offer(NamedTuple):
    """One way of keeping so many kilos, as picked; ``fact_kg`` is what its sheet asks about.

    ``way`` from `app.trade.preserving.glut` says what it makes, needs, and leaves; ``work`` tells hands-on from
    waiting; ``short`` is what is short of it. ``refused`` is a sentence in place of all that.
    """

    of: GlutWay
    sheet: Sheet
    kg: float
    fact_kg: float
    facts: Mapping[str, Value]
    way: Way | None
    work: Work
    laid: Laid | None
    short: Mapping[str, float]
    buy: tuple[Bought, ...]
    clashes: tuple[KitClash, ...]
    notes: tuple[str, ...]
    refused: str = ""


class Offers(NamedTuple):
    """A glut with every way there is; ``raw`` is the store it would keep in as it is.

    ``there_kg`` of it stand in the larder by the book, as they were picked.
    """

    glut: Glut
    crop: GlutCrop | None
    ways: tuple[Offer, ...]
    raw: RawStore | None
    room: Kitchen
    hands: Hands
    there_kg: float = 0.0


def offers(
    book: Book, session: Session, glut: Glut, today: Day, shares: Mapping[str, float] | None = None, later: bool = False
) -> Offers:
    """Every way, each reckoned for all of it, or for its share in ``shares`` (kilos by way; those left out are not).

    Shares stand in each other's way too; ``later`` begins one that meets another on the day its kit is free.
    Raises: MissingFact while the first run is not done.
    """
    crop = crop_called(glut.what)
    room = kitchen(book, session)
    have = in_the_larder(session)
    table = _Table(
        book, session, glut, crop, room, have, record_of(book, session, today), pieces_of(session, today), today
    )
    found: list[Offer] = []
    for way in ways_of_keeping(crop):
        kg = glut.kg if shares is None else shares.get(way.id, 0.0)
        if kg > 0:
            chosen = [one.laid for one in found if one.laid is not None] if shares is not None else []
            found.append(_offer(table, way, kg, chosen, later))
    work = hands(book, session, max(glut.on, today), max(glut.on, today) + DAYS_OF_WORK - 1)
    raw = raw_stores().get(crop.raw) if crop is not None and crop.raw else None
    name = crop.name if crop is not None else glut.what
    return Offers(glut, crop, tuple(found), raw, room, work, have.get((name.casefold(), "g"), 0.0) / 1000)


class _Table(NamedTuple):
    """What every way is reckoned from."""

    book: Book
    session: Session
    glut: Glut
    crop: GlutCrop | None
    room: Kitchen
    have: Mapping[tuple[str, str], float]
    record: Record
    pieces: Mapping[str, int]
    today: Day


def _offer(table: _Table, way: GlutWay, kg: float, chosen: Sequence[Laid], later: bool) -> Offer:
    sheet = table.book.library.sheets[way.sheet]
    fact_kg = round(_trimmed(table.crop, way, kg), 2)
    notes: list[str] = []
    facts = _facts(table, way, sheet, fact_kg, notes)
    blank = Offer(way, sheet, kg, fact_kg, facts, None, Work(0, 0.0, 0), None, {}, (), (), ())
    wrong = outside(sheet, facts)
    if wrong:
        return blank._replace(refused=wrong)
    try:
        made = _reckoned(table, way, fact_kg, facts, notes)
    except (OutOfRange, Refused) as error:
        return blank._replace(refused=str(error))
    laid = _laid(table, sheet, facts)
    if laid.lacks:
        return blank._replace(refused=laid.lacks[0].reason or f"Say ‘{laid.lacks[0].fact}’ on its own page first.")
    clashes = kit_clashes(table.book, table.session, laid, table.today, chosen, table.pieces)
    begin = clashes[0].begin if clashes else None
    if later and begin is not None:
        facts["date"] = begin
        laid = _laid(table, sheet, facts)
        clashes = kit_clashes(table.book, table.session, laid, table.today, chosen, table.pieces)
    return blank._replace(
        way=made, work=work_of(laid, sheet, made.hours), laid=laid, short=_short(made, table.room, table.glut),
        buy=to_buy(sheet, laid.entry, table.have, "jars" in made.needs), clashes=clashes, notes=tuple(notes),
    )  # fmt: skip


def _laid(table: _Table, sheet: Sheet, facts: Mapping[str, Value]) -> Laid:
    """What would follow, from the sheet and the season alone."""
    entry = Entry(f"glut-{uuid4().hex[:12]}", sheet.id, sheet.title, facts, table.today)
    planner = table.book.live(table.session, table.today).planner
    return planner.plan([entry], (), (), table.today, max(table.today, table.glut.on) + AHEAD_DAYS).laid[entry.id]


def _facts(table: _Table, way: GlutWay, sheet: Sheet, kg: float, notes: list[str]) -> dict[str, Value]:
    """What the sheet asks, answered from the glut and the kit."""
    glut, room = table.glut, table.room
    facts: dict[str, Value] = {"date": glut.on, "kg": kg, **dict(way.facts)}
    if way.of:
        facts[way.of] = table.crop.name if table.crop is not None else glut.what
    jar, usual = sheet.facts.get("jar_ml"), glut.jar_ml
    if way.kind == "pan" and jar is not None and jar.high is not None and usual > jar.high and jar.default is not None:
        usual = float(str(jar.default))
        notes.append(f"In jars of {usual:g} ml: larger ones are not tested for it.")
    known: dict[str, Value] = {
        "tray_m2": round(room.tray_m2, 3), "freezer_l": min(1000.0, max(20.0, room.freezer_l)),
        "altitude_m": room.altitude_m, "jar_ml": usual,
    }  # fmt: skip
    return facts | {name: value for name, value in known.items() if name in sheet.facts}


def _reckoned(table: _Table, way: GlutWay, kg: float, facts: dict[str, Value], notes: list[str]) -> Way:
    """What a way comes to, by its kind; its hours are those that kit runs by itself. Adds facts and notes."""
    glut, room = table.glut, table.room
    match way.kind:
        case "dry" | "powder":
            return _dried(table, way, kg, facts, notes)
        case "bottle":
            row = row_of(bottling_rows(), way.food, way.pack, "us")
            minutes = row_minutes(row, max(0.0, room.altitude_m), glut.jar_ml)
            notes.append(f"{minutes} minutes at a full boil, at {room.altitude_m:g} m: {row.source}.")
            if row.acid:
                notes.append("Bottled lemon juice goes into every jar before it is filled.")
            load = jars_a_load(room, glut.jar_ml)
            made = by_bottling(kg, row.kg_a_litre, glut.jar_ml, load, minutes + PAN_READY_MIN, BOTTLING_KWH)
            return made._replace(hours=made.needs["pan loads"] * minutes / 60)
        case "freeze":
            made = _frozen(table, way, kg, notes)
            return made._replace(hours=24 * made.needs["days of freezing"])
        case "pan":
            jar_ml = float(str(facts["jar_ml"]))
            made = by_pan(kg, way.made_kg, way.kg_a_litre, jar_ml, way.pan_kg, way.kwh_kg)
            return made._replace(hours=0.0)  # it is stirred: none of it is waiting
        case "crock":
            return by_crock(kg, way.kg_a_litre)
        case "raw":
            return Way(kg, {}, 0.0, (0.0, 0.0), 0.0)


def _dried(table: _Table, way: GlutWay, kg: float, facts: dict[str, Value], notes: list[str]) -> Way:
    row = dry_crops().get(table.crop.dry) if table.crop is not None else None
    if row is None:
        raise Refused("How much water is in it is not in the table, so no weight to reach can be told.")
    pulp = kg * way.made_kg
    sums = reckon_drying(table.book, table.session, row, way, pulp, table.today, room=table.room, record=table.record)
    facts["load_hours"] = round(sums.hours, 1)
    facts["target_percent"] = sums.target_percent
    facts["kg"] = round(pulp, 2)
    needs = {"dryer loads": float(sums.loads), "m² of trays at once": pulp / way.kg_a_m2}
    notes.append(f"Hours of a load: {sums.hours_from}.")
    if way.condition_days:
        notes.append(f"Then {way.condition_days} days evening out in jars, shaken daily.")
    return Way(sums.dry_kg, needs, sums.loads * sums.hours, sums.kwh, 0.0)


def _frozen(table: _Table, way: GlutWay, kg: float, notes: list[str]) -> Way:
    crop, room = table.crop, table.room
    size = min(1000.0, max(20.0, room.freezer_l))
    free = room.free_l if room.free_l is not None else size
    least, most = day_load_kg(size)
    notes.append(f"{least:.1f} to {most:.1f} kg a day, so that what is frozen stays frozen.")
    row = blanching().get(crop.blanch) if crop is not None else None
    if row is not None and row.minutes:
        minutes = blanch_minutes(row.minutes, max(0.0, room.altitude_m))
        notes.append(f"Scalded {minutes:g} minutes first ({row.source}, {row.basis}).")
    elif row is None and (crop is None or (crop.group == "vegetable" and not crop.unscalded)):
        notes.append("No scalding time for it stands in the table here: look it up.")
    return by_freezing(kg, way.kg_a_litre, size, min(free, size), FREEZER_BATCH_KG, FREEZER_BATCH_MIN)


def _trimmed(crop: GlutCrop | None, way: GlutWay, kg: float) -> float:
    """Kilos as the sheet asks about them: trimmed, where the crop's refuse is known and the way trims it first."""
    row = dry_crops().get(crop.dry) if crop is not None else None
    return prepared_kg(kg, row.refuse_percent) if row is not None and way.kind in GARDEN_FRESH else kg


def outside(sheet: Sheet, facts: Mapping[str, Value]) -> str:
    """A sentence when a number is beyond what the sheet covers, "" when all are within."""
    for name, value in facts.items():
        ask = sheet.facts.get(name)
        if ask is None or isinstance(value, bool) or not isinstance(value, int | float) or ask.kind == "date":
            continue
        label = ask.label or name
        if ask.low is not None and value < ask.low:
            return f"{label}: {value:g} is less than the {ask.low:g} {ask.kind} it is made for."
        if ask.high is not None and value > ask.high:
            return f"{label}: {value:g} is more than the {ask.high:g} {ask.kind} one batch is made for; divide it."
    return ""


def _short(made: Way, room: Kitchen, glut: Glut) -> Mapping[str, float]:
    have: dict[str, float] = {}
    if glut.jars is not None:
        have["jars"] = float(glut.jars)
    if room.free_l is not None:
        have["freezer litres"] = room.free_l
    if "trays" in room.said:
        have["m² of trays at once"] = room.tray_m2
    return short_of(made.needs, have)
