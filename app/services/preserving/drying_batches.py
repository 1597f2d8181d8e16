"""What was weighed of batches in the dryer: loads on their way, and what the household's past batches came to."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import OutOfRange
from app.records import store
from app.rules.facts import Entry, Tick
from app.rules.keys import split_key
from app.rules.spans import Day
from app.rules.ticks import in_force
from app.services.book import Book
from app.sheets.glut_tables import GlutWay, crop_called, glut_crops, glut_ways
from app.sheets.store_tables import Dry, dry_crops
from app.trade.preserving.drying import water_left_percent
from app.trade.preserving.own_batches import PastBatch, own_water_percent, rate_an_hour

ENDS = ("test", "snap")
"""The steps at which a batch is found dry."""


class Weighing(NamedTuple):
    """A load weighed: on which day, after how many hours in the dryer, ``at`` what moment that was said (UTC)."""

    on: Day
    hours: float
    kg: float
    fresh_kg: float | None
    at: str


class Past(NamedTuple):
    """What past batches of a crop say: the water to reckon with, the rate k an hour (None: no hours were taken down).

    ``batches`` of them were weighed, ``timed`` timed; ``odd`` could not be, and are left out.
    """

    water_percent: float
    rate: float | None
    batches: int
    timed: int
    odd: int


@cache
def drying_way(sheet: str) -> GlutWay | None:
    """The way of drying that a sheet is, None when it is none."""
    return next((way for way in glut_ways() if way.sheet == sheet and way.kind in ("dry", "powder")), None)


def dried_crop(entry: Entry, way: GlutWay) -> Dry | None:
    """The row of water and refuse of what an entry dries: as it says, else its sheet's own crop."""
    said = entry.facts.get(way.of) if way.of else None
    if isinstance(said, str):
        crop = crop_called(said)
        return dry_crops().get(crop.dry) if crop is not None else None
    own = [crop.dry for crop in glut_crops() if crop.name in way.crops[:1] and not way.of]
    return dry_crops().get(own[0]) if own else None


def weighings(ticks: Iterable[Tick]) -> list[Weighing]:
    """What was weighed of a batch, by day and turn."""
    found = []
    for tick in sorted(in_force(ticks), key=lambda one: (one.on, split_key(one.key).label, one.at)):
        kg, hours = number(tick, "kg"), number(tick, "hours")
        if tick.kind == "done" and split_key(tick.key).step == "weigh" and kg and hours is not None:
            found.append(Weighing(tick.on, hours, kg, number(tick, "load_kg") or None, tick.at))
    return found


def last_load(found: Sequence[Weighing]) -> list[Weighing]:
    """The weighings of the load that is in the dryer: since its hours last began again."""
    begin = 0
    for at in range(1, len(found)):
        if found[at].hours < found[at - 1].hours:
            begin = at
    return list(found[begin:])


def fresh_kg(entry: Entry, ticks: Iterable[Tick]) -> float | None:
    """What went into the dryer: as weighed when it was pulped, else as the entry says."""
    for tick in in_force(ticks):
        if tick.kind == "done" and split_key(tick.key).step == "pulp" and (kg := number(tick, "kg")):
            return kg
    said = entry.facts.get("kg")
    return float(said) if isinstance(said, int | float) and not isinstance(said, bool) else None


def dried_kg_of(ticks: Iterable[Tick]) -> float | None:
    """What a batch weighed when it was dry: found so, else as it was packed."""
    found: dict[str, float] = {}
    for tick in in_force(ticks):
        step = split_key(tick.key).step
        grams = number(tick, "g")
        kg = number(tick, "kg") or (grams / 1000 if grams else None)
        if tick.kind == "done" and kg and step in (*ENDS, "pack"):
            found["test" if step in ENDS else "pack"] = kg
    return found.get("test", found.get("pack"))


def hours_of(ticks: Sequence[Tick]) -> float | None:
    """The hours a load took: as said when it was found dry."""
    said = [number(t, "hours") for t in in_force(ticks) if t.kind == "done" and split_key(t.key).step in ENDS]
    return next((hours for hours in said if hours), None)


class Dried(NamedTuple):
    """A batch as it was put in the dryer and found dry, kg and hours, each None where nobody said it."""

    entry: Entry
    put_kg: float | None
    dried_kg: float | None
    hours: float | None


class Record(NamedTuple):
    """All that was said of batches for the dryer: the ``ticks`` by entry, and the batches by crop and kind."""

    ticks: Mapping[str, Sequence[Tick]]
    dried: Mapping[tuple[str, str], Sequence[Dried]]


def record_of(book: Book, session: Session, today: Day) -> Record:
    """Every batch that this household put in the dryer, in one query."""
    entries: dict[str, tuple[Entry, GlutWay]] = {}
    for laid in list(book.live(session, today).laid.values()):
        way = drying_way(laid.entry.sheet)
        if way is not None and not laid.entry.struck:
            entries[laid.entry.id] = laid.entry, way
    said: dict[str, list[Tick]] = {name: [] for name in entries}
    for tick in store.ticks(session, list(entries)) if entries else ():
        said[split_key(tick.key).entry].append(tick)
    dried: dict[tuple[str, str], list[Dried]] = {}
    for name, (entry, way) in entries.items():
        crop, ticks = dried_crop(entry, way), said[name]
        if crop is not None and "water_percent" not in entry.facts:
            one = Dried(entry, fresh_kg(entry, ticks), dried_kg_of(ticks), hours_of(ticks))
            dried.setdefault((crop.crop, way.kind), []).append(one)
    return Record(said, dried)


def past_of(record: Record, crop: Dry, kind: str, target_percent: float, without: str) -> Past:
    """What this household's earlier batches of a crop came to, those of the same kind (pieces, or leather) alone.

    Water: each batch's ``1 - dried (1 - w1) / prepared``, the table counted as one; a batch dried to another target
    counts by its own. Rate: ``ln(X0 / X1) / t``, the mean of those timed. Source: `own_batches`.
    """
    batches: list[PastBatch] = []
    rates: list[float] = []
    odd = 0
    for entry, put, dried, hours in record.dried.get((crop.crop, kind), ()):
        if not put or not dried or entry.id == without:
            continue
        reached = _target(entry, target_percent)
        # Brought to the target asked about, so that batches dried further or less far can be averaged.
        even = dried * (100 - reached) / (100 - target_percent)
        try:
            own_water_percent(crop.water_percent, target_percent, [PastBatch(put, even)])
            if hours:
                water = 100 - dried * (100 - reached) / put
                rates.append(rate_an_hour(water, reached, hours))
        except OutOfRange:
            odd += 1
            continue
        batches.append(PastBatch(put, even))
    water = own_water_percent(crop.water_percent, target_percent, batches) if batches else crop.water_percent
    return Past(water, sum(rates) / len(rates) if rates else None, len(batches), len(rates), odd)


def load_water_percent(one: Weighing, load_kg: float, water_percent: float) -> float:
    """The water in a load as it was weighed.

    Raises: OutOfRange for a weight that can't be.
    """
    return water_left_percent(one.fresh_kg or load_kg, water_percent, one.kg)


def is_reached(kg: float, dry_kg: float) -> bool:
    """Whether a load has come down to its dry weight as it is told: to the half gram, and to three figures."""
    return kg <= dry_kg + max(0.0005, 0.005 * dry_kg)


def number(tick: Tick, name: str) -> float | None:
    """A measure as a number."""
    value = tick.measures.get(name)
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def _target(entry: Entry, usual: float) -> float:
    said = entry.facts.get("target_percent")
    return float(said) if isinstance(said, int | float) and not isinstance(said, bool) else usual
