"""What is asked about seed, and read back: a lot, what became of it, a test, the tin, what flowers next door."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from app.rules.sheet import Sheet
from app.rules.spans import Day, Span, add
from app.rules.terms import Ask
from app.services.garden.seed_lot import SEEDS
from app.services.larder.lot_words import NewLot
from app.services.larder.lots import Lot
from app.web.fields import field, in_units
from app.web.forms import Wrong, day_done, fresh
from app.web.forms import field as plain
from app.web.garden.seed_words import crop_of, jar_href
from app.web.parts import Choice, Field, Form
from app.web.typed import LONGEST_NOTE, Typed

GRAMS = Ask("amount", "g", "How much", low=0, high=100_000)
COUNT = Ask("amount", "count", "How many", low=0, high=10_000_000)
DISTANCE = Ask("distance_m", "m", "How far off", low=0, high=20_000)
TRIED = Ask("tried", "count", "Seeds tried", low=1, high=10_000)
UP = Ask("up", "count", "Came up", low=0, high=10_000)
WARMTH = Ask("c", "c", "Warmth in the tin", low=-30, high=60)
AIR = Ask("rh_percent", "%", "Moisture of its air", low=0, high=100)
OTHER = "other"
COUNTED = (Choice("g", "grams"), Choice(SEEDS, "seeds"))
WAYS = {"used": "Sown or used", "given": "Given away", "thrown": "Thrown out"}


def kinds_of(sheets: Iterable[Sheet]) -> dict[str, Sheet]:
    """Every kind of seed that a sheet of the garden sows or makes, and the sheet."""
    found: dict[str, Sheet] = {}
    for sheet in sorted(sheets, key=lambda one: (one.crop is None, len(one.id), one.id)):
        if sheet.trade != "garden":
            continue
        uses = [use.what for step in sheet.steps for use in step.uses]
        makes = [make.name for step in sheet.steps for make in step.makes if make.kind == "seed"]
        for what in (*makes, *uses):
            if what.endswith(" seed"):
                found.setdefault(what, sheet)
    return dict(sorted(found.items()))


# ── A lot ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def add_form(kinds: Mapping[str, Sheet], wrong: Wrong, today: date) -> Form:
    """Seed that was bought, given or found in a drawer."""
    typed, errors = wrong.of("add")
    offered = (*(Choice(what, crop_of(what)) for what in kinds), Choice(OTHER, "Something else"))
    fields = (
        plain("what", "Seed of", typed, errors, kind="choice", choices=offered, required=True),
        plain("other", "If something else, what", typed, errors),
        plain("variety", "Variety", typed, errors),
        plain("f1", "It is an F1 kind", typed, errors, kind="tick"),
        plain("made_on", "Harvested", typed, errors, kind="date", required=True, high=today.isoformat(),
               help="Age counts from the harvest. Of a packet, the year it was packed for, less one, in September."),
        field(GRAMS._replace(kind="text"), typed.get("amount"), errors.get("amount", "")),
        plain("unit", "Counted in", typed, errors, "g", kind="choice", choices=COUNTED),
        plain("keeps_until", "Sow by", typed, errors, kind="date",
               help="As the packet says; left out, it is reckoned from its harvest by the crop’s own years."),
        plain("place", "Where it lies", typed, errors, "seed tin"),
        plain("note", "Parents, giver, packet", typed, errors, kind="lines"),
    )  # fmt: skip
    return Form("/garden/seed", "Put it in the tin", fields, fresh())


def read_lot(form: Typed, kinds: Mapping[str, Sheet], today: date) -> NewLot:
    """A lot as it was typed.

    Raises: BadInput with a sentence per field.
    """
    what = form.choice("what", [*kinds, OTHER], "What is it the seed of?")
    if what == OTHER:
        other = form.text("other", "What is it, then?", longest=60).removesuffix(" seeds").removesuffix(" seed")
        what = f"{other[:1].lower()}{other[1:]} seed" if other else ""
    variety = form.text("variety", longest=80)
    unit = form.choice("unit", ("g", SEEDS)) or "g"
    amount = _amount(form, unit, "How much is there of it? A guess can be put right by weighing.")
    made_on = form.day("made_on", "When was it harvested? The month will do: take its first day.")
    until = form.day("keeps_until")
    place, note = form.text("place", longest=80), form.text("note", longest=LONGEST_NOTE)
    if made_on is not None and made_on > today.toordinal():
        form.fault("made_on", "That day has not come yet.")
    if made_on is not None and until is not None and until < made_on:
        form.fault("keeps_until", "That is before it was harvested.")
    form.check()
    if form.raw("f1") == "yes" and "f1" not in variety.casefold():
        variety = f"{variety} F1".strip()
    sheet = kinds.get(what)
    if until is None and made_on is not None and sheet is not None:
        until = _listed(sheet, made_on)
    return NewLot(what, made_on or 0, amount or 0.0, unit, variety, sheet.id if sheet else "", until, place, note)


def _listed(sheet: Sheet, made_on: Day) -> Day | None:
    """The day to sow by after what its sheet says of seed saved, else after the crop's own years of life."""
    keeps = [make.keeps for step in sheet.steps for make in step.makes if make.kind == "seed" and make.keeps]
    if keeps:
        return add(made_on, keeps[0])
    years = sheet.crop.keeping.years if sheet.crop is not None and sheet.crop.keeping is not None else None
    return add(made_on, Span(round(12 * years), 0)) if years else None


