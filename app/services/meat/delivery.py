"""A delivery of meat before it is put down: its packs, meals and weeks, the freezer's room and pace, a plan by day."""

from collections.abc import Mapping, Sequence
from math import ceil
from typing import NamedTuple

from app.rules.spans import Day
from app.services.meat.delivery_lines import CutLine, Way, curable, fridge_days, total_kg, usual_way
from app.trade.meat.carcase import YIELDS
from app.trade.meat.cuts import BEAST_OF, CutKind, CutPacks, Kind, cut_kind, cut_packs, pieces_said
from app.trade.meat.freezer import (
    KG_A_LITRE,
    Load,
    Lot,
    four_star_kg,
    loads,
    room_litres,
    slow_and_sure_kg,
    within_room,
)
from app.trade.meat.portions import heads, weeks_of_meals

MEAT_LB_A_CUBIC_FOOT = 2.0
"""The lower of 2 to 3. Source: West Virginia University Extension, freezing; freezer makers after the USDA."""


class Asked(NamedTuple):
    """A delivery as it was asked after: ``freezer_l`` of the freezer it goes into, ``free_l`` of that what is free."""

    on: Day
    of: Kind
    killed: str  # "home", "abattoir", "bought"
    lines: tuple[CutLine, ...]
    ways: Mapping[str, Way]  # by the cut's name, where one was chosen
    freezer_l: float
    free_l: float
    mouths: float
    meals_a_week: float
    carcase_kg: float | None = None  # of a carcase or a side that is still to be cut up


class Cut(NamedTuple):
    """A cut with what becomes of it: its packs when it is eaten raw from freezer or fridge, its days in the fridge."""

    line: CutLine
    kind: CutKind
    way: Way
    packs: CutPacks
    fridge_days: int
    cure: str  # the cure that it may go into, "" for none


class Due(NamedTuple):
    """Cuts that must be dealt with within so many days."""

    days: int
    cuts: tuple[Cut, ...]


class PlanDay(NamedTuple):
    """What is done on a day: ``freeze`` in kg by cut, ``late`` where it could not wait so long."""

    on: Day
    freeze: tuple[Load, ...]
    cure: tuple[Cut, ...] = ()
    fresh: tuple[Cut, ...] = ()
    other: tuple[Cut, ...] = ()


class Told(NamedTuple):
    """All that is told before saving. Kilos, litres, days; ``kg_a_day`` may be frozen in 24 hours."""

    asked: Asked
    cuts: tuple[Cut, ...]
    due: tuple[Due, ...]
    plan: tuple[PlanDay, ...]
    no_room: tuple[Load, ...]  # what the freezer has no room for, by cut
    kg: float
    freeze_kg: float
    packs: int
    pieces: int  # chops and steaks, singly
    meals: int
    weeks: float
    cured_meals: int
    litres: float
    kg_a_day: float
    star_kg: float
    days: int  # that freezing it all takes
    late_kg: float
    fits_kg: float  # what goes into the room there is
    over_kg: float  # what does not
    packed: tuple[float, float] | None  # of a carcase, kg low and high that are usually packed


def cuts_of(asked: Asked) -> tuple[Cut, ...]:
    """Every cut with its way: as chosen, as its line says, as usual."""
    return tuple(_cut(line, asked) for line in asked.lines)


