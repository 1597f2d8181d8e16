"""What a freezer holds, and which of a delivery goes into it on which day."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from app.errors import OutOfRange

KG_A_LITRE = 0.56
"""Wrapped meat: 35 lb a cubic foot, the lower of 35 to 40. Source: a farm's page on freezer space; common practice."""
_FOUR_STAR_KG, _FOUR_STAR_LEAST_KG = 4.5, 2.0
_CRUMB_KG = 0.25
"""The last of a cut is not kept back for another day when it is less than this."""
_LB_A_CUBIC_FOOT_KG_L = 0.45359237 / 28.316846592


def room_litres(kg: float) -> float:
    """Freezer room that packed meat takes: ``kg / 0.56``.

    Valid: 0 kg and more. Source: 35 lb a cubic foot, as above. Raises: OutOfRange below that.
    """
    if kg < 0:
        raise OutOfRange("A weight", kg, "0 kg and more")
    return kg / KG_A_LITRE


def fits(kg: float, free_litres: float) -> None:
    """Say so when meat does not go into the room there is.

    Source: `room_litres`. Raises: OutOfRange with what the room takes.
    """
    if free_litres < 0:
        raise OutOfRange("Room of litres", free_litres, "0 and more")
    if room_litres(kg) > free_litres + 1e-9:
        most = free_litres * KG_A_LITRE
        advice = f"{kg:g} kg take {room_litres(kg):.0f} litres. Cure, cook, give away or share what is over."
        raise OutOfRange("A weight", kg, f"up to {most:.0f} kg in {free_litres:g} litres", advice)


def four_star_kg(freezer_l: float) -> float:
    """What a four-star freezer must freeze in 24 hours: 4.5 kg for 100 litres, and 2 kg at least.

    Valid: more than 0 litres. Source: the four-star compartment of the EU energy-label definitions.
    Raises: OutOfRange beyond that.
    """
    if freezer_l <= 0:
        raise OutOfRange("A freezer", freezer_l, "more than 0 litres")
    return max(_FOUR_STAR_LEAST_KG, _FOUR_STAR_KG * freezer_l / 100)


def slow_and_sure_kg(freezer_l: float, lb_a_cubic_foot: float) -> float:
    """What freezes in 24 hours by pounds to the cubic foot: 2 of meat, 3 of fruit and vegetables.

    Valid: more than 0 litres. Source: freezer manuals citing the USDA; West Virginia University Extension (2 to 3).
    Raises: OutOfRange beyond that.
    """
    if freezer_l <= 0:
        raise OutOfRange("A freezer", freezer_l, "more than 0 litres")
    return lb_a_cubic_foot * _LB_A_CUBIC_FOOT_KG_L * freezer_l


class Lot(NamedTuple):
    """Some of a delivery: ``fridge_days`` it may wait, raw, at 5 °C or less."""

    what: str
    kg: float
    fridge_days: int


class Load(NamedTuple):
    """What of a lot goes in on a day (0 is the day it comes); ``late`` when it could not have waited so long."""

    day: int
    what: str
    kg: float
    late: bool


def loads(lots: Sequence[Lot], kg_a_day: float) -> tuple[Load, ...]:
    """Share a delivery out over days, what spoils first going first, so many kilos a day.

    Valid: more than 0 kg a day, weights of 0 and more. Source: common practice.
    Raises: OutOfRange beyond that. A late load is told and not dropped: have the butcher freeze it.
    """
    if kg_a_day <= 0:
        raise OutOfRange("A load", kg_a_day, "more than 0 kg a day")
    found: list[Load] = []
    done = 0.0
    for lot in sorted(lots, key=lambda one: (one.fridge_days, one.what)):
        if lot.kg < 0:
            raise OutOfRange("A weight", lot.kg, "0 kg and more")
        end = done + lot.kg
        first = len(found)
        for day in range(int(done / kg_a_day + 1e-9), max(1, ceil(round(end / kg_a_day, 6)))):
            share = min(end, (day + 1) * kg_a_day) - max(done, day * kg_a_day)
            if share > _CRUMB_KG or (share > 1e-9 and len(found) == first):
                found.append(Load(day, lot.what, share, day > lot.fridge_days))
            elif share > 1e-9:
                found[-1] = found[-1]._replace(kg=found[-1].kg + share)
        done = end
    return tuple(found)


def within_room(put_in: Sequence[Load], room_kg: float) -> tuple[tuple[Load, ...], tuple[Load, ...]]:
    """Loads parted in two: those that the freezer has room for, in their order, and those that it has not.

    Valid: 0 kg of room and more. Source: arithmetic.
    """
    fit: list[Load] = []
    over: list[Load] = []
    for load in put_in:
        room = max(0.0, room_kg - sum(one.kg for one in fit))
        if room > 1e-9:
            fit.append(load._replace(kg=min(load.kg, room)))
        if load.kg - room > 1e-9:
            over.append(load._replace(kg=load.kg - room))
    return tuple(fit), tuple(over)
