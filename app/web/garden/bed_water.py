"""What a crop in a bed wants of water, in words and as a curve: the answer first, then how sure it is, then why."""

import math
from datetime import date

from app.rules.spans import Day
from app.services.garden.beds import BedView
from app.services.garden.ground import Bed
from app.services.garden.watering import Account, Line, need_of
from app.web import pages
from app.web.drawing import Stretch
from app.web.garden.bed_drawing import Owed, water
from app.web.garden.page import litres, months, wants_words
from app.web.parts import Pair
from app.web.words import SP, count, counted, day, figure, listed, short

MOST_DAYS = 14
AT_ONCE_MM = 25
"""So much water on a square metre the ground takes at one go; common practice."""


def water_of(one: Account, bed: Bed, today: date) -> pages.Water:
    """What a crop in a bed wants, how sure that is, and why."""
    first, last = one.lines[0].day, one.lines[-1].day
    curve = [Owed(d.stood.owed_mm, d.stood.ready_mm, d.rain_mm, d.watered_mm) for d in one.lines]
    stretch = Stretch(first, last, today.toordinal())
    return pages.Water(
        id=f"water-{one.stand.entry}",
        answer=answer(one, today),
        wants=one.wants,
        how=_how(one) if one.wants else "",
        sure=sure(one, bed),
        drawing=water(curve, _curve_words(one, today)),
        months=months(stretch, 1) if last - first > 40 else (),
        facts=_figures(one),
        days=tuple(_day(d, bed, today) for d in reversed(one.lines[-MOST_DAYS:])),
    )


def _how(one: Account) -> str:
    """How to give it: what is more than the ground takes at once, in several goes."""
    goes = math.ceil(one.owed_mm / AT_ONCE_MM)
    several = f"in {count(goes)} goes some days apart" if goes > 1 else "at one go"
    return f"{cap(litres(one.litres_bed))} for all of it, {several}: slowly, at the foot, in the evening."


def answer(one: Account, today: date) -> str:
    """What a crop wants, first of all."""
    crop = one.stand.crop
    many = crop is not None and bool(crop.many) and crop.many != crop.name
    name, verb = f"the {one.stand.what}", "want" if many else "wants"
    if one.ripens and one.stand.last is not None:
        said = f"{name} {'are' if many else 'is'} cleared by {day(_on(one.stand.last), today)}: no more water now."
    elif one.wants:
        dry = f"{count(one.dry_days)} days dry: " if one.dry_days is not None and one.dry_days > 2 else ""
        said = f"{dry}{name} {verb} {wants_words(one)}."
    elif one.wants_on is not None:
        said = f"{name} {'have' if many else 'has'} enough. Without rain, water by {day(_on(one.wants_on), today)}."
    else:
        said = f"{name} {'have' if many else 'has'} enough for six weeks and more, even without rain."
    return said[:1].upper() + said[1:]


def sure(one: Account, bed: Bed) -> str:
    """How much of it was measured here, and what stands in for the rest."""
    days = len(one.lines)
    rest = "an average year of this place"
    if bed.covered:
        read = f"warmth was read on {count(one.measured_warmth)} of {counted(days, 'day')}"
        return f"No rain falls here: what you give it is all it has. {cap(read)}; the rest is {rest}."
    if not one.measured_warmth and not one.measured_rain:
        return (
            f"No day was read here since then: all of it is {rest}, so put a finger in the soil before you believe it."
        )
    if one.measured_warmth == one.measured_rain == days:
        return "Every day of it was read here."
    read = (
        f"warmth was read on {count(one.measured_warmth)}, rain on {count(one.measured_rain)} of {counted(days, 'day')}"
    )
    return f"{cap(read)}; the rest is {rest}."


def cap(text: str) -> str:
    """A text with its first letter great."""
    return text[:1].upper() + text[1:]


def _figures(one: Account) -> tuple[Pair, ...]:
    last = one.lines[-1]
    stages = {
        "sheet": "as the sheet says",
        "table": "FAO-56, Table 11, the line nearest to its days to maturity",
        "estimate": "its days to maturity, parted as vegetables’ are in FAO-56, Table 11",
    }[one.stages_from]
    soil = one.soil if one.soil_said else f"{one.soil}, since none is said"
    return (
        Pair("owed to the soil", f"{figure(one.owed_mm, 1)}{SP}mm, that is litres on a square metre"),
        Pair(
            "water beyond",
            f"{figure(one.ready_mm, 1)}{SP}mm owed, of {figure(one.store_mm, 0)}{SP}mm in reach of the roots",
        ),
        Pair("drawn yesterday and today", f"{figure(sum(d.stood.used_mm for d in one.lines[-2:]), 1)}{SP}mm"),
        Pair("grass would draw", f"{figure(last.et0_mm, 1)}{SP}mm a day (Hargreaves, FAO-56, equation 52)"),
        Pair("stages", f"{' + '.join(str(n) for n in one.stages)} days from {short(_on(one.stand.first))}: {stages}"),
        Pair("soil", f"{soil} (FAO-56, Table 19)"),
        *(
            [Pair("figures", f"those of {one.as_crop} stand in for it (FAO-56, Tables 12 and 22)")]
            if one.as_crop
            else []
        ),
        Pair("full at the start", "the winter, or the sowing, filled the soil: common practice"),
    )


def _day(line: Line, bed: Bed, today: date) -> pages.WaterDay:
    read = "read" if line.warmth and (line.rain or bed.covered) else "half read" if line.warmth or line.rain else ""
    return pages.WaterDay(
        short(_on(line.day), today),
        "" if bed.covered else figure(line.rain_mm, 1),
        figure(line.watered_mm, 1) if line.watered_mm else "",
        figure(line.stood.used_mm, 1),
        figure(line.stood.owed_mm, 1),
        read or "average year",
    )


def _curve_words(one: Account, today: date) -> str:
    first = day(_on(one.lines[0].day), today)
    most = max(one.lines, key=lambda line: line.stood.owed_mm)
    return (
        f"Water owed to the soil since {first}: {figure(one.owed_mm, 0)} mm today, most on"
        f" {day(_on(most.day), today)} with {figure(most.stood.owed_mm, 0)} mm; beyond {figure(one.ready_mm, 0)} mm it"
        f" should be watered."
    )


def no_water(found: BedView) -> str:
    """What to say where there is no account."""
    line = found.line
    if line.water:
        return ""
    if any(one.begun for one in line.now):
        names = listed(one.name for one in line.now)
        if any(need_of(one) is not None for one in line.now if one.begun):
            return f"Rain is neither read here nor known for this place, so nothing can be said of {names}."
        return f"No figures of water are known for {names}."
    return "Nothing stands here that would want water."


def _on(value: Day) -> date:
    return date.fromordinal(value)
