"""A batch in the dryer as a page's part, and drying reckoned before anything goes in."""

from collections.abc import Mapping
from datetime import date
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from markupsafe import Markup

from app.rules.terms import Ask
from app.services.preserving.drying import Drying, Reckoned
from app.services.preserving.drying_sums import USUAL_WATER_PERCENT, Back
from app.sheets.library import Library
from app.web import pages, told
from app.web.fields import field, in_units
from app.web.forms import Wrong, fresh_id
from app.web.links import entry_href
from app.web.parts import Choice, Field, Form, Frame, Link, Pair
from app.web.preserving.drying_drawing import drying_curve
from app.web.weights import figure_of, span, weight
from app.web.words import SP, clock, counted, day, figure, hours

NOW = Ask("kg", "kg", "A load weighs now", low=0.01, high=200)
SO_FAR = Ask("hours", "h", "Hours in the dryer so far", low=0, high=200)
FRESH = Ask("load_kg", "kg", "It weighed, fresh", low=0.01, high=200, optional=True)
PUT_ON = Ask("kg", "kg", "Put on the trays", low=0.05, high=500)
POWDER = Ask("powder", "g", "Powder", low=1, high=50_000)
SPARE = "The dry weight is the surest test: weigh without the trays. Then break one: crisp, or leathery for fruit."


def batch_href(entry_id: str) -> str:
    """Where a weighing is sent."""
    return f"/preserving/drying/{entry_id}"


def answer_of(one: Drying, imperial: bool, zone: str, today: date) -> str:
    """How far it is, in a sentence."""
    if one.sums is None or one.fault:
        return one.fault
    goal = weight(one.load_dry_kg, imperial)
    load = "a load" if one.sums.loads > 1 else "it"
    if one.dry:
        return f"Dry: {goal} was the weight to reach." if one.weighed else "Found dry."
    if not one.weighed or one.left_hours is None:
        return f"{load.capitalize()} is dry at {goal}, in about {hours(60 * one.sums.hours)}."
    return f"{load.capitalize()} is dry at {goal}: about {hours(60 * one.left_hours)} more{_ready(one, zone, today)}."


def drying_part(one: Drying, imperial: bool, zone: str, today: date, wrong: Wrong | None = None) -> pages.Drying:
    """The part of a page: the answer, the weights, the curve with its words, the form for the next weighing."""
    sums = one.sums
    typed, errors = wrong.of("weigh") if wrong is not None else ({}, {})
    words = _curve_words(one, imperial) if sums is not None else ""
    curve = Markup("")
    if sums is not None and one.curve:
        ends = (weight(one.load_dry_kg, imperial), hours(60 * max(h for h, _ in one.curve)))
        dots = [(each.hours, each.kg) for each in one.weighed]
        curve = drying_curve(one.curve, dots, one.load_dry_kg, words, ends)
    return pages.Drying(
        answer=answer_of(one, imperial, zone, today) if not one.fault else "",
        facts=_facts(one, sums, imperial) if sums is not None else (),
        fault=one.fault,
        curve=curve,
        curve_words=words,
        weighed=tuple(Pair(f"after {figure(each.hours, 1)}{SP}h", weight(each.kg, imperial)) for each in one.weighed),
        why=(*_why(sums, imperial), SPARE) if sums is not None else (),
        weigh=_weigh_form(one, imperial, today, typed, errors) if sums is not None and not one.dry else None,
        open=bool(errors),
    )


def _facts(one: Drying, sums: Reckoned, imperial: bool) -> tuple[Pair, ...]:
    pairs = (
        Pair("dry at", f"{weight(sums.dry_kg, imperial)} in all" if sums.loads > 1 else weight(sums.dry_kg, imperial)),
        Pair("loads", f"{counted(sums.loads, 'load')} of {weight(sums.load_kg, imperial)}" if sums.loads > 1 else ""),
        Pair("water now", f"{figure(one.now_percent, 0)}{SP}%" if one.now_percent is not None else ""),
        Pair("to be", f"{figure(sums.target_percent)}{SP}% or less"),
        Pair("evening out", f"{counted(sums.way.condition_days, 'day')} in jars" if sums.way.condition_days else ""),
    )
    return tuple(pair for pair in pairs if pair.value)


