"""A batch in the dryer: what it will weigh, how far it is, when it is dry; and the same reckoned before it goes in."""

from datetime import datetime, timedelta
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import OutOfRange
from app.records import store
from app.rules.facts import Entry
from app.rules.spans import Day
from app.services.book import Book
from app.services.garden.stands import said_or_usual
from app.services.preserving.drying_batches import (
    ENDS,
    Past,
    Record,
    Weighing,
    dried_crop,
    drying_way,
    fresh_kg,
    is_reached,
    last_load,
    load_water_percent,
    past_of,
    record_of,
    weighings,
)
from app.services.preserving.glut_kitchen import Kitchen, kitchen
from app.sheets.glut_tables import GlutWay
from app.sheets.store_tables import Dry
from app.trade.preserving.drying import dried_kg, drying_loads
from app.trade.preserving.glut import by_drying, load_hours
from app.trade.preserving.own_batches import hours_left, log_drying, rate_an_hour
from app.trade.preserving.thin_layer import weight_at_kg

LEAST_HOURS, MOST_HOURS = 1.0, 48.0
CURVE_POINTS = 24


class Reckoned(NamedTuple):
    """What drying so much comes to. ``hours`` are of a load; ``hours_from`` and ``water_from`` say whose they are."""

    crop: Dry
    way: GlutWay
    fresh_kg: float
    water_percent: float
    water_from: str
    target_percent: float
    dry_kg: float
    loads: int
    load_kg: float
    load_dry_kg: float
    hours: float
    hours_from: str
    rate: float
    kwh: tuple[float, float]
    past: Past


class Drying(NamedTuple):
    """A batch in the dryer. ``weighed`` are those of the load that is in, ``now_percent`` its water at the last.

    ``left_hours`` from then on; ``ready`` is the moment (UTC) it should be dry, None when it can't be told. ``curve``
    are (hours, kg) of a load as it should go. ``fault`` is a sentence in place of all that can't be reckoned.
    """

    entry: Entry
    sums: Reckoned | None
    load_kg: float = 0.0
    load_dry_kg: float = 0.0
    weighed: tuple[Weighing, ...] = ()
    now_percent: float | None = None
    left_hours: float | None = None
    ready: datetime | None = None
    curve: tuple[tuple[float, float], ...] = ()
    dry: bool = False
    fault: str = ""
    loads_done: int = 0


def reckon(
    book: Book,
    session: Session,
    crop: Dry,
    way: GlutWay,
    kg: float,
    today: Day,
    *,
    target_percent: float | None = None,
    water_percent: float | None = None,
    tray_m2: float | None = None,
    hours: float | None = None,
    without: str = "",
    room: Kitchen | None = None,
    record: Record | None = None,
) -> Reckoned:
    """What drying so much comes to, in this household's dryer and by its own past batches.

    Raises: OutOfRange with a sentence, a target no drier than the fresh crop among them.
    """
    room = room if room is not None else kitchen(book, session)
    target = target_percent if target_percent is not None else _usual_target(crop, way)
    record = record if record is not None else record_of(book, session, today)
    past = past_of(record, crop, way.kind, min(target, crop.water_percent - 0.1), without)
    water, water_from = _water(crop, past, water_percent)
    dry = dried_kg(kg, water, target)
    trays = tray_m2 or room.tray_m2
    loads = drying_loads(kg, trays, way.kg_a_m2)
    took, whose = _hours(way, past, water, target, hours)
    slow = load_hours((kg - dry) / loads, took, room.dryer_watts)
    if slow > took + 0.05:
        took, whose = slow, "the watts of your dryer: its heat lifts no more water in less"
    took = min(MOST_HOURS, max(LEAST_HOURS, took))
    kwh = by_drying(kg, water, target, trays, way.kg_a_m2, took).kwh
    if room.dryer_watts is not None:
        drawn = loads * took * room.dryer_watts / 1000
        kwh = (min(kwh[0], drawn), min(max(kwh[0], drawn), kwh[1])) if drawn < kwh[1] else kwh
    return Reckoned(
        crop, way, kg, water, water_from, target, dry, loads, kg / loads, dry / loads, took, whose,
        log_drying(water, target) / took, kwh, past,
    )  # fmt: skip


def drying_of(
    book: Book, session: Session, entry: Entry, today: Day, room: Kitchen | None = None, record: Record | None = None
) -> Drying | None:
    """A batch in the dryer by its entry; None for an entry that dries nothing.

    ``room`` and ``record`` are asked of the records unless they are given.
    """
    way, sheet = drying_way(entry.sheet), book.library.sheets.get(entry.sheet)
    if way is None or sheet is None:
        return None
    ticks = store.ticks(session, [entry.id]) if record is None else record.ticks.get(entry.id, ())
    whole = said_or_usual(entry, sheet)
    crop, kg = dried_crop(entry, way), fresh_kg(entry, ticks)
    if crop is None or not kg:
        what = "of what it is" if crop is None else "what it weighs"
        return Drying(entry, None, fault=f"Say {what} under ‘Change these’, and the weight to reach is told here.")
    known = {name: _number(whole.facts.get(name)) for name in ("target_percent", "tray_m2")}
    # A form writes the usual hours down as they stood; only others are the household's own word.
    usual = sheet.facts["load_hours"].default if "load_hours" in sheet.facts else None
    said = {
        name: value for name in ("water_percent", "load_hours") if (value := _number(entry.facts.get(name))) != usual
    }
    try:
        sums = reckon(
            book, session, crop, way, kg, today, target_percent=known["target_percent"], tray_m2=known["tray_m2"],
            water_percent=said.get("water_percent"), hours=said.get("load_hours"), without=entry.id,
            room=room, record=record,
        )  # fmt: skip
    except OutOfRange as error:
        return Drying(entry, None, fault=str(error))
    every = weighings(ticks)
    done = any(_ends(book, session, entry.id, today))
    return _under_way(entry, sums, every, done)


