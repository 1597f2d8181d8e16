"""The larder as pages: what to use first, one batch, labels to print, kit."""

from collections.abc import Iterable
from datetime import date
from urllib.parse import quote
from uuid import uuid4

import segno
from markupsafe import Markup

from app.services.larder import HOME_KILLED, KITCHEN, BatchRow, KitRow, Larder
from app.services.lots import Lot, LotFact
from app.web import pages
from app.web.larder_forms import KILLED, WAYS, kit_form, mark_form, simple_form, take_form
from app.web.links import entry_href
from app.web.parts import Form, Frame, Link, Pair, Undoing
from app.web.rows import job_href
from app.web.seed_forms import Wrong
from app.web.words import SP, amount, counted, day, figure

PLACES = {"shelf": "Shelf", "freezer": "Freezer", "fridge": "Fridge", "store": "Clamp and store"}
SIZES = ("21", "24", "40", "65")
SOON_DAYS = 14
_WEIGHED = ("kg", "g", "l")
POWER_CUT = (
    "If the power fails: shut, a full freezer holds for about 48 hours and one half full for 24, a fridge for four"
    " (FoodSafety.gov). Then look first at what was to be used first; what is soft and above 4 °C is thrown out."
)


def batch_href(batch_id: str, store: str = "") -> str:
    """A batch's page; seed has its own in the tin."""
    return f"{'/garden/seed' if store == 'seed tin' else '/larder'}/{quote(batch_id, safe='')}"


def larder_page(frame: Frame, found: Larder, mouths: float, today: date) -> pages.Larder:
    """The page."""
    count = sum(number for where, _, _, number, _ in found.sums if where != "seed tin")
    return pages.Larder(
        frame=frame,
        sub=f"{counted(count, 'batch', 'batches').capitalize()} in it" if count else "",
        first=tuple(_line(row, today) for row in found.first),
        runs_out=tuple(
            Pair(one.what.capitalize(), f"about {day(date.fromordinal(one.on), today)}: {amount(one.left, one.unit)}"
                 f" left, {amount(round(one.a_week, 2), one.unit)} a week")
            for one in found.runs_out
        ),
        meals=tuple(Pair(one.what.capitalize(), f"{counted(one.meals, 'meal')} of {figure(one.portion_g)}{SP}g a head")
                    for one in found.meals),
        meals_note=f"For {figure(mouths)} mouths. Raw grams a head: common practice.",
        places=_places(found),
        freezer=_freezer(found),
        notes=(KITCHEN, "Where your local food-safety authority says otherwise, go by it."),
        links=(Link("Put a batch in by hand", "/larder/add"), Link("Labels", "/larder/labels"), Link("Kit", "/kit"),
               Link("Seed tin", "/garden/seed")),
        empty="" if count else "Nothing is in the larder yet: jobs that are ticked put batches here.",
    )  # fmt: skip


def _places(found: Larder) -> tuple[pages.LarderPlace, ...]:
    return tuple(
        pages.LarderPlace(name, things)
        for where, name in PLACES.items()
        if (
            things := tuple(
                Pair(what.capitalize(), f"{amount(left, unit)}, {counted(number, 'batch', 'batches')}")
                for store, what, unit, number, left in sorted(found.sums)
                if store == where
            )
        )
    )


def _freezer(found: Larder) -> tuple[str, ...]:
    if not found.freezers:
        return ("Put down your freezer under Kit, and its free room is told here.", POWER_CUT)
    size = sum(row.litres or 0 for row in found.freezers)
    if found.litres_free is None:
        return ("How many litres the freezer holds was not said.", POWER_CUT)
    told = f"About {figure(found.litres_free, 0)} of {figure(size, 0)}{SP}litres are free"
    return (f"{told}, reckoning {figure(found.frozen_kg, 1)}{SP}kg at 0.56{SP}kg a litre (common practice).", POWER_CUT)


def _line(row: BatchRow, today: date) -> pages.LarderLine:
    href = batch_href(row.id, row.store)
    take = None
    if row.unit not in _WEIGHED and row.left is not None:
        hidden = (Pair("kind", "used"), Pair("amount", "1"), Pair("id", uuid4().hex))
        take = Form(f"{href}/take", "Take one out", hidden=hidden, quiet=True)
    late = row.keeps_until is not None and row.keeps_until < today.toordinal() + SOON_DAYS
    return pages.LarderLine(
        row.number, name_of(row), href, _left(row), f"{row.place or row.store} · made {_day(row.made_on, today)}",
        until(row, today), late, take,
    )  # fmt: skip


def name_of(row: BatchRow) -> str:
    """What a batch is called."""
    return f"{row.what[:1].upper()}{row.what[1:]}{f' ‘{row.variety}’' if row.variety else ''}"


def until(row: BatchRow, today: date) -> str:
    """By when it is to be used, and what that day is of."""
    if row.keeps_until is None:
        return "how long it keeps is not known"
    return f"by {_day(row.keeps_until, today)}, for {row.basis}"


def _left(row: BatchRow) -> str:
    return amount(row.left, row.unit) if row.left is not None else "not weighed"


def _day(number: int, today: date) -> str:
    return day(date.fromordinal(number), today)