def _why(sums: Reckoned, imperial: bool) -> tuple[str, ...]:
    water, target = figure(sums.water_percent), figure(sums.target_percent)
    odd = f" {counted(sums.past.odd, 'batch', 'batches')} that can’t be so were left out." if sums.past.odd else ""
    return (
        f"The solids stay: {weight(sums.fresh_kg, imperial)} × (100 − {water}) / (100 − {target}) ="
        f" {weight(sums.dry_kg, imperial)}. Water {water}{SP}%: {sums.water_from}.{odd}",
        f"Hours of a load: {sums.hours_from}. The curve is Lewis’ model, each hour taking the same share of the water.",
    )


def _curve_words(one: Drying, imperial: bool) -> str:
    said = [f"after {figure(each.hours, 1)} hours {weight(each.kg, imperial)}" for each in one.weighed]
    goal = f"to {weight(one.load_dry_kg, imperial)} after {figure(max((h for h, _ in one.curve), default=0), 0)} hours"
    start = f"A load falls from {weight(one.load_kg, imperial)} {goal}"
    return f"{start}; weighed {', '.join(said)}." if said else f"{start}."


def _ready(one: Drying, zone: str, today: date) -> str:
    if one.ready is None:
        return ""
    at = one.ready.astimezone(ZoneInfo(zone))
    on = "today" if at.date() == today else f"on {day(at.date(), today)}"
    return f", {on} at about {clock(at.hour * 60 + (at.minute + 7) // 15 * 15)}"


def _weigh_form(one: Drying, imperial: bool, today: date, typed: Mapping[str, str], errors: Mapping[str, str]) -> Form:
    asks = in_units((NOW, SO_FAR, *((FRESH,) if one.sums is not None and one.sums.loads > 1 else ())), imperial)
    fields = [field(ask, typed.get(ask.name, ""), errors.get(ask.name, "")) for ask in asks]
    on = typed.get("on", today.isoformat())
    fields.append(Field("on", "On", "date", on, error=errors.get("on", ""), high=today.isoformat(), id="weigh-on"))
    fresh = f"Left out, it is {weight(one.load_kg, imperial)}." if len(asks) > 2 else ""
    ident = (Pair("id", typed.get("id", "") or fresh_id()),)
    return Form(batch_href(one.entry.id), "Put the weight down", tuple(fields), ident, note=fresh, quiet=True)


# ── Reckoned before it goes in ────────────────────────────────────────────────────────────────────────────────────


def sums_page(
    frame: Frame, library: Library, typed: Mapping[str, str], errors: Mapping[str, str], crops: tuple[str, ...],
    found: Reckoned | None, back: Back | None, imperial: bool,
) -> pages.DryingSums:  # fmt: skip
    """The page: a batch reckoned, and powder brought back."""
    sheet = library.sheets.get(found.way.sheet) if found is not None else None
    return pages.DryingSums(
        frame=frame,
        asked=_asked(typed, errors, crops, imperial),
        heading=f"{weight(found.fresh_kg, imperial)} of {found.crop.crop}" if found is not None else "",
        answer=_answer(found, imperial) if found is not None else (),
        notes=_notes(found) if found is not None else (),
        why=_why(found, imperial) if found is not None else (),
        add=_add(found, typed.get("crop", "")) if found is not None else None,
        powder=_powder_form(typed, errors, imperial),
        powder_heading=f"{weight(back.powder_kg, imperial)} of powder" if back is not None else "",
        powder_answer=_powder(back, imperial) if back is not None else (),
        cautions=told.cautions(library, sheet.cautions if sheet is not None else ("drying-is-not-sterile",)),
        links=(Link("Plan a glut", "/preserving/glut"), Link("Preserving", "/preserving"), Link("Kit", "/kit")),
    )