def _under_way(entry: Entry, sums: Reckoned, every: list[Weighing], done: bool) -> Drying:
    load = last_load(every)
    load_kg = next((one.fresh_kg for one in reversed(load) if one.fresh_kg), None) or sums.load_kg
    dry = dried_kg(load_kg, sums.water_percent, sums.target_percent)
    begun = sum(1 for at in range(1, len(every)) if every[at].hours < every[at - 1].hours)
    found = Drying(
        entry, sums, load_kg, dry, tuple(load), curve=_curve(load_kg, sums, sums.rate), dry=done, loads_done=begun
    )
    if not load:
        return found
    last = load[-1]
    try:
        now = load_water_percent(last, load_kg, sums.water_percent)
    except OutOfRange:
        solids = load_kg * (1 - sums.water_percent / 100)
        wrong = "more than went in" if last.kg > load_kg else f"less than its {solids:.3g} kg with no water at all"
        return found._replace(
            fault=f"{last.kg:g} kg is {wrong}: weigh again, without the trays, or say its fresh weight."
        )
    if is_reached(last.kg, dry):
        return found._replace(now_percent=now, left_hours=0.0, dry=True)
    rate = _rate_now(sums, now, last)
    try:
        left = hours_left(now, sums.target_percent, rate)
    except OutOfRange:
        return found._replace(now_percent=now)
    return found._replace(
        now_percent=now, left_hours=left, ready=_moment(last, left), curve=_curve(load_kg, sums, rate)
    )


def _rate_now(sums: Reckoned, now: float, last: Weighing) -> float:
    """The rate of this load as it was weighed; in its first half hour, or before it has lost anything, the usual."""
    if last.hours < 0.5 or now >= sums.water_percent - 0.01:
        return sums.rate
    try:
        return rate_an_hour(sums.water_percent, now, last.hours)
    except OutOfRange:
        return sums.rate


def _curve(load_kg: float, sums: Reckoned, rate: float) -> tuple[tuple[float, float], ...]:
    """Hours and kilos of a load by Lewis' model, from its going in until it is dry."""
    end = min(MOST_HOURS * 2, log_drying(sums.water_percent, sums.target_percent) / rate)
    steps = [end * n / CURVE_POINTS for n in range(CURVE_POINTS + 1)]
    return tuple((hours, weight_at_kg(load_kg, sums.water_percent, rate, hours)) for hours in steps)


def _moment(last: Weighing, left: float) -> datetime | None:
    """When it is dry; None when it was said on another day than it was weighed, since no hour is known then."""
    said = datetime.fromisoformat(last.at)
    if abs(said.date().toordinal() - last.on) > 0:
        return None
    return said + timedelta(hours=left)


def _usual_target(crop: Dry, way: GlutWay) -> float:
    return 4.0 if way.kind == "powder" else crop.target_percent


def _water(crop: Dry, past: Past, said: float | None) -> tuple[float, str]:
    if said is not None:
        return said, "as you say"
    if past.batches:
        times = "once" if past.batches == 1 else f"{past.batches} times"
        return past.water_percent, f"the table and your own batches, weighed {times}"
    return crop.water_percent, crop.source


def _hours(way: GlutWay, past: Past, water: float, target: float, said: float | None) -> tuple[float, str]:
    if said is not None:
        return said, "as you say"
    if past.rate is not None:
        times = "one batch" if past.timed == 1 else f"{past.timed} batches"
        return hours_left(water, target, past.rate), f"your own {times} of it"
    return way.hours[1], f"the table, {way.hours[0]:g} to {way.hours[2]:g}"


def _ends(book: Book, session: Session, entry_id: str, today: Day) -> list[bool]:
    laid = book.live(session, today).laid.get(entry_id)
    tasks = laid.tasks if laid is not None else ()
    return [True for task in tasks if task.step in ENDS and task.done is not None]


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def dryer_hours(book: Book, entry: Entry) -> float | None:
    """Hours that a batch has the dryer: its loads one after another; None for what is not dried, or can't be so.

    Source: `drying_loads`; kilos a square metre and hours stand with the way and the entry.
    """
    way, sheet = drying_way(entry.sheet), book.library.sheets.get(entry.sheet)
    if way is None or sheet is None:
        return None
    known = {name: _number(said_or_usual(entry, sheet).facts.get(name)) for name in ("kg", "tray_m2", "load_hours")}
    kg, trays, hours = known["kg"], known["tray_m2"], known["load_hours"]
    if not kg or not trays or not hours:
        return None
    return drying_loads(kg, trays, way.kg_a_m2) * hours
