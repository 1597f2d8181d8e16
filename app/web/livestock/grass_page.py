"""Grass and hay as a page."""

from datetime import date

from app.services.livestock.grass import DryMonth, Field, Grass, Paddock, Short
from app.sheets.library import Library
from app.web import pages, told
from app.web.links import entry_href
from app.web.livestock.husbandry_links import ways
from app.web.pages.husbandry import GrassLine
from app.web.parts import Frame, Link, Pair
from app.web.rows import date_of, job_href
from app.web.weights import weight
from app.web.words import MONTHS, SP, between, counted, day, figure, left

PUT = (
    Link("Animals onto a paddock", "/add/paddock"), Link("Hay to be made", "/add/hay-made"),
    Link("Hay to be bought", "/add/hay-bought"),
)  # fmt: skip
WHY = (
    "Rest by how grass grows: 18 to 25 days when it races, 25 to 35 steady, 35 to 50 slow, 70 to 120 in winter; a hand"
    " high says more than a date (common practice).",
    "Clean ground: no sheep or goat for a year, half that where hay was cut since; a worm-egg count tells more (SCOPS,"
    " from memory).",
    "Dry days have less than 1 mm. Three in a row are counted without overlap, by a chain of wet and dry days.",
    "Hay is fed while the soil here is colder than 6 °C in a usual year, when grass does not grow, and for three weeks"
    " after, until there is enough of it; where it is never so cold, for the sixty days about the coldest. It is"
    " cheapest off the field (common practice).",
    "Hay from a field: 3.5 tonnes a hectare of old pasture; leys give twice that (common practice).",
)
CLEAN = "For lambs just weaned. It counts any grazing as by sheep or goats: what was grazed by others is clean sooner."


def grass_page(frame: Frame, found: Grass, library: Library, imperial: bool, today: date) -> pages.LivestockGrass:
    """The page."""
    paddocks = tuple(_paddock(one, today) for one in found.paddocks)
    short = found.short
    empty = "" if paddocks or found.fields or short else "No paddock and no hay are put down."
    return pages.LivestockGrass(
        frame, _first(found, today), paddocks, _wanted(found), _clean(found, today), CLEAN,
        tuple(_field(one, imperial, today) for one in found.fields), tuple(_month(one) for one in found.months),
        "Dry days of a usual year, and how often three come together.", _short(short, today),
        _short_facts(short, imperial, today),
        Link("Put the hay to be bought down", "/add/hay-bought") if short is not None and short.buy.bales else None,
        PUT, ways("/livestock/grass"), told.cautions(library, ("poisonous-plants", "hay-heats")), WHY, empty,
    )  # fmt: skip


def _first(found: Grass, today: date) -> Pair | None:
    over = next((one for one in found.paddocks if one.state == "over" and one.until is not None), None)
    if over is not None and over.until is not None:
        return Pair(left(date_of(over.until[2]), today).capitalize(), f"Take them off {over.name}", job_href(over.key))
    fit = next((one for one in found.paddocks if one.state == "fit"), None)
    on = next((one for one in found.paddocks if one.state == "stocked" and one.until is not None), None)
    if on is not None and on.until is not None:
        to = f", onto {fit.name}" if fit is not None else ""
        return Pair(f"By {day(date_of(on.until[2]), today)}", f"Take them off {on.name}{to}", job_href(on.key))
    return Pair("Fit now", fit.name, entry_href(fit.entry)) if fit is not None else None


STATES = {
    "to come": "to come", "stocked": "stocked", "over": "stocked too long", "rests": "rests", "fit": "fit to graze",
}  # fmt: skip


def _paddock(one: Paddock, today: date) -> GrassLine:
    when, until = "", one.until
    since = f"since {day(date_of(one.since), today)}"
    if one.state in ("stocked", "over") and until is not None:
        when = f"off by {day(date_of(until[2]), today)}"
    elif one.state == "rests" and until is not None:
        spread = f" ({between(date_of(until[0]), date_of(until[2]), today)})" if until[0] != until[2] else ""
        when = f"fit about {day(date_of(until[1]), today)}{spread}"
    elif one.state == "to come":
        since, when = "", f"on {day(date_of(one.since), today)}"
    head = f"{counted(one.head, 'head', 'head')} " if one.head and one.state in ("stocked", "over", "to come") else ""
    area = f"{figure(one.area_m2, 0)}{SP}m²" if one.area_m2 else ""
    sub = " · ".join(part for part in (f"{head}{since}".strip(), area) if part)
    job = Link("the job", job_href(one.key)) if one.key else None
    return GrassLine(one.name, entry_href(one.entry), STATES[one.state], sub, when, one.state == "over", job)


def _wanted(found: Grass) -> str:
    if found.wanted is None:
        return ""
    count, rest, on = found.wanted
    here = len(found.paddocks)
    enough = "" if here >= count else f"; {counted(here, 'is', 'are')} put down"
    each = f"{counted(rest, 'day')} of rest and {counted(on, 'day')} on each"
    return f"At {each}, a round takes {counted(count, 'paddock')}{enough}."


def _clean(found: Grass, today: date) -> tuple[Pair, ...]:
    pairs = []
    for one in sorted((one for one in found.paddocks if one.clean is not None), key=lambda one: one.clean or 0):
        on = date_of(one.clean or 0)
        cut = ", hay cut since" if one.cut else ""
        pairs.append(Pair(one.name, f"clean now{cut}" if on <= today else f"from {day(on, today)}{cut}"))
    return tuple(pairs)


def _field(one: Field, imperial: bool, today: date) -> GrassLine:
    cut = date_of(one.cut_on) if one.cut_on is not None else None
    state = "made" if one.made else "shut up" if one.shut else "to be shut up"
    when = f"{'cut' if one.made else 'to be cut about'} {day(cut, today)}" if cut is not None else ""
    sub = f"{figure(one.area_m2, 0)}{SP}m², about {weight(one.yield_kg, imperial)} of hay"
    job = Link(one.title, job_href(one.key)) if one.key and one.title else None
    return GrassLine(one.name, entry_href(one.entry), state, sub, when, False, job)


def _month(one: DryMonth) -> Pair:
    if one.dry_days is None or one.windows is None:
        return Pair(MONTHS[one.month - 1], "no rain on record here")
    return Pair(MONTHS[one.month - 1], f"{figure(one.dry_days, 0)} dry days; three together {_times(one.windows)}")


def _times(windows: float) -> str:
    return f"about {figure(windows, 1)} times"


def _short(short: Short | None, today: date) -> str:
    if short is None:
        return ""
    if not short.buy.bales:
        return "There is hay enough for the winter, with what is to be made."
    bales = f"{counted(short.buy.bales, 'bale')} of {figure(short.thing.pack)}{SP}kg"
    return f"Buy {bales} by {day(date_of(short.by), today)}."


def _short_facts(short: Short | None, imperial: bool, today: date) -> tuple[Pair, ...]:
    if short is None:
        return ()
    first, last = (date_of(one) for one in short.winter)
    there = weight(short.there_kg, imperial) if short.thing.left is not None else "not counted"
    found = [
        Pair("wanted", f"{weight(short.wanted_kg, imperial)}, {between(first, last, today)}"),
        Pair("in the barn", there, "/livestock/feed"),
        Pair("to be made", weight(short.to_make_kg, imperial) if short.to_make_kg else "none"),
    ]
    return tuple(found)
