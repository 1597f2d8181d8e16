"""One bed as a page: what stands in it, its water and why, what it wants next, and what can be said of it."""

import math
from collections.abc import Mapping
from datetime import date
from typing import NamedTuple
from urllib.parse import quote

from app.rules.spans import Day
from app.services.bed_advice import FAMILIES, HOLDS_OFF
from app.services.beds import BedView, Holds, Quarrel
from app.services.ground import Bed, Fact
from app.services.watering import Account, Line
from app.web import pages
from app.web.bed_drawing import Owed, water
from app.web.bed_forms import OTHER, TROUBLES, bed_form, fact_form
from app.web.drawing import Stretch
from app.web.garden_page import about, drawn, free_words, litres, months, stretch_words, two_years, wants_words
from app.web.links import entry_href
from app.web.parts import Form, Frame, Link, Pair, Undoing
from app.web.words import SP, amount, count, counted, day, figure, listed, short

COVERED = {
    "open": "",
    "tunnel": f"A tunnel holds off {HOLDS_OFF} of frost on a still night, more with fleece. No rain falls in it:"
    " water by hand.",
    "frame": f"A frame holds off {HOLDS_OFF} of frost, more with sacking over it. Shut it at dusk, open it in the sun;"
    " no rain falls in it.",
    "propagator": "A propagator stands in the house: no frost, no rain, and never dry for a day.",
    "sill": "A sill has no frost while the window is shut, and little light before March. Turn the trays, and"
    " water from below.",
}
SUMMARIES = {
    "watered": "It was watered",
    "fed": "It was fed",
    "grew": "Something grew here before",
    "trouble": "Trouble was found",
}
MOST_DAYS = 14
AT_ONCE_MM = 25
"""So much water on a square metre the ground takes at one go; common practice."""


class Wrong(NamedTuple):
    """A form that was refused: which kind ("bed" for the bed's own facts), what was typed and what was wrong."""

    kind: str = ""
    typed: Mapping[str, str] = {}
    errors: Mapping[str, str] = {}

    def of(self, kind: str) -> tuple[Mapping[str, str], Mapping[str, str]]:
        """What was typed into a form and what was wrong with it; nothing for every other form."""
        return (self.typed, self.errors) if kind == self.kind else ({}, {})


def bed_page(frame: Frame, found: BedView, today: date, imperial: bool, wrong: Wrong) -> pages.Bed:
    """The page."""
    line, bed = found.line, found.line.bed
    stretch = two_years(today)
    ended = f"No bed any more since {day(_on(bed.ends), today)}. " if bed.ends is not None else ""
    standing = [one for one in line.stands if one.meets(stretch.first - 730, stretch.last + 365)]
    return pages.Bed(
        frame=frame,
        name=bed.name,
        sub=f"{ended}{about(bed, imperial)} · {figure(bed.area_m2, 1)}{SP}m²" + (f" · {bed.note}" if bed.note else ""),
        warnings=_warnings(found, today),
        cover=COVERED[bed.cover],
        line=drawn(line.stands, stretch, today, bed.name),
        months=months(stretch),
        standing=tuple(
            pages.Standing(
                one.name,
                entry_href(one.entry),
                stretch_words(one, today),
                "" if one.begun else "planned",
                past=one.last is not None and one.last < today.toordinal(),
            )
            for one in standing
        ),
        free=f"{_cap(free_words(line.gaps, today))}.",
        water=tuple(_water(one, bed, today) for one in line.water),
        no_water=_no_water(found, today),
        next=_next(found),
        feeding=_feeding(found, today),
        feeds=tuple(Link(one.text, f"{one.href}?place={quote(bed.name)}") for one in FEED_LINKS),
        fits=tuple(_fits(one) for one in found.holds if one.rested),
        fits_note=_fits_note(found),
        said=tuple(_said(one, found, today, imperial) for one in found.facts),
        forms=(*(_form(kind, found, today, imperial, wrong) for kind in SUMMARIES), _own(bed, imperial, wrong)),
        add=Link("Put something down here", f"/add?trade=garden&place={quote(bed.name)}"),
    )


FEED_LINKS = (
    Link("Muck", "/add/muck"),
    Link("Compost", "/add/compost"),
    Link("Lime", "/add/lime"),
    Link("Green manure", "/add/green-manure"),
    Link("Test bought muck or hay for weedkiller", "/add/weedkiller-test"),
)


def _warnings(found: BedView, today: date) -> tuple[str, ...]:
    sentences = []
    for what, year in found.sick:
        sentences.append(f"{what.capitalize()} was found here in {year}.")
    return (*sentences, *found.line.clashes, *(_quarrel(one, today) for one in found.quarrels))


def _quarrel(one: Quarrel, today: date) -> str:
    apart = "on one day" if not one.days else f"{counted(one.days, 'day')} apart"
    return (
        f"{one.fed.what.capitalize()} on {day(_on(one.fed.day), today)} and {one.other} came {apart}: together they"
        " drive the goodness off. Two months should lie between."
    )


