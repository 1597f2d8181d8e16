"""The larder as pages: what to use first, what there is, one batch."""

from collections.abc import Iterable
from datetime import date
from urllib.parse import quote

from app.rules.spans import words
from app.services.larder.larder import KITCHEN, BatchRow, Larder
from app.services.larder.lasting import Meals, RunsOut
from app.services.larder.lots import Lot, LotFact
from app.sheets.larder_tables import Figure, basis_of, figures_of
from app.web import pages
from app.web.forms import Wrong, fresh
from app.web.larder.forms import KILLED, WAYS, WEIGHED, mark_form, right_form, simple_form, take_form, tap_forms
from app.web.larder.units import much, unit_of
from app.web.links import entry_href
from app.web.parts import Form, Frame, Link, Pair, Undoing
from app.web.rows import job_href
from app.web.words import SP, counted, day, figure
from app.web.words import count as say_count

PLACES = {"shelf": "Shelf", "freezer": "Freezer", "fridge": "Fridge", "store": "Clamp and store"}
SHOWN = 12
SAFETY_DAYS = 2
LOCAL = "Where your local food-safety authority says otherwise, go by it."
DAYS = "Best by is a day of quality: look, smell and taste. Use by is a day of safety: past it, throw it out."


def batch_href(batch_id: str, store: str = "") -> str:
    """A batch's page; seed has its own in the tin."""
    return f"{'/garden/seed' if store == 'seed tin' else '/larder'}/{quote(batch_id, safe='')}"


def larder_page(frame: Frame, found: Larder, mouths: float, today: date, imperial: bool = False) -> pages.Larder:
    """The page."""
    count = sum(number for where, _, _, number, _ in found.sums if where != "seed tin")
    lines = tuple(batch_line(row, today, imperial) for row in found.first)
    then = len(lines) - SHOWN
    return pages.Larder(
        frame=frame,
        sub=_sub(found, count, today),
        first=lines[:SHOWN],
        then=lines[SHOWN:],
        then_count=f"Then {counted(then, 'more batch', 'more batches')}" if then > 0 else "",
        first_note=DAYS,
        eaten=tuple(_eaten_line(row, today, imperial) for row in found.eaten),
        eaten_count=counted(len(found.eaten), "batch", "batches"),
        runs_out=tuple(_runs_out(one, today, imperial) for one in found.runs_out),
        meals=tuple(_meals(one, imperial) for one in found.meals),
        meals_note=f"For {figure(mouths)} mouths. Raw grams a head: common practice.",
        places=_places(found, imperial),
        freezer=_freezer(found),
        power=Link("The power is off", "/larder/power"),
        notes=(KITCHEN, LOCAL),
        links=(
            Link("Put a batch in", "/larder/add"), Link("Count a shelf", "/larder/count"),
            Link("Labels", "/larder/labels"), Link("Kit", "/kit"), Link("Seed tin", "/garden/seed"),
            Link("Out as a table", "/larder.csv"), Link("In from a table", "/larder/in"),
        ),
        empty="" if count or lines else "Nothing is in the larder yet: jobs that are ticked put batches here.",
    )  # fmt: skip


def _sub(found: Larder, count: int, today: date) -> str:
    """What is in it, and how much of that presses."""
    if not count:
        return ""
    past = [row for row in found.first if row.keeps_until is not None and row.keeps_until < today.toordinal()]
    unsafe = sum(1 for row in past if row.basis == "safety")
    best = len(past) - unsafe
    parts = [f"{counted(count, 'batch', 'batches').capitalize()} in it"]
    parts += [f"{say_count(unsafe)} past a day of safety"] if unsafe else []
    parts += [f"{say_count(best)} past {'its' if best == 1 else 'their'} best"] if best else []
    return "; ".join(parts)


def _runs_out(one: RunsOut, today: date, imperial: bool) -> Pair:
    left, a_week = much(one.left, one.unit, imperial), much(round(one.a_week, 2), one.unit, imperial)
    says = f"about {_day(one.on, today)}: {left} left, {a_week} a week"
    if one.wanted_a_week is not None and one.by is not None:
        wanted = much(round(one.wanted_a_week, 2), one.unit, imperial)
        says += f". To finish it by {_day(one.by, today)}, its day: {wanted} a week"
    return Pair(one.what.capitalize(), says)


def _meals(one: Meals, imperial: bool) -> Pair:
    many = counted(one.meals, "meal") if one.meals else "less than a meal"
    return Pair(one.what.capitalize(), f"{many} of {much(one.portion_g, 'g', imperial)} a head")


