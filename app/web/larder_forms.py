"""What is asked about batches and kit, and read back."""

from collections.abc import Mapping
from datetime import date
from uuid import uuid4

from app.rules.spans import Day
from app.services.larder import HOME_KILLED, KIT_KINDS, KitRow
from app.services.lot_words import NewLot
from app.web.parts import Choice, Field, Form, Pair
from app.web.seed_forms import Wrong
from app.web.typed import LONGEST_NOTE, Typed

UNITS = ("kg", "g", "jars", "packs", "bottles", "l", "heads", "pieces")
WAYS = {"used": "Used", "thrown": "Spoiled, thrown out", "given": "Given away"}
KILLED = {"home": "At home", "abattoir": "At an abattoir, for own use", "bought": "Bought"}
_WAYS = tuple(Choice(kind, text) for kind, text in WAYS.items())
_KILLED = tuple(Choice(kind, text) for kind, text in KILLED.items())
MOST = 1_000_000


def take_form(href: str, unit: str, home: bool, wrong: Wrong, today: date) -> Form:
    """Some of it was used, spoiled or given away."""
    typed, errors = wrong.of("take")
    fields = (
        _field("kind", "What became of it", typed, errors, "used", kind="choice", choices=_WAYS, required=True),
        _much(unit, typed, errors, "take-amount"),
        _on(typed, errors, today, "take-on"),
        _field("note", "Note", typed, errors, id="take-note"),
    )
    return Form(f"{href}/take", "Put it down", fields, _fresh(), note=HOME_KILLED if home else "", quiet=True)


def simple_form(href: str, which: str, button: str, unit: str, wrong: Wrong, today: date) -> Form:
    """How much, and on which day: put back, or counted again."""
    typed, errors = wrong.of(which)
    fields = (_much(unit, typed, errors, f"{which}-amount"), _on(typed, errors, today, f"{which}-on"))
    return Form(f"{href}/{which}", button, fields, _fresh(), quiet=True)


def mark_form(href: str, place: str, killed: str, wrong: Wrong) -> Form:
    """Where it lies now, and how it was killed."""
    typed, errors = wrong.of("mark")
    fields = (
        _field("place", "Where it lies", typed, errors, place),
        _field("killed", "If it is meat, how it was killed", typed, errors, killed, kind="choice", choices=_KILLED),
    )
    return Form(f"{href}/mark", "Put it right", fields, quiet=True)


def add_form(wrong: Wrong, today: date) -> Form:
    """A batch that no job here made."""
    typed, errors = wrong.of("add")
    units = tuple(Choice(unit, unit) for unit in UNITS)
    fields = (
        _field("what", "What it is", typed, errors, required=True),
        _field("made_on", "Made, packed or bought on", typed, errors, today.isoformat(), kind="date",
               high=today.isoformat(), required=True),
        _field("amount", "How much", typed, errors, kind="number", required=True),
        _field("unit", "Counted in", typed, errors, "kg", kind="list", choices=units, required=True),
        _field("place", "Where it lies", typed, errors, help="Freezer, shelf, clamp, fridge: in your own words."),
        _field("keeps_until", "Keeps until", typed, errors, kind="date"),
        _field("killed", "If it is meat, how it was killed", typed, errors, kind="choice", choices=_KILLED),
        _field("note", "Note", typed, errors, kind="lines"),
    )  # fmt: skip
    return Form("/larder/add", "Put it in the larder", fields, _fresh())


def read_add(form: Typed, today: date) -> tuple[NewLot, str]:
    """A batch as it was typed, and how it was killed.

    Raises: BadInput with a sentence per field.
    """
    what = form.text("what", "What is it? A name is wanted.", 80)
    made = form.day("made_on", "On which day was it made?")
    if made is not None and made > today.toordinal():
        form.fault("made_on", "That day has not come yet.")
    amount = form.number("amount", 0, MOST, needed="How much is it?")
    unit = form.choice("unit", UNITS, "In what is it counted?")
    until = form.day("keeps_until")
    if until is not None and made is not None and until < made:
        form.fault("keeps_until", "That is before it was made.")
    place, killed = form.text("place", longest=80), form.choice("killed", KILLED)
    note = form.text("note", longest=LONGEST_NOTE)
    form.check()
    return NewLot(what, made or 0, amount or 0.0, unit, keeps_until=until, place=place, note=note), killed


def read_much(form: Typed, today: date) -> tuple[float, Day]:
    """How much, and on which day.

    Raises: BadInput.
    """
    amount = form.number("amount", 0, MOST, needed="How much was it?")
    on = form.day("on")
    if on is not None and on > today.toordinal():
        form.fault("on", "That day has not come yet.")
    form.check()
    return amount or 0.0, today.toordinal() if on is None else on


def kit_form(wrong: Wrong) -> Form:
    """A freezer, a dryer, a smoker."""
    typed, errors = wrong.of("kit")
    kinds = tuple(Choice(kind, kind.capitalize()) for kind in KIT_KINDS)
    fields = (
        _field("kind", "What it is", typed, errors, kind="list", choices=kinds, required=True),
        _field("name", "What you call it", typed, errors, required=True),
        _field("litres", "It holds, if a freezer or fridge", typed, errors, kind="number", unit="l"),
        _field("trays", "Trays, if a dryer", typed, errors, kind="count"),
        _field("tray_m2", "One tray", typed, errors, kind="number", unit="m²"),
        _field("watts", "It draws", typed, errors, kind="number", unit="W"),
        _field("note", "Note", typed, errors),
    )
    return Form("/kit", "Put it down", fields)


def read_kit(form: Typed) -> KitRow:
    """A piece of kit as it was typed.

    Raises: BadInput.
    """
    kind = form.choice("kind", KIT_KINDS, "What is it?")
    name = form.text("name", "A name tells it from the others.", 60)
    litres = form.number("litres", 1, 10_000, "l")
    trays = form.number("trays", 1, 500)
    if trays is not None and trays != round(trays):
        form.fault("trays", "A whole number is wanted.")
    tray_m2, watts = form.number("tray_m2", 0.01, 20, "m²"), form.number("watts", 1, 20_000, "W")
    note = form.text("note", longest=LONGEST_NOTE)
    form.check()
    return KitRow(
        name=name, kind=kind, litres=litres, trays=None if trays is None else round(trays), tray_m2=tray_m2,
        watts=watts, note=note,
    )  # fmt: skip


def _much(unit: str, typed: Mapping[str, str], errors: Mapping[str, str], ident: str) -> Field:
    return _field("amount", "How much", typed, errors, kind="number", unit=unit, required=True, id=ident)


def _on(typed: Mapping[str, str], errors: Mapping[str, str], today: date, ident: str) -> Field:
    return _field("on", "On", typed, errors, today.isoformat(), kind="date", high=today.isoformat(), id=ident)


def _fresh() -> tuple[Pair, ...]:
    return (Pair("id", uuid4().hex),)


def _field(
    name: str,
    label: str,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    value: str = "",
    *,
    kind: str = "text",
    choices: tuple[Choice, ...] = (),
    required: bool = False,
    help: str = "",  # as the field calls it
    high: str = "",
    unit: str = "",
    id: str = "",
) -> Field:
    return Field(
        name, label, kind, typed.get(name, value), unit, help, errors.get(name, ""), choices, required=required,
        high=high, id=id,
    )  # fmt: skip