def _asked(typed: Mapping[str, str], errors: Mapping[str, str], crops: tuple[str, ...], imperial: bool) -> Form:
    (ask,) = in_units((PUT_ON,), imperial)
    as_what = (Choice("pieces", "Slices or pieces"), Choice("powder", "Leather, for powder"))
    fields = (
        Field("crop", "What", "list", typed.get("crop", ""), error=errors.get("crop", ""), required=True,
              choices=tuple(Choice(name, f"{name[:1].upper()}{name[1:]}") for name in crops)),
        field(ask, typed.get("kg", ""), errors.get("kg", "")),
        Field("how", "As", "choice", typed.get("how", "pieces"), error=errors.get("how", ""), choices=as_what),
        Field("target", "Down to, of water", "number", typed.get("target", ""), "%", error=errors.get("target", ""),
              help="Left out: vegetables 10, fruit 20, leather for powder 4."),
        Field("water", "Its water, if you know better than the table", "number", typed.get("water", ""), "%",
              error=errors.get("water", "")),
    )  # fmt: skip
    return Form("/preserving/drying", "Reckon", fields, method="get")


def _answer(found: Reckoned, imperial: bool) -> tuple[Pair, ...]:
    pairs = (
        Pair("dry at", f"{weight(found.dry_kg, imperial)} in all"),
        Pair("a load", f"dry at {weight(found.load_dry_kg, imperial)}, of {weight(found.load_kg, imperial)}"
             if found.loads > 1 else ""),
        Pair("loads", f"{counted(found.loads, 'load')}, {figure_of(found.hours)}{SP}h each"),
        Pair("in the dryer", hours(60 * found.loads * found.hours)),
        Pair("fuel", span(*found.kwh, "kWh")),
        Pair("evening out", f"{counted(found.way.condition_days, 'day')} in jars, shaken daily"
             if found.way.condition_days else ""),
    )  # fmt: skip
    return tuple(pair for pair in pairs if pair.value)


def _notes(found: Reckoned) -> tuple[str, ...]:
    if found.past.batches:
        return (f"Put right by {counted(found.past.batches, 'batch', 'batches')} of your own.",)
    return ("No batch of yours of it was weighed yet: the table’s figures stand.",)


def _add(found: Reckoned, crop: str) -> Link:
    query = {"kg": f"{found.fresh_kg:g}", "target_percent": f"{found.target_percent:g}",
             "load_hours": f"{found.hours:.1f}"}  # fmt: skip
    if found.way.of:
        query[found.way.of] = crop
    return Link("Put it down", f"/add/{found.way.sheet}?{urlencode(query)}")


def _powder_form(typed: Mapping[str, str], errors: Mapping[str, str], imperial: bool) -> Form:
    (ask,) = in_units((POWDER,), imperial)
    fields = (
        field(ask, typed.get("powder", ""), errors.get("powder", "")),
        Field("moist", "Its own water", "number", typed.get("moist", f"{USUAL_WATER_PERCENT:g}"), "%",
              error=errors.get("moist", "")),
        Field("solids", "Brought back to solids of", "number", typed.get("solids", ""), "%",
              error=errors.get("solids", ""), help="Left out: fresh tomato, purée and paste side by side."),
    )  # fmt: skip
    return Form("/preserving/drying", "Bring it back", fields, method="get", quiet=True)


def _powder(back: Back, imperial: bool) -> tuple[Pair, ...]:
    return tuple(
        Pair(name, f"add {weight(water, imperial)} of water: {weight(back.powder_kg + water, imperial)} in all")
        for name, water in back.waters
    )


def entry_back(entry_id: str) -> Link:
    """Back to its entry."""
    return Link("To the batch", entry_href(entry_id))