def _places(found: Larder, imperial: bool) -> tuple[pages.LarderPlace, ...]:
    return tuple(
        pages.LarderPlace(name, things, f"/larder/count?store={where}")
        for where, name in PLACES.items()
        if (
            things := tuple(
                Pair(what.capitalize(), f"{much(left, unit, imperial)}, {counted(number, 'batch', 'batches')}")
                for store, what, unit, number, left in sorted(found.sums)
                if store == where
            )
        )
    )


def _freezer(found: Larder) -> tuple[str, ...]:
    if not found.freezers:
        return ("Put down your freezer under Kit, and its free room is told here.",)
    size = sum(row.litres or 0 for row in found.freezers)
    if found.litres_free is None:
        return ("How many litres the freezer holds was not said.",)
    told = f"About {figure(found.litres_free, 0)} of {figure(size, 0)}{SP}litres are free"
    return (f"{told}, reckoning {figure(found.frozen_kg, 1)}{SP}kg at 0.56{SP}kg a litre (common practice).",)


def batch_line(row: BatchRow, today: date, imperial: bool = False) -> pages.LarderLine:
    """A batch as a line, with one tap for taking one out of what is counted."""
    href = batch_href(row.id, row.store)
    take = None
    if row.unit not in WEIGHED and row.left is not None:
        hidden = (Pair("kind", "used"), Pair("amount", "1"), *fresh())
        take = Form(f"{href}/take", "Take one", hidden=hidden, quiet=True)
    near = today.toordinal() + (SAFETY_DAYS + 1 if row.basis == "safety" else 0)
    trouble = row.keeps_until is not None and row.keeps_until < near
    where = row.place or PLACES.get(row.store, row.store).lower()
    return pages.LarderLine(
        row.number, name_of(row), href, left_of(row, imperial), f"{where} · made {_day(row.made_on, today)}",
        until(row, today), trouble, take,
    )  # fmt: skip


def _eaten_line(row: BatchRow, today: date, imperial: bool) -> pages.LarderLine:
    line = batch_line(row, today, imperial)
    here = Form(f"{line.href}/here", "Still here", hidden=fresh(), quiet=True)
    return pages.LarderLine(line.number, line.name, line.href, line.left, line.sub, line.until, take=here)


def name_of(row: BatchRow) -> str:
    """What a batch is called."""
    return f"{row.what[:1].upper()}{row.what[1:]}{f' ‘{row.variety}’' if row.variety else ''}"


def until(row: BatchRow, today: date) -> str:
    """By when it is to be used: best by for quality, use by for safety."""
    if row.keeps_until is None:
        return "cook it today, or throw it out" if row.basis == "safety" else "how long it keeps is not known"
    on = _day(row.keeps_until, today)
    if row.keeps_until >= today.toordinal():
        return f"{'use' if row.basis == 'safety' else 'best'} by {on}"
    return f"use by was {on}: throw it out" if row.basis == "safety" else f"best by was {on}"


def left_of(row: BatchRow, imperial: bool = False) -> str:
    """How much is left of a batch."""
    return much(row.left, row.unit, imperial) if row.left is not None else "not weighed"


def _day(number: int, today: date) -> str:
    return day(date.fromordinal(number), today)


# ── One batch ─────────────────────────────────────────────────────────────────────────────────────────────────────


def batch_page(
    frame: Frame, row: BatchRow, one: Lot, home: str, wrong: Wrong, today: date, imperial: bool = False
) -> pages.Batch:
    """One batch; what was refused stands beside its field. ``home`` is said of what was killed at home."""
    href, unit = batch_href(row.id), unit_of(row.unit, imperial)
    advised = home if row.killed == "home" else ""
    past = row.keeps_until is not None and row.keeps_until < today.toordinal() and not row.gone
    spoken = "Its day for safety is past: throw it out." if row.basis == "safety" else "Its best is past: look at it."
    eaten = row.gone and not one.over
    said = (
        spoken if past else "",
        "Nobody has said what became of it, so it is taken as eaten and counts nowhere." if eaten else "",
        "More was taken than there was by the book: count it again." if row.short else "",
        advised,
    )
    return pages.Batch(
        frame=frame,
        name=name_of(row),
        sub=f"Batch {row.number} · {left_of(row, imperial)}",
        warnings=tuple(text for text in said if text),
        taps=tap_forms(href, row.unit, row.left, past and row.basis == "safety") if not eaten else (),
        facts=_facts(row, today, imperial),
        take=take_form(href, unit, advised, wrong, today),
        back=simple_form(href, "back", "Put it back", unit, wrong, today),
        count=simple_form(href, "count", "Put it right", unit, wrong, today),
        mark=mark_form(href, row.place, row.killed, wrong),
        right=right_form(href, row.what, row.keeps_until, one.by_hand, wrong),
        open=wrong.which,
        said=tuple(_said(row, fact, today, imperial) for fact in reversed(one.facts)),
        links=_links(row),
        strike=Form(f"{href}/strike", "Strike it out", note="What was said of it is kept.", quiet=True)
        if one.by_hand
        else None,
        here=Form(f"{href}/here", "Still here", hidden=fresh()) if eaten else None,
    )