def _amount(form: Typed, unit: str, needed: str) -> float | None:
    if not form.raw("amount"):
        form.fault("amount", needed)
        return None
    ask = COUNT if unit == SEEDS else GRAMS
    value = form.asked([ask]).get("amount")
    return float(value) if isinstance(value, int | float) else None


# ── What becomes of it ────────────────────────────────────────────────────────────────────────────────────────────


def take_form(lot: Lot, wrong: Wrong, today: date) -> Form:
    """Some of it was sown, given away or thrown out."""
    typed, errors = wrong.of("take")
    ways = tuple(Choice(kind, words) for kind, words in WAYS.items())
    fields = (
        plain("kind", "What became of it", typed, errors, "used", kind="choice", choices=ways, required=True),
        _how_much(lot, typed, errors),
        day_done(typed, errors, today, "take-on"),
        plain("note", "To whom, or where", typed, errors, id="take-note"),
    )
    return Form(f"{jar_href(lot.id)}/take", "Put it down", fields, fresh(), quiet=True)


def count_form(lot: Lot, wrong: Wrong, today: date) -> Form:
    """It was weighed or counted again."""
    typed, errors = wrong.of("count")
    much = _how_much(lot, typed, errors, "count-amount")
    fields = (much, day_done(typed, errors, today, "count-on"), plain("note", "Note", typed, errors, id="count-note"))
    note = "What is found stands; what the book had is kept beside it."
    return Form(f"{jar_href(lot.id)}/count", "Put it right", fields, fresh(), note=note, quiet=True)


def test_form(lot: Lot, wrong: Wrong, today: date, days: int | None) -> Form:
    """Some were tried on damp paper."""
    typed, errors = wrong.of("test")
    fields = (
        field(TRIED._replace(default=20), typed.get("tried"), errors.get("tried", "")),
        field(UP, typed.get("up"), errors.get("up", "")),
        day_done(typed, errors, today, "test-on", "Counted on"),
        plain("note", "Note", typed, errors, id="test-note"),
    )
    note = f"On damp paper in a bag, warm; counted for the last time after {days} days." if days else ""
    return Form(f"{jar_href(lot.id)}/test", "Put down the test", fields, fresh(), note=note, quiet=True)


def read_amount(form: Typed, lot: Lot) -> float:
    """How much, in the lot's own unit.

    Raises: BadInput.
    """
    value = _amount(form, lot.unit, "How much was it?")
    form.check()
    return value or 0.0


