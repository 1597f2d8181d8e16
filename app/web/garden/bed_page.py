"""One bed as a page: what stands in it, its water and why, what it wants next, and what can be said of it."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple
from urllib.parse import quote

from app.rules.spans import Day
from app.services.garden.bed_advice import FAMILIES, HOLDS_OFF
from app.services.garden.beds import BedView, Holds, Quarrel
from app.services.garden.ground import INDOORS, Bed, Fact
from app.web import pages
from app.web.drawing import Stretch
from app.web.garden.bed_forms import OTHER, TROUBLES, bed_form, fact_form
from app.web.garden.bed_water import cap, no_water, water_of
from app.web.garden.page import about, drawn, free_words, months, stretch_words, two_years
from app.web.links import entry_href
from app.web.parts import Form, Frame, Link, Undoing
from app.web.words import SP, amount, counted, day, figure, listed

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
    indoors = bed.cover in INDOORS
    kinds = ("watered",) if indoors else tuple(SUMMARIES)
    stretch = two_years(today)
    ended = f"No bed any more since {day(_on(bed.ends), today)}. " if bed.ends is not None else ""
    return pages.Bed(
        frame=frame,
        name=bed.name,
        sub=f"{ended}{about(bed, imperial)} · {figure(bed.area_m2, 1)}{SP}m²" + (f" · {bed.note}" if bed.note else ""),
        warnings=_warnings(found, today),
        cover=COVERED[bed.cover],
        line=drawn(line.stands, stretch, today, bed.name),
        months=months(stretch),
        standing=_standing(found, stretch, today),
        free="" if indoors else f"{cap(free_words(line.gaps, today))}.",
        water=tuple(water_of(one, bed, today) for one in line.water),
        no_water="Trays are listed under cover, with the beds." if indoors else no_water(found),
        next=_next(found),
        feeding=_feeding(found, today),
        feeds=() if indoors else tuple(Link(one.text, f"{one.href}?place={quote(bed.name)}") for one in FEED_LINKS),
        fits=() if indoors else tuple(_fits(one) for one in found.holds if one.rested),
        fits_note=_fits_note(found),
        said=tuple(_said(one, found, today, imperial) for one in found.facts),
        forms=(*(_form(kind, found, today, imperial, wrong) for kind in kinds), _own(bed, imperial, wrong)),
        add=Link("Put something down here", f"/add?trade=garden&place={quote(bed.name)}"),
    )


FEED_LINKS = (
    Link("Muck", "/add/muck"),
    Link("Compost", "/add/compost"),
    Link("Lime", "/add/lime"),
    Link("Green manure", "/add/green-manure"),
    Link("Test bought muck or hay for weedkiller", "/add/weedkiller-test"),
)


def _standing(found: BedView, stretch: Stretch, today: date) -> tuple[pages.Standing, ...]:
    """What stood here in three years, stands, or is planned to."""
    now = today.toordinal()
    return tuple(
        pages.Standing(
            one.name,
            entry_href(one.entry),
            stretch_words(one, today),
            "" if one.begun else "planned",
            past=one.last is not None and one.last < now,
        )
        for one in found.line.stands
        if one.meets(stretch.first - 730, stretch.last + 365)
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


# ── What comes next ───────────────────────────────────────────────────────────────────────────────────────────────


def _next(found: BedView) -> str:
    line = found.line
    if line.bed.cover in INDOORS:
        return ""
    wants = listed([FAMILIES[group] for group in line.wants], "or")
    if not wants:
        return (
            f"Every group has stood here too lately for {found.year + 1}: salads, squash, sweetcorn, or green manure."
        )
    return f"In {found.year + 1} it is the turn of {wants}, in that order. Salads, squash and sweetcorn go anywhere."


def _feeding(found: BedView, today: date) -> tuple[str, ...]:
    line = found.line
    if line.bed.cover in INDOORS:
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
        words = f"{cap(kind.word if kind is not None else one.what)} grew here in {_on(one.on).year}"
    elif one.kind == "trouble":
        words = f"{one.note if one.what == OTHER and one.note else TROUBLES.get(one.what, one.what)}, {on}"
        return Undoing(words, "" if one.what == OTHER else one.note, back)
    elif one.kind == "fed":
        words = f"{cap(one.what)}{f', {how_much},' if how_much else ''} on {on}"
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
