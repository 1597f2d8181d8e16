"""What is asked about batches, and read back."""

from collections.abc import Mapping
from datetime import date

from app.rules.spans import Day
from app.services.larder.larder import KITCHEN
from app.services.larder.lot_words import NewLot
from app.web.forms import Wrong, day_done, field, fresh
from app.web.larder.units import read_amount
from app.web.parts import Choice, Field, Form, Pair
from app.web.typed import LONGEST_NOTE, Typed

WEIGHED = ("kg", "g", "l")
"""Units of what is weighed out, not taken one by one."""
UNITS = ("kg", "g", "jars", "packs", "bottles", "l", "heads", "pieces")
WAYS = {"used": "Used", "thrown": "Spoiled, thrown out", "given": "Given away", "sold": "Sold"}
KILLED = {"home": "At home", "abattoir": "At an abattoir, for own use", "bought": "Bought"}
_WAYS = tuple(Choice(kind, text) for kind, text in WAYS.items())
_KILLED = tuple(Choice(kind, text) for kind, text in KILLED.items())


def take_form(href: str, unit: str, advised: str, wrong: Wrong, today: date) -> Form:
    """Some of it was used, spoiled, given away or sold; ``advised`` speaks against either of the last two."""
    typed, errors = wrong.of("take")
    fields = (
        field("kind", "What became of it", typed, errors, "used", kind="choice", choices=_WAYS, required=True),
        _much(unit, typed, errors, "take-amount"),
        day_done(typed, errors, today, "take-on"),
        field("note", "Note", typed, errors, id="take-note"),
    )
    return Form(f"{href}/take", "Put it down", fields, fresh(), note=f"{advised} {KITCHEN}".strip(), quiet=True)


def tap_forms(href: str, unit: str, left: float | None, past: bool) -> tuple[Form, ...]:
    """What is said of a batch with one tap, standing before its jar: one is taken, it is used up, it was spoiled.

    ``past`` puts what was spoiled first. What nobody weighed is counted as none.
    """
    if left is None:
        return (_tap(f"{href}/count", "It is used up", ("amount", "0")),)
    if left <= 0:
        return ()
    all_of_it = f"{left:.10g}{f' {unit}' if unit in WEIGHED else ''}"  # a unit written out is taken in any household's
    gone = _tap(f"{href}/take", "It is used up", ("kind", "used"), ("amount", all_of_it))
    spoiled = _tap(f"{href}/take", "All spoiled, thrown out", ("kind", "thrown"), ("amount", all_of_it))
    one = (_tap(f"{href}/take", "Take one", ("kind", "used"), ("amount", "1")),)
    several = unit not in WEIGHED and left > 1
    return (*((spoiled,) if past else ()), *(one if several else ()), gone, *(() if past else (spoiled,)))


def _tap(action: str, button: str, *said: tuple[str, str]) -> Form:
    return Form(action, button, hidden=(*(Pair(name, value) for name, value in said), *fresh()))


def simple_form(href: str, which: str, button: str, unit: str, wrong: Wrong, today: date) -> Form:
    """How much, and on which day: put back, or counted again."""
    typed, errors = wrong.of(which)
    fields = (_much(unit, typed, errors, f"{which}-amount"), day_done(typed, errors, today, f"{which}-on"))
    return Form(f"{href}/{which}", button, fields, fresh(), quiet=True)


def mark_form(href: str, place: str, killed: str, wrong: Wrong) -> Form:
    """Where it lies now, and how it was killed."""
    typed, errors = wrong.of("mark")
    fields = (
        field("place", "Where it lies", typed, errors, place),
        field("killed", "If it is meat, how it was killed", typed, errors, killed, kind="choice", choices=_KILLED),
    )
    return Form(f"{href}/mark", "Put it right", fields, quiet=True)


def right_form(href: str, name: str, until: Day | None, by_hand: bool, wrong: Wrong) -> Form:
    """What it is called, when a hand put it down, and until when it keeps."""
    typed, errors = wrong.of("right")
    day = date.fromordinal(until).isoformat() if until is not None else ""
    named = (field("name", "What it is", typed, errors, name, required=True, id="right-name"),) if by_hand else ()
    fields = (
        *named,
        field("keeps_until", "Keeps until", typed, errors, day, kind="date", id="right-until"),
        field("note", "Why", typed, errors, id="right-note"),
    )
    return Form(f"{href}/right", "Put it right", fields, fresh(), error=errors.get("", ""), quiet=True)


def add_form(wrong: Wrong, today: date) -> Form:
    """A batch that no job here made."""
    typed, errors = wrong.of("add")
    units = tuple(Choice(unit, unit) for unit in UNITS)
    fields = (
        field("what", "What it is", typed, errors, required=True),
        field("made_on", "Made, packed or bought on", typed, errors, today.isoformat(), kind="date",
               high=today.isoformat(), required=True),
        field("amount", "How much", typed, errors, kind="number", required=True),
        field("unit", "Counted in", typed, errors, "kg", kind="list", choices=units, required=True),
        field("place", "Where it lies", typed, errors, help="Freezer, shelf, clamp, fridge: in your own words."),
        field("keeps_until", "Keeps until", typed, errors, kind="date"),
        field("killed", "If it is meat, how it was killed", typed, errors, kind="choice", choices=_KILLED),
        field("note", "Note", typed, errors, kind="lines"),
    )  # fmt: skip
    return Form("/larder/add", "Put it in the larder", fields, fresh())


def read_add(form: Typed, today: date) -> tuple[NewLot, str]:
    """A batch as it was typed, and how it was killed.

    Raises: BadInput with a sentence per field.
    """
    what = form.text("what", "What is it? A name is wanted.", 80)
    made = form.day("made_on", "On which day was it made?")
    if made is not None and made > today.toordinal():
        form.fault("made_on", "That day has not come yet.")
    unit = form.choice("unit", UNITS, "In what is it counted?")
    amount = read_amount(form, "amount", unit, False, "How much is it?", some=True)
    until = form.day("keeps_until")
    if until is not None and made is not None and until < made:
        form.fault("keeps_until", "That is before it was made.")
    place, killed = form.text("place", longest=80), form.choice("killed", KILLED)
    note = form.text("note", longest=LONGEST_NOTE)
    form.check()
    return NewLot(what, made or 0, amount or 0.0, unit, keeps_until=until, place=place, note=note), killed


def read_much(
    form: Typed, today: date, unit: str = "", imperial: bool = False, *, some: bool = True
) -> tuple[float, Day]:
    """How much of what is counted in ``unit``, and on which day; nought is an answer only to a count.

    Raises: BadInput.
    """
    amount = read_amount(form, "amount", unit, imperial, "How much was it?", some=some)
    on = form.day("on")
    if on is not None and on > today.toordinal():
        form.fault("on", "That day has not come yet.")
    form.check()
    return amount or 0.0, today.toordinal() if on is None else on


def _much(unit: str, typed: Mapping[str, str], errors: Mapping[str, str], ident: str) -> Field:
    return field("amount", "How much", typed, errors, kind="number", unit=unit, required=True, id=ident)