def _links(row: BatchRow) -> tuple[Link, ...]:
    name = quote(row.id, safe="")
    meat = row.killed or basis_of(row.what, row.trade, "fridge").of == "safety"
    thaw = (Link("Thaw it for a meal", f"/meat/thaw?batch={name}"),) if row.store == "freezer" and meat else ()
    return (*thaw, Link("Its label", f"/larder/labels?batch={name}"), Link("Back to the larder", "/larder"))


def _facts(row: BatchRow, today: date, imperial: bool) -> tuple[Pair, ...]:
    of = f"{_day(row.keeps_until, today)}, a day of {row.basis}" if row.keeps_until is not None else until(row, today)
    pairs = (
        Pair("number", row.number),
        Pair("made", _day(row.made_on, today), job_href(row.key) if row.key else ""),
        Pair("came of", "its entry" if row.entry else "", entry_href(row.entry) if row.entry else ""),
        Pair("there were", much(row.amount, row.unit, imperial) if row.amount is not None else ""),
        Pair("left", left_of(row, imperial)),
        Pair("a pack weighs", much(row.pack_kg, "kg", imperial) if row.pack_kg else ""),
        Pair("keeps until", of),
        Pair("that rests on", row.source),
        *_tables(figures_of(row.what, row.store)),
        Pair("killed", KILLED.get(row.killed, "").lower()),
        Pair("lies in", row.place),
        Pair("note", row.note),
    )
    return tuple(pair for pair in pairs if pair.value)


def _tables(figures: Iterable[Figure]) -> list[Pair]:
    """How long such things keep by one table and by another."""
    found = []
    for one in figures:
        span = _span(words(one.low), words(one.high))
        whose = ": ".join(part for part in (one.says, one.source if one.basis == "published" else "") if part)
        found.append(Pair(one.basis, f"{span}{f' ({whose})' if whose else ''}"))
    return found


def _span(low: str, high: str) -> str:
    """Two lengths of time as one: "3 to 4 months", "1 week to 2 months"."""
    if low == high:
        return low
    same = low.rpartition(" ")[2].rstrip("s") == high.rpartition(" ")[2].rstrip("s")
    return f"{low.rpartition(' ')[0] if same else low} to {high}"


def _put_right(fact: LotFact, today: date) -> str:
    name, until = fact.measures.get("name"), fact.measures.get("until")
    parts = (
        f"called ‘{name}’" if name else "",
        f"keeps until {day(date.fromisoformat(str(until)), today)}" if until else "",
    )
    return f"Put right: {', '.join(part for part in parts if part)}."


def _said(row: BatchRow, fact: LotFact, today: date, imperial: bool) -> Undoing:
    back, to = fact.measures.get("back"), fact.measures.get("to")
    if isinstance(to, str):
        words_said = f"Moved: {PLACES.get(to, to).lower()}."
    elif fact.measures.get("until") or fact.measures.get("name"):
        words_said = _put_right(fact, today)
    elif fact.measures.get("basis") or fact.measures.get("rests"):
        of = (f"a day of {basis}" if (basis := fact.measures.get("basis")) else "", fact.measures.get("rests"))
        words_said = f"Its day as the table had it: {', '.join(str(one) for one in of if one)}."
    elif isinstance(back, int | float):
        words_said = f"Put back: {much(back, row.unit, imperial)}."
    elif fact.kind == "counted":
        was = fact.measures.get("was")
        book = f", where the book had {much(float(was), row.unit, imperial)}" if isinstance(was, int | float) else ""
        found = much(fact.amount, row.unit, imperial) if fact.amount is not None else "still here"
        words_said = f"Counted: {found}{book}."
    else:
        kind = "sold" if fact.measures.get("sold") else fact.kind
        words_said = f"{WAYS.get(kind, kind.capitalize())}: {much(fact.amount or 0, row.unit, imperial)}."
    return Undoing(f"{words_said} {fact.note}".strip(), _day(fact.on, today), unsay_form(row.id, fact.id))


def unsay_form(batch_id: str, fact_id: str) -> Form:
    """Takes back what was said."""
    return Form(f"{batch_href(batch_id)}/unsay", "Take back", hidden=(Pair("fact", fact_id),), quiet=True)
