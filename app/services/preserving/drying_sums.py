"""Drying reckoned before anything goes in, powder brought back, and a weighing put down."""

from collections.abc import Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, OutOfRange
from app.records import store
from app.rules.keys import key
from app.rules.spans import Day
from app.rules.terms import Value
from app.services.book import Book
from app.services.entries import find
from app.services.preserving.drying import Reckoned, drying_of, reckon
from app.services.preserving.drying_batches import drying_way, is_reached
from app.services.ticking import Words, tick
from app.sheets.glut_tables import GlutWay, crop_called, glut_crops, glut_ways, ways_of_keeping
from app.sheets.store_tables import dry_crops
from app.trade.preserving.drying import dried_kg
from app.trade.preserving.powder import water_to_add_kg

STRENGTHS: tuple[tuple[str, float], ...] = (
    ("fresh tomato, 5.48 % solids", 5.48),
    ("thin purée, 8 %", 8.0),
    ("purée, 12.12 %", 12.12),
    ("paste, 26.5 %", 26.5),
)
"""Total solids of tomato and of what is made of it.

Source: USDA SR26, 2013, nos 11529, 11547, 11546; 8 %: 21 CFR 155.191.
"""


class Back(NamedTuple):
    """Water to add to so much powder, by what it is to become."""

    powder_kg: float
    waters: tuple[tuple[str, float], ...]


def dryable() -> tuple[str, ...]:
    """The crops whose water is in the table, by name."""
    return tuple(crop.name for crop in glut_crops() if crop.dry)


def reckon_for(
    book: Book, session: Session, name: str, how: str, kg: float, today: Day, *,
    target_percent: float | None = None, water_percent: float | None = None,
) -> Reckoned:  # fmt: skip
    """What drying so much of a crop comes to, as "pieces" or as leather for "powder".

    Raises: BadInput with a sentence beside its field.
    """
    crop = crop_called(name)
    row = dry_crops().get(crop.dry) if crop is not None else None
    if crop is None or row is None:
        raise BadInput({"crop": "How much water is in it is not in the table; choose one of these."})
    wet = water_percent if water_percent is not None else row.water_percent
    if target_percent is not None and target_percent >= wet:
        raise BadInput({"target": f"It holds {wet:g} % of water fresh: what is dry holds less than that."})
    kind = "powder" if how == "powder" else "dry"
    way = next((one for one in ways_of_keeping(crop) if one.kind == kind), None) or _any(kind)
    try:
        return reckon(book, session, row, way, kg, today, target_percent=target_percent, water_percent=water_percent)
    except OutOfRange as error:
        raise BadInput({"kg": str(error)}) from error


def _any(kind: str) -> GlutWay:
    """The widest way of a kind: for herbs, and leather of what is neither fruit nor tomato."""
    return next(way for way in reversed(glut_ways()) if way.kind == kind)


USUAL_WATER_PERCENT = 4.0
"""What a powder milled dry still holds, where nobody measured it. Source: common practice."""


def bring_back(powder_g: float, powder_water_percent: float | None, solids_percent: float | None) -> Back:
    """Water to add, by solids: to what was asked, else to each of the usual strengths.

    Raises: BadInput.
    """
    powder_kg = powder_g / 1000
    held = USUAL_WATER_PERCENT if powder_water_percent is None else powder_water_percent
    wanted = STRENGTHS if solids_percent is None else ((f"{solids_percent:g} % solids", solids_percent),)
    try:
        waters = tuple((name, water_to_add_kg(powder_kg, held, solids)) for name, solids in wanted)
    except OutOfRange as error:
        name = "moist" if "water of a powder" in str(error) else "solids" if solids_percent is not None else "powder"
        raise BadInput({name: str(error)}) from error
    return Back(powder_kg, waters)


def weigh(
    book: Book, entry_id: str, kg: float, hours: float, load_kg: float | None, on: Day, today: Day, ident: str = ""
) -> None:
    """Put a weighing down as the next turn of the batch's weighing; sent twice with one id, it counts once.

    A weight that can't be is taken down too: the page says so. Raises: NotFound; BadInput for a day to come.
    """
    with book.reading() as session:
        entry = find(book, session, entry_id, today)
        if drying_way(entry.sheet) is None:
            raise BadInput({"kg": "That is not a batch for the dryer."})
        if ident and store.tick(session, ident) is not None:
            return
        measures: dict[str, Value] = {"kg": kg, "hours": hours}
        if load_kg:
            measures["load_kg"] = load_kg
        found = drying_of(book, session, entry, today)
        if found is not None and found.sums is not None:
            measures |= _is_dry(kg, load_kg or found.load_kg, found.sums)
        laid = book.live(session, today).laid[entry_id]
        said = [task for task in laid.tasks if task.step == "weigh"]
        last = max((task.label for task in said if task.done is not None), default=(0,))
        turn = min((task.label for task in said if task.label > last), default=(last[-1] + 1,))
    tick(book, key(entry_id, "weigh", turn), today, on=on, tick_id=ident, words=Words(measures))


def _is_dry(kg: float, fresh_kg: float, sums: Reckoned) -> Mapping[str, Value]:
    """Whether the only load is dry, which ends the weighing."""
    dry = dried_kg(fresh_kg, sums.water_percent, sums.target_percent)
    return {"dry": True} if sums.loads == 1 and is_reached(kg, dry) else {}
