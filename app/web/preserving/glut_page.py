"""A glut as a page: what was asked, each way side by side, what would be put down."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from app.rules.terms import Ask
from app.services.preserving.glut import Glut, Offer, Offers
from app.services.preserving.glut_put import field_of, name_of
from app.services.preserving.glut_shopping import Bought
from app.sheets.library import Library
from app.units import from_metric
from app.web import pages, told
from app.web.fields import field, in_units
from app.web.forms import Wrong, fresh_id
from app.web.larder.kit_words import clash_words
from app.web.links import sheet_href
from app.web.parts import Choice, Field, Form, Frame, Link, Pair
from app.web.typed import Typed
from app.web.weights import figure_of, span, weight
from app.web.words import SP, amount, between, counted, day, hours

KG = Ask("kg", "kg", "How much", low=0.2, high=500)
JARS_ML = ("250", "350", "473", "500", "750", "946", "1000")
MOST_DATES = 9
NEEDS = {"freezer litres": "litres of freezer"}
AT_ONCE = "m² of trays at once"


class Looked(NamedTuple):
    """What was shared out, looked at before it is put down."""

    offers: Offers
    seen: str


def read_glut(form: Typed, imperial: bool, today: date) -> Glut:
    """What was asked.

    Raises: BadInput with a sentence per field.
    """
    what = form.text("crop", "What is it a glut of?", 60)
    if what and not any(letter.isalpha() for letter in what):
        form.fault("crop", "A name is wanted, such as tomatoes.")
    if not form.raw("kg"):
        form.fault("kg", "How much is there of it?")
    kg = form.asked(in_units((KG,), imperial)).get("kg")
    on = form.day("on")
    if on is not None and not today.toordinal() - 7 <= on <= today.toordinal() + 366:
        form.fault("on", "It should be within the last week or the year to come: produce does not wait longer.")
    jar = form.choice("jar_ml", JARS_ML) or "500"
    jars = form.number("jars", 0, 10_000, "jars")
    if jars is not None and jars != round(jars):
        form.fault("jars", "A whole number is wanted.")
    form.check()
    return Glut(
        what, float(str(kg)), today.toordinal() if on is None else on, float(jar), None if jars is None else round(jars)
    )


def asked_form(
    typed: Mapping[str, str], errors: Mapping[str, str], imperial: bool, today: date, asked: bool = False
) -> Form:
    """How much of what, and when."""
    (ask,) = in_units((KG,), imperial)
    sizes = tuple(Choice(size, f"{size} ml") for size in JARS_ML)
    fields = (
        Field("crop", "A glut of", "text", typed.get("crop", ""), error=errors.get("crop", ""), required=True,
              help="Any crop; those in the table get every way there is, others the freezer."),
        field(ask, typed.get("kg", ""), errors.get("kg", "")),
        Field("on", "On", "date", typed.get("on", today.isoformat()), error=errors.get("on", "")),
        Field("jar_ml", "Jars of", "list", typed.get("jar_ml", "500"), error=errors.get("jar_ml", ""), choices=sizes),
        Field("jars", "Jars you have", "count", typed.get("jars", ""), error=errors.get("jars", "")),
    )  # fmt: skip
    return Form("/preserving/glut", "Show the ways", fields, method="get", quiet=asked)


def glut_page(
    frame: Frame, library: Library, asked: Form, found: Offers | None, wrong: Wrong, looked: Looked | None,
    imperial: bool, today: date,
) -> pages.Glut:  # fmt: skip
    """The page; the kilos typed stay as they were typed."""
    shown = looked.offers if looked is not None else None
    cards = tuple(_card(one, wrong, imperial, today) for one in found.ways) if found is not None else ()
    clash = shown is not None and any(one.clashes for one in shown.ways)
    later = wrong.typed.get("later", "")
    return pages.Glut(
        frame=frame,
        asked=asked,
        heading=_heading(found, imperial, today) if found is not None else "",
        lead=_lead(found, today) if found is not None else (),
        ways=cards,
        share=_share(found, wrong, looked, imperial) if found is not None else None,
        later=Field("later", "Begin what meets another on the day its kit is free", "tick", later)
        if clash or later
        else None,
        entries=tuple(_entry(shown, one, imperial, today) for one in shown.ways) if shown is not None else (),
        left=_left(shown, imperial) if shown is not None else "",
        confirm="Put it down" if shown is not None else "",
        error=wrong.errors.get("shares", ""),
        cautions=told.cautions(library, _cautions(found)),
        links=(Link("Look up bottling times", "/preserving/bottling"), Link("The dryer", "/preserving/drying"),
               Link("Kit", "/kit"), Link("Preserving", "/preserving")),
    )  # fmt: skip


def seen_of(values: Mapping[str, str]) -> str:
    """What was shared out as one line: only what was looked at is put down."""
    parts = [f"{name}={value.strip()}" for name, value in sorted(values.items()) if name.startswith("kg-") and value]
    return ";".join([*parts, values.get("later", "")])


def _heading(found: Offers, imperial: bool, today: date) -> str:
    on = day(date.fromordinal(found.glut.on), today)
    what = found.crop.name if found.crop is not None else found.glut.what
    return f"{weight(found.glut.kg, imperial)} of {what}, on {on}"


def _lead(found: Offers, today: date) -> tuple[str, ...]:
    lines = []
    raw, work = found.raw, found.hands
    if raw is not None and all(one.of.kind != "raw" for one in found.ways):
        lines.append(
            f"Or as it is, in a store: sound ones keep {raw.least_months:g} to {raw.most_months:g} months at"
            f" {raw.store_c:g}{SP}°C and {raw.humidity_percent:g}{SP}% damp ({raw.source}, {raw.basis})."
        )
    if found.crop is None:
        lines.append("It is not in the table here, so only what goes for anything is offered.")
    if work.given:
        when = between(date.fromordinal(work.first), date.fromordinal(work.last), today)
        lines.append(
            f"On {when} there are {hours(work.given)} of hands after the rounds; other jobs that close then want"
            f" {hours(work.wanted)}."
        )
    if "trays" not in found.room.said:
        lines.append("No dryer’s trays are put down under Kit: reckoned with 1 m² of them.")
    if "freezer" not in found.room.said:
        lines.append("No freezer is put down under Kit: reckoned with 200 litres, all free.")
    return tuple(lines)


def _share(found: Offers, wrong: Wrong, looked: Looked | None, imperial: bool) -> Form:
    glut = found.glut
    kg = f"{from_metric(glut.kg, 'lb'):.4g}" if imperial else f"{glut.kg:g}"
    hidden = (
        Pair("crop", glut.what), Pair("kg", kg), Pair("on", date.fromordinal(glut.on).isoformat()),
        Pair("jar_ml", f"{glut.jar_ml:g}"), Pair("jars", "" if glut.jars is None else str(glut.jars)),
        Pair("id", wrong.typed.get("id", "") or fresh_id()), Pair("seen", looked.seen if looked is not None else ""),
    )  # fmt: skip
    return Form("/preserving/glut", "Show first", hidden=hidden, quiet=looked is not None)


def _card(one: Offer, wrong: Wrong, imperial: bool, today: date) -> pages.GlutWayCard:
    name = field_of(one.of)
    (ask,) = in_units((Ask(name, "kg", "Keep so much this way", optional=True),), imperial)
    sheet = Link(one.sheet.title, sheet_href(one.sheet.id))
    error = wrong.errors.get(name, "")
    if one.refused and not error:
        return pages.GlutWayCard(one.of.id, one.of.title, sheet, (), (), (), one.refused, None)
    return pages.GlutWayCard(
        id=one.of.id,
        title=one.of.title,
        sheet=sheet,
        facts=_facts(one, imperial),
        short=(*_short(one), *clash_words(one.clashes, today)),
        notes=(*one.notes, *_at_once(one), f"It keeps so long: {one.of.basis}. {one.of.source}."),
        refused="",
        field=field(ask, wrong.typed.get(name, ""), error),
    )


def _facts(one: Offer, imperial: bool) -> tuple[Pair, ...]:
    made, work = one.way, one.work
    if made is None:
        return ()
    low, high = one.of.months
    pairs = (
        Pair("makes", _made(one, imperial)),
        Pair("takes", _takes(one)),
        Pair("hands-on", hours(work.hands_min)),
        Pair("waiting", _waiting(one)),
        Pair("fuel", span(*made.kwh, "kWh") if made.kwh[1] else "none"),
        Pair("keeps", f"{low}–{high} months" if low != high else counted(low, "month")),
        Pair("to buy", ", ".join(_bought(each) for each in one.buy if (each.have or 0) < each.amount)),
        Pair("in the larder", ", ".join(each.what for each in one.buy if (each.have or 0) >= each.amount)),
        Pair("left over", weight(made.left_kg, imperial) if made.left_kg > 0.005 else ""),
    )
    return tuple(pair for pair in pairs if pair.value)


def _made(one: Offer, imperial: bool) -> str:
    made = one.way
    if made is None:
        return ""
    if one.of.kind == "raw":
        return ""
    dried = one.of.kind in ("dry", "powder")
    trimmed = f", of {weight(one.fact_kg, imperial)} trimmed" if dried and one.fact_kg < one.kg - 0.005 else ""
    if "jars" in made.needs:
        jar = one.facts.get("jar_ml", "")
        return f"{counted(round(made.needs['jars']), 'jar')} of {jar:g}{SP}ml" if isinstance(jar, float) else ""
    return f"{weight(made.made_kg, imperial)}{trimmed}"


def _takes(one: Offer) -> str:
    needs = one.way.needs if one.way is not None else {}
    parts = []
    if "dryer loads" in needs:
        each = (one.way.hours if one.way else 0) / needs["dryer loads"]
        parts.append(f"{counted(round(needs['dryer loads']), 'load')} of the dryer, {figure_of(each)}{SP}h each")
    if "pan loads" in needs:
        parts.append(counted(round(needs["pan loads"]), "load") + " of the pan")
    if "panfuls" in needs:
        parts.append(counted(round(needs["panfuls"]), "panful"))
    if "freezer litres" in needs:
        parts.append(f"{amount(round(needs['freezer litres']), 'litres')} of freezer")
    if "litres of crock" in needs:
        parts.append(f"{amount(round(needs['litres of crock'], 1), 'litres')} of crock")
    return ", ".join(parts)


def _waiting(one: Offer) -> str:
    needs = one.way.needs if one.way is not None else {}
    if "days of freezing" in needs:
        return f"{counted(round(needs['days of freezing']), 'day')} of freezing, a load a day"
    if one.of.kind == "raw":
        return "none; it is looked through"
    if one.of.kind == "crock":
        return f"about {counted(one.work.days, 'day')} in the crock"
    return hours(60 * one.work.waiting_h) if one.work.waiting_h else "none: it is stirred"


def _bought(one: Bought) -> str:
    said = f"{_so_much(one.amount, one.unit)} {one.what}"
    return f"{said} ({_so_much(one.have, one.unit)} is in the larder)" if one.have else said


def _so_much(value: float, unit: str) -> str:
    if unit in ("g", "ml") and value >= 1000:
        unit, value = ("kg", value / 1000) if unit == "g" else ("litres", value / 1000)
    return amount(float(figure_of(value)), "" if unit == "pieces" else unit)


def _short(one: Offer) -> tuple[str, ...]:
    """What is really short; trays are not, since one load follows another."""
    return tuple(
        f"Short of {-int(-lacking // 1)}{SP}{NEEDS.get(name, name)}."
        for name, lacking in one.short.items()
        if name != AT_ONCE
    )


def _at_once(one: Offer) -> tuple[str, ...]:
    """What doing it in one load would take, where the trays do not."""
    if one.way is None or AT_ONCE not in one.short:
        return ()
    return (f"In one load it would take {figure_of(one.way.needs[AT_ONCE])}{SP}m² of trays.",)


def _entry(shown: Offers, one: Offer, imperial: bool, today: date) -> pages.GlutEntry:
    tasks = one.laid.tasks if one.laid is not None else ()
    first: dict[str, Pair] = {}
    for task in sorted(
        (t for t in tasks if t.best is not None), key=lambda t: (t.best or 0, told.place_in(one.sheet, t.step))
    ):
        step = told.step_of(one.sheet, task.step)
        title = step.title if step is not None else task.step
        first.setdefault(task.step, Pair(title, told.days(task.opens, task.best, task.closes, today)))
    return pages.GlutEntry(
        f"{name_of(shown, one)}: {weight(one.kg, imperial)}", tuple(first.values())[:MOST_DATES],
        (*_short(one), *clash_words(one.clashes, today)),
    )  # fmt: skip


def _left(shown: Offers, imperial: bool) -> str:
    left = shown.glut.kg - sum(one.kg for one in shown.ways)
    hands = sum(one.work.soon_min for one in shown.ways)
    said = [f"{weight(left, imperial)} of it is not shared out: eat it fresh, or give it away."] if left > 0.05 else []
    if shown.there_kg > 0.05:
        what = shown.crop.name if shown.crop is not None else shown.glut.what
        said.append(
            f"By the book {weight(shown.there_kg, imperial)} of {what} stand in the larder already: once they are kept"
            " this way, take them out there, or they are counted twice."
        )
    said.append(f"Hands-on in the first three days: {hours(hands)}.")
    work = shown.hands
    if work.given and hands > work.left:
        said.append(
            f"That is more than the {hours(work.left)} that are left of those days: share the work, or freeze some."
        )
    return " ".join(said)


def _cautions(found: Offers | None) -> list[str]:
    names = [name for one in found.ways for name in one.sheet.cautions] if found is not None else []
    return list(dict.fromkeys(names))
