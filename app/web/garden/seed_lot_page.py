"""One lot of seed as a page, and the labels for jars."""

from collections.abc import Iterable
from datetime import date

from app.services.book import Book
from app.services.garden.seed_lot import SEEDS, SeedLot, tried
from app.services.larder.lots import LotFact
from app.web import pages
from app.web.forms import Wrong
from app.web.garden import seed_words
from app.web.garden.seed_forms import count_form, take_form, test_form
from app.web.garden.seed_words import crop_of, have, jar_href, on
from app.web.links import entry_href, sheet_href
from app.web.parts import Field, Form, Frame, Link, Pair, Undoing
from app.web.rows import job_href
from app.web.words import SP, amount, counted, day, figure, month

MOST_COPIES = 21
"""As many as stand on one sheet of A4."""
DID = {"used": "Sown or used", "given": "Given away", "thrown": "Thrown out"}


def jar_page(book: Book, frame: Frame, one: SeedLot, wrong: Wrong) -> pages.SeedJar:
    """The page; what was refused stands beside its field."""
    lot, today = one.lot, book.today()
    here = jar_href(lot.id)
    trouble = seed_words.past(one, today)
    said = [f"{trouble[:1].upper()}{trouble[1:]}." if trouble else "", seed_words.F1 if one.f1 else ""]
    said += ["More was taken than there was by the book: count it again."] if lot.short else []
    days = one.crop.test.final_days if one.crop is not None and one.crop.test is not None else None
    return pages.SeedJar(
        frame=frame,
        name=f"{crop_of(lot.what)}{f' ‘{lot.variety}’' if lot.variety else ''}, {month(on(lot.made_on))}",
        sub=have(one),
        facts=_facts(one, today),
        warnings=tuple(text for text in said if text),
        take=take_form(lot, wrong, today),
        count=count_form(lot, wrong, today),
        test=test_form(lot, wrong, today, days),
        open=wrong.which,
        said=tuple(_said(one, fact, today) for fact in reversed(lot.facts)),
        links=(Link("Its label", f"{here}/label"), Link("Back to the tin", "/garden/seed")),
        strike=Form(f"{here}/strike", "Strike it out", note="What was said of it is kept.", quiet=True)
        if lot.by_hand
        else None,
    )


def _facts(one: SeedLot, today: date) -> tuple[Pair, ...]:
    lot, crop = one.lot, one.crop
    years = crop.keeping.years if crop is not None and crop.keeping is not None else None
    listed = f"{figure(years)}{SP}{'year' if years == 1 else 'years'} cool and dry" if years else ""
    lasts = day(on(one.tin_until), today) if one.tin_until is not None else ""
    pairs = (
        Pair("harvested", day(on(lot.made_on), today), job_href(lot.key) if lot.key else ""),
        Pair("came of", one.came_of, entry_href(lot.entry) if lot.entry else ""),
        Pair("seed plants", counted(one.plants, "plant") if one.plants else ""),
        Pair("there were", amount(lot.amount, "" if lot.unit == SEEDS else lot.unit) if lot.amount is not None else ""),
        Pair("seeds a gram", figure(one.a_gram, 1) if one.a_gram else ""),
        Pair("age", seed_words.life(one, today)),
        Pair("lists say", listed),
        Pair("in this tin until", lasts),
        Pair("last test", seed_words.test(one.test, today)),
        Pair("lies in", lot.place),
        Pair("note", lot.note),
        Pair("how it’s done", one.sheet.title if one.sheet else "", sheet_href(lot.sheet) if one.sheet else ""),
    )
    return tuple(pair for pair in pairs if pair.value)


def _said(one: SeedLot, fact: LotFact, today: date) -> Undoing:
    back = Form(
        f"{jar_href(one.lot.id)}/back", "Take back", hidden=(Pair("fact", fact.id),), quiet=True
    )  # fmt: skip
    note = f" {fact.note[:1].upper()}{fact.note[1:]}." if fact.note and not fact.note.endswith(".") else f" {fact.note}"
    return Undoing(f"{_told(one, fact)}{note.rstrip()}", day(on(fact.on), today), back)


def _told(one: SeedLot, fact: LotFact) -> str:
    if fact.kind == "tested":
        up, of = int(fact.measures.get("up", 0)), int(fact.measures.get("tried", 0))
        test = tried(fact.on, up, of, one.test.standard_percent if one.test is not None else 0.0)
        wide = f": {round(100 * test.share.low)} to {round(100 * test.share.high)} in a hundred" if test.share else ""
        return f"{up} of {of} came up{wide}."
    much = _much(fact.amount or 0.0, one.lot.unit)
    if fact.kind == "counted":
        was = fact.measures.get("was")
        return f"Counted: {much}" + (
            f", where the book had {_much(float(was), one.lot.unit)}." if was is not None else "."
        )
    return f"{DID[fact.kind]}: {much}."


def _much(value: float, unit: str) -> str:
    return f"{figure(value, 0)}{SP}seeds" if unit == SEEDS else amount(value, unit)


# ── Labels ────────────────────────────────────────────────────────────────────────────────────────────────────────


def label(one: SeedLot, holding: str, today: date) -> pages.Label:
    """What stands on a jar."""
    lot = one.lot
    grown = f"from {counted(one.plants, 'plant')}" if one.plants else ""
    of = " · ".join(part for part in (grown, one.came_of) if part) or lot.note.split("\n")[0][:60]
    return pages.Label(
        what=crop_of(lot.what),
        variety=lot.variety,
        f1=one.f1,
        harvested=day(on(lot.made_on)),
        of=of,
        count=have(one) if lot.left is not None else "",
        sow_by=day(on(lot.keeps_until)) if lot.keeps_until is not None else "",
        holding=holding,
    )


def labels_page(
    frame: Frame, some: Iterable[SeedLot], holding: str, today: date, one: SeedLot | None, copies: int, error: str = ""
) -> pages.SeedLabels:
    """Labels to print: of every jar, or so many of one."""
    drawn = tuple(label(each, holding, today) for each in some for _ in range(copies))
    back = Link("Back to the tin", "/garden/seed") if one is None else Link("Back to the seed", jar_href(one.lot.id))
    form = None
    if one is not None:
        box = Field("copies", "Labels", "count", str(copies), error=error, required=True)
        form = Form(f"{jar_href(one.lot.id)}/label", "Show so many", (box,), method="get", quiet=True)
    heading = "A label for every jar" if one is None else f"A label for {crop_of(one.lot.what).lower()}"
    return pages.SeedLabels(frame, heading, drawn, form, back)