def told(asked: Asked) -> Told:
    """What follows from a delivery.

    Raises: OutOfRange for weights, mouths or freezers that can't be; the form has checked them before.
    """
    cuts = cuts_of(asked)
    frozen = [cut for cut in cuts if cut.way == "freeze"]
    freeze_kg = total_kg([cut.line for cut in frozen])
    kg_a_day = slow_and_sure_kg(asked.freezer_l, MEAT_LB_A_CUBIC_FOOT)
    put_in = loads([Lot(cut.line.name, cut.line.kg, cut.fridge_days) for cut in frozen], kg_a_day)
    fit, over = within_room(put_in, asked.free_l * KG_A_LITRE)
    raw = [cut for cut in cuts if cut.way in ("freeze", "fresh")]
    meals = int(sum(cut.packs.meals for cut in raw) + 1e-9)
    return Told(
        asked=asked,
        cuts=cuts,
        due=_due(cuts),
        plan=_plan(asked, cuts, fit),
        no_room=_by_cut(over),
        kg=total_kg(asked.lines),
        freeze_kg=freeze_kg,
        packs=sum(cut.packs.packs for cut in raw if cut.kind.packing != "singly"),
        pieces=sum(cut.packs.packs for cut in raw if cut.kind.packing == "singly"),
        meals=meals,
        weeks=weeks_of_meals(meals, asked.meals_a_week),
        cured_meals=int(sum(_bacon(cut, asked.mouths) for cut in cuts) + 1e-9),
        litres=room_litres(freeze_kg),
        kg_a_day=kg_a_day,
        star_kg=four_star_kg(asked.freezer_l),
        days=max(1, ceil(round(freeze_kg / kg_a_day, 6))) if frozen else 0,
        late_kg=sum(load.kg for load in put_in if load.late),
        fits_kg=asked.free_l * KG_A_LITRE,
        over_kg=max(0.0, freeze_kg - asked.free_l * KG_A_LITRE),
        packed=_packed(asked),
    )


def _cut(line: CutLine, asked: Asked) -> Cut:
    kind = cut_kind(line.name, asked.of)
    way = asked.ways.get(line.name) or line.way or usual_way(line, kind, asked.of)
    cure = curable(line.name, asked.of)
    mouths = max(asked.mouths, heads(1))
    return Cut(line, kind, way, cut_packs(line.kg, kind, mouths, pieces_said(line.name)), fridge_days(kind), cure)


def _due(cuts: Sequence[Cut]) -> tuple[Due, ...]:
    """By the days they have, the fewest first: what is cured goes into the cure on the day."""
    by_days: dict[int, list[Cut]] = {}
    for cut in cuts:
        if cut.way != "other":
            by_days.setdefault(1 if cut.way == "cure" else cut.fridge_days, []).append(cut)
    return tuple(Due(days, tuple(by_days[days])) for days in sorted(by_days))


def _plan(asked: Asked, cuts: Sequence[Cut], put_in: Sequence[Load]) -> tuple[PlanDay, ...]:
    by_day: dict[int, list[Load]] = {}
    for load in put_in:
        by_day.setdefault(load.day, []).append(load)
    cure = tuple(cut for cut in cuts if cut.way == "cure")
    other = tuple(cut for cut in cuts if cut.way == "other")
    fresh: dict[int, list[Cut]] = {}
    for cut in (cut for cut in cuts if cut.way == "fresh"):
        fresh.setdefault(min(cut.fridge_days, 1), []).append(cut)
    days = {*by_day, *fresh} | ({0} if cure or other else set())
    return tuple(
        PlanDay(
            asked.on + day, tuple(by_day.get(day, ())), cure if day == 0 else (), tuple(fresh.get(day, ())),
            other if day == 0 else (),
        )
        for day in sorted(days)
    )  # fmt: skip


def _by_cut(loads: Sequence[Load]) -> tuple[Load, ...]:
    """Loads of one cut taken together, on the day of the first."""
    found: dict[str, Load] = {}
    for load in loads:
        first = found.get(load.what)
        found[load.what] = load if first is None else first._replace(kg=first.kg + load.kg)
    return tuple(found.values())


def _bacon(cut: Cut, mouths: float) -> float:
    """Meals that a cured cut makes, at the portion of bacon, a tenth lost in the cure; a leg is none of it."""
    if cut.way != "cure" or cut.cure not in ("belly", "loin"):
        return 0.0
    return cut_packs(cut.line.kg * 0.9, CutKind("bacon", "bacon", "by the pack"), max(mouths, heads(1))).meals


def _packed(asked: Asked) -> tuple[float, float] | None:
    beast, kg = BEAST_OF.get(asked.of), asked.carcase_kg
    if kg is None or beast is None:
        return None
    low, high = YIELDS[beast].packed
    return kg * low / 100, kg * high / 100