# ── Water ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _water(one: Account, bed: Bed, today: date) -> pages.Water:
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
    return f"{_cap(litres(one.litres_bed))} for all of it, {several}: slowly, at the foot, in the evening."


def answer(one: Account, today: date) -> str:
    """What a crop wants, first of all."""
    crop = one.stand.crop
    many = bool(crop is not None and crop.many)
    name, verb = f"the {one.stand.what}", "want" if many else "wants"
    if one.wants:
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
        return f"No rain falls here: what you give it is all it has. {_cap(read)}; the rest is {rest}."
    if not one.measured_warmth and not one.measured_rain:
        return (
            f"No day was read here since then: all of it is {rest}, so put a finger in the soil before you believe it."
        )
    if one.measured_warmth == one.measured_rain == days:
        return "Every day of it was read here."
    read = (
        f"warmth was read on {count(one.measured_warmth)}, rain on {count(one.measured_rain)} of {counted(days, 'day')}"
    )
    return f"{_cap(read)}; the rest is {rest}."


def _cap(text: str) -> str:
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


def _no_water(found: BedView, today: date) -> str:
    line = found.line
    if line.water:
        return ""
    if any(one.begun for one in line.now):
        names = listed(one.name for one in line.now)
        return f"No figures of water are known for {names}."
    return "Nothing stands here that would want water."


# ── What comes next ───────────────────────────────────────────────────────────────────────────────────────────────


def _next(found: BedView) -> str:
    line = found.line
    if line.bed.cover in ("propagator", "sill"):
        return ""
    wants = listed([FAMILIES[group] for group in line.wants], "or")
    if not wants:
        return (
            f"Every group has stood here too lately for {found.year + 1}: salads, squash, sweetcorn, or green manure."
        )
    return f"In {found.year + 1} it is the turn of {wants}, in that order. Salads, squash and sweetcorn go anywhere."


def _feeding(found: BedView, today: date) -> tuple[str, ...]:
    line = found.line
    if line.bed.cover in ("propagator", "sill"):
        return ()
    before = line.next.name if line.next is not None else FAMILIES.get(line.before, "")
    sentences = []
    if line.feeds and before:
        lime = " (where a test says the soil is sour)" if "lime" in line.feeds else ""
        sentences.append(f"Before {before} it wants {listed(line.feeds)}{lime}.")
    if line.before == "roots":
        sentences.append("Before roots nothing fresh: they fork in muck of the same year.")
    if line.before == "potatoes":
        sentences.append("No lime before potatoes.")
    last = [f"{one.what} on {day(_on(one.day), today)}" for one in found.fed[:3]]
    sentences.append(f"It had {listed(last)}." if last else "Nothing has been put down as spread here.")
    return tuple(sentences)


def _fits(one: Holds) -> pages.Fits:
    return pages.Fits(one.word, figure(one.fit.plants, 0), figure(one.fit.rows, 0), figure(one.fit.row_m, 1))


def _fits_note(found: BedView) -> str:
    resting = [one for one in found.holds if not one.rested]
    return f"Of groups whose turn it is; {counted(len(resting), 'crop')} more should wait." if resting else ""


# ── What is said ──────────────────────────────────────────────────────────────────────────────────────────────────


def _said(one: Fact, found: BedView, today: date, imperial: bool) -> Undoing:
    back = Form(f"/garden/bed/{one.bed}/said/{one.id}/back", "Take back", quiet=True)
    how_much = amount(one.amount, one.unit) if one.amount is not None else ""
    on = day(_on(one.on), today)
    if one.kind == "grew":
        kind = found.kinds.get(one.what)
        words = f"{_cap(kind.word if kind is not None else one.what)} grew here in {_on(one.on).year}"
    elif one.kind == "trouble":
        words = f"{one.note if one.what == OTHER and one.note else TROUBLES.get(one.what, one.what)}, {on}"
        return Undoing(words, "" if one.what == OTHER else one.note, back)
    elif one.kind == "fed":
        words = f"{_cap(one.what)}{f', {how_much},' if how_much else ''} on {on}"
    else:
        words = f"Watered on {on}{f': {how_much}' if how_much else ''}"
    return Undoing(words, one.note, back)


def _form(kind: str, found: BedView, today: date, imperial: bool, wrong: Wrong) -> pages.BedForm:
    typed, errors = wrong.of(kind)
    form = fact_form(kind, found.line.bed.id, found.kinds, today, imperial, typed, errors)
    return pages.BedForm(SUMMARIES[kind], form, bool(errors))


def _own(bed: Bed, imperial: bool, wrong: Wrong) -> pages.BedForm:
    typed, errors = wrong.of("bed")
    form = bed_form(f"/garden/bed/{bed.id}", "Keep", imperial, typed, errors, bed)
    return pages.BedForm("Change the bed itself", form, bool(errors), "What stands in it follows a new name.")


def _on(value: Day) -> date:
    return date.fromordinal(value)