# ── One batch ─────────────────────────────────────────────────────────────────────────────────────────────────────


def batch_page(frame: Frame, row: BatchRow, one: Lot, wrong: Wrong, today: date) -> pages.Batch:
    """One batch; what was refused stands beside its field."""
    href = batch_href(row.id)
    home = row.killed == "home"
    past = row.keeps_until is not None and row.keeps_until < today.toordinal() and not row.gone
    spoken = "Its day for safety is past: throw it out." if row.basis == "safety" else "Its best is past: look at it."
    said = (
        spoken if past else "",
        "More was taken than there was by the book: count it again." if row.short else "",
        HOME_KILLED if home else "",
        KITCHEN if row.trade in ("meat", "preserving") or row.killed else "",
    )
    return pages.Batch(
        frame=frame,
        name=name_of(row),
        sub=f"Batch {row.number} · {_left(row)}",
        warnings=tuple(text for text in said if text),
        facts=_facts(row, today),
        take=take_form(href, row.unit, home, wrong, today),
        back=simple_form(href, "back", "Put it back", row.unit, wrong, today),
        count=simple_form(href, "count", "Put it right", row.unit, wrong, today),
        mark=mark_form(href, row.place, row.killed, wrong),
        open=wrong.which,
        said=tuple(_said(row, fact, today) for fact in reversed(one.facts)),
        links=(
            Link("Its label", f"/larder/labels?batch={quote(row.id, safe='')}"),
            Link("Back to the larder", "/larder"),
        ),
        strike=Form(f"{href}/strike", "Strike it out", note="What was said of it is kept.", quiet=True)
        if one.by_hand
        else None,
    )


def _facts(row: BatchRow, today: date) -> tuple[Pair, ...]:
    pairs = (
        Pair("number", row.number),
        Pair("made", _day(row.made_on, today), job_href(row.key) if row.key else ""),
        Pair("came of", "its entry" if row.entry else "", entry_href(row.entry) if row.entry else ""),
        Pair("there were", amount(row.amount, row.unit) if row.amount is not None else ""),
        Pair("left", _left(row)),
        Pair("use", until(row, today)),
        Pair("that rests on", row.source),
        Pair("killed", KILLED.get(row.killed, "").lower()),
        Pair("lies in", row.place),
        Pair("note", row.note),
    )
    return tuple(pair for pair in pairs if pair.value)


def _said(row: BatchRow, fact: LotFact, today: date) -> Undoing:
    back = fact.measures.get("back")
    if isinstance(back, int | float):
        words = f"Put back: {amount(back, row.unit)}."
    elif fact.kind == "counted":
        was = fact.measures.get("was")
        book = f", where the book had {amount(float(was), row.unit)}" if isinstance(was, int | float) else ""
        words = f"Counted: {amount(fact.amount or 0, row.unit)}{book}."
    else:
        words = f"{WAYS.get(fact.kind, fact.kind.capitalize())}: {amount(fact.amount or 0, row.unit)}."
    undo = Form(f"{batch_href(row.id)}/unsay", "Take back", hidden=(Pair("fact", fact.id),), quiet=True)
    return Undoing(f"{words} {fact.note}".strip(), _day(fact.on, today), undo)


# ── Labels and kit ────────────────────────────────────────────────────────────────────────────────────────────────


def labels_page(frame: Frame, rows: Iterable[BatchRow], size: str, copies: int, base: str) -> pages.BatchLabels:
    """Labels to print, so many of each."""
    some = [_label(row, base) for row in rows]
    return pages.BatchLabels(
        frame=frame,
        size=size,
        labels=tuple(label for label in some for _ in range(copies)),
        sizes=tuple(
            Link(f"{number} to the sheet", f"/larder/labels?size={number}", number == size) for number in SIZES
        ),
        note="Print this page on A4, at its full size. The code opens the batch on a phone that is let in.",
    )


def _label(row: BatchRow, base: str) -> pages.BatchLabel:
    code = segno.make(f"{base}{batch_href(row.id, row.store)}", error="m").svg_inline(
        border=2, dark="#000", light="#fff", svgclass=None, lineclass=None, omitsize=True
    )
    use = day(date.fromordinal(row.keeps_until)) if row.keeps_until is not None else ""
    made = day(date.fromordinal(row.made_on))
    return pages.BatchLabel(row.number, name_of(row), made, use, _left(row), Markup(code))


def kit_page(
    frame: Frame, things: Iterable[KitRow], uses: tuple[Pair, ...], clashes: tuple[str, ...], wrong: Wrong
) -> pages.Kit:
    """Kit, and when it is in use."""
    return pages.Kit(
        frame=frame,
        things=tuple(Pair(row.name, _holds(row)) for row in things),
        uses=uses,
        clashes=clashes,
        way_out="Move one of the two on its own page, or do them one after the other." if clashes else "",
        add=kit_form(wrong),
        open=bool(wrong.errors),
    )


def _holds(row: KitRow) -> str:
    parts = (
        row.kind,
        amount(row.litres, "l") if row.litres else "",
        counted(row.trays, "tray") if row.trays else "",
        amount(row.watts, "W") if row.watts else "",
        row.note,
    )
    return " · ".join(part for part in parts if part)