def read_on(form: Typed, today: date) -> Day:
    """The day of something said; today when it is left out. Faults are kept with the form."""
    on = form.day("on")
    if on is not None and on > today.toordinal():
        form.fault("on", "That day has not come yet.")
    return today.toordinal() if on is None else on


def read_test(form: Typed) -> tuple[int, int]:
    """How many came up, of how many. Faults are kept with the form."""
    said = form.asked((TRIED, UP))
    tried, up = said.get("tried", 0), said.get("up", 0)
    if isinstance(tried, int) and isinstance(up, int) and tried and up > tried:
        form.fault("up", f"{up} can’t have come up of {tried}; one of the two is mistyped.")
    return int(up), int(tried)


# ── The tin and next door ─────────────────────────────────────────────────────────────────────────────────────────


def store_form(c: float | None, rh_percent: float | None, wrong: Wrong, imperial: bool) -> Form:
    """How warm and how damp it is where the seed lies."""
    typed, errors = wrong.of("store")
    asks = in_units((WARMTH, AIR), imperial)
    known = (c, rh_percent)
    fields = tuple(
        field(ask, typed.get(ask.name), errors.get(ask.name, ""), value) for ask, value in zip(asks, known, strict=True)
    )
    return Form("/garden/seed/tin", "Keep", fields, quiet=True)


def read_store(form: Typed, imperial: bool) -> tuple[float, float]:
    """Warmth and air of the tin.

    Raises: BadInput.
    """
    said = form.asked(in_units((WARMTH, AIR), imperial))
    form.check()
    return float(said["c"]), float(said["rh_percent"])


def near_form(species: Sequence[tuple[str, str]], wrong: Wrong, imperial: bool) -> Form:
    """What flowers next door."""
    typed, errors = wrong.of("near")
    offered = (*(Choice(latin, text) for latin, text in species), Choice(OTHER, "Something else"))
    far = in_units([DISTANCE], imperial)[0]
    fields = (
        plain("species", "Of the kind", typed, errors, kind="choice", choices=offered, required=True),
        plain("other", "If something else, its Latin name", typed, errors),
        plain("what", "What it is", typed, errors, help="Wild parsnip on the bank; the neighbour’s chard."),
        field(far, typed.get("distance_m"), errors.get("distance_m", "")),
        plain("first", "In flower from", typed, errors, kind="date", help="Left out, it is feared at all times."),
        plain("last", "until", typed, errors, kind="date"),
        plain("note", "Note", typed, errors, kind="lines"),
    )
    return Form("/garden/seed/crossing", "Put it down", fields)


class Near(NamedTuple):
    """What flowers next door, as it was typed."""

    species: str
    what: str
    distance_m: float
    first: Day | None
    last: Day | None
    note: str


def read_near(form: Typed, species: Sequence[str], imperial: bool) -> Near:
    """What flowers next door.

    Raises: BadInput with a sentence per field.
    """
    latin = form.choice("species", [*species, OTHER], "Of what kind is it?")
    if latin == OTHER:
        latin = form.text("other", "Its Latin name is wanted, such as Daucus carota: what crosses is the species.", 80)
        if latin and len(latin.split()) < 2:
            form.fault("other", "A species has two words, such as Daucus carota.")
    what = form.text("what", longest=80)
    far = form.asked(in_units([DISTANCE], imperial)).get("distance_m", 0)
    first, last, note = form.day("first"), form.day("last"), form.text("note", longest=LONGEST_NOTE)
    if first is not None and last is not None and last < first:
        form.fault("last", "It ends before it begins.")
    form.check()
    return Near(latin, what, float(far), first, last, note)


# ── Small parts ───────────────────────────────────────────────────────────────────────────────────────────────────


def _how_much(lot: Lot, typed: Mapping[str, str], errors: Mapping[str, str], ident: str = "take-amount") -> Field:
    ask = COUNT if lot.unit == SEEDS else GRAMS
    made = field(ask, typed.get("amount"), errors.get("amount", ""))
    return Field(made.name, made.label, made.kind, made.value, made.unit, error=made.error, required=True, id=ident)
