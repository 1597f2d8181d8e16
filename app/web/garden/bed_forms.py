"""What is asked about a bed, and read back: its measure, what grew in it, trouble, feeding, watering."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from app.rules.spans import Day
from app.rules.terms import Ask
from app.services.garden.ground import COVERS, DISEASE_NAMES, FEED_NAMES, SOIL_NAMES, Bed, Fact, Kind
from app.web.fields import field, in_units
from app.web.parts import Choice, Field, Form
from app.web.typed import LONGEST_NOTE, Typed

LENGTH = Ask("length_m", "m", "Length", low=0.1, high=1000)
WIDTH = Ask("width_m", "m", "Width", low=0.05, high=1000)
TRAYS = Ask("trays", "count", "Room for trays", low=1, high=1000, optional=True)
LITRES = Ask("litres", "l", "Water, on all of the bed", low=0.1, high=100000)
KILOS = Ask("kg", "kg", "How much", low=0.01, high=100000, optional=True)
COVER_NAMES = {
    "open": "The open",
    "tunnel": "A tunnel",
    "frame": "A frame",
    "propagator": "A propagator",
    "sill": "A sill",
}
OTHER = "other"
TROUBLES = {**{name: name.capitalize() for name in DISEASE_NAMES}, OTHER: "Something else"}
SOIL_NOTE = {"sand": "runs through the fingers", "loam": "holds in a ball that crumbles", "clay": "shines when rubbed"}


def bed_form(
    action: str,
    button: str,
    imperial: bool,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    bed: Bed | None = None,
) -> Form:
    """A bed's own facts, as typed, else as known."""
    known = bed or Bed(0, "", 0.0, 0.0)
    measured = {"length_m": known.length_m or None, "width_m": known.width_m or None, "trays": known.trays}
    asks = in_units((LENGTH, WIDTH, TRAYS), imperial)
    length, width, trays = (field(a, typed.get(a.name), errors.get(a.name, ""), measured[a.name]) for a in asks)
    helped = "Entries stand in it when their ‘Where’ is this name."
    name = Field("name", "What it is called", value=typed.get("name", known.name), error=errors.get("name", ""))
    fields = [
        replace(name, help=helped, required=True),
        length,
        width,
        _choose("cover", "Under", typed.get("cover", known.cover), errors, {one: COVER_NAMES[one] for one in COVERS}),
        _soil(typed.get("soil", known.soil or ""), errors),
        replace(trays, help="Only where plants are raised: under cover, on a sill."),
    ]
    if bed is not None:
        ends = date.fromordinal(bed.ends).isoformat() if bed.ends is not None else ""
        fields.append(
            Field("ends", "It is no bed any more after", "date", typed.get("ends", ends), error=errors.get("ends", ""))
        )
    fields.append(
        Field("note", "Note", "lines", typed.get("note", known.note), error=errors.get("note", ""))
    )  # fmt: skip
    return Form(action, button, tuple(fields))


def _choose(name: str, label: str, value: str, errors: Mapping[str, str], words: Mapping[str, str]) -> Field:
    choices = tuple(Choice(one, text) for one, text in words.items())
    return Field(name, label, "choice", value, error=errors.get(name, ""), choices=choices, required=True)


def _soil(value: str, errors: Mapping[str, str]) -> Field:
    choices = (
        *(Choice(one, one.capitalize(), SOIL_NOTE.get(one, "")) for one in SOIL_NAMES),
        Choice("", "Not known", "reckoned as a loam"),
    )
    helped = "For how much water it holds."
    return Field("soil", "Soil", "choice", value, help=helped, error=errors.get("soil", ""), choices=choices)


def read_bed(form: Typed, imperial: bool, ident: int = 0) -> Bed:
    """A bed as it was typed.

    Raises: BadInput with a sentence per field.
    """
    name = " ".join(form.text("name", "A bed wants a name, such as ‘Long bed’.", longest=80).split())
    found = form.asked(in_units((LENGTH, WIDTH, TRAYS), imperial))
    cover = form.choice("cover", COVERS, "Does it lie in the open, or under something?")
    soil = form.choice("soil", SOIL_NAMES)
    ends = form.day("ends")
    note = form.text("note", longest=LONGEST_NOTE)
    form.check()
    trays = found.get("trays")
    return Bed(
        ident, name, float(found["length_m"]), float(found["width_m"]), cover, soil or None,
        int(trays) if trays is not None else None, ends, note,
    )  # fmt: skip


def fact_form(
    kind: str,
    bed_id: int,
    kinds: Mapping[str, Kind],
    today: date,
    imperial: bool,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
) -> Form:
    """The form for one kind of thing that can be said of a bed."""
    on = _on(kind, today, typed, errors)
    note = Field("note", "Note", value=typed.get("note", ""), error=errors.get("note", ""), id=f"{kind}-note")
    fields: tuple[Field, ...]
    if kind == "watered":
        fields = (on, _amount(LITRES, kind, imperial, typed, errors))
    elif kind == "fed":
        what = _choice(kind, "What", {name: name.capitalize() for name in FEED_NAMES}, typed, errors)
        fields = (what, on, _amount(KILOS, kind, imperial, typed, errors), note)
    elif kind == "trouble":
        fields = (_choice(kind, "What", TROUBLES, typed, errors), on, note)
    else:
        words = {ident: one.word for ident, one in sorted(kinds.items(), key=lambda one: one[1].word.casefold())}
        year = Field(
            "year", "In the year", "count", typed.get("year", str(today.year - 1)), error=errors.get("year", ""),
            required=True, id="grew-year",
        )  # fmt: skip
        fields = (_choice(kind, "What", words, typed, errors), year, note)
    return Form(f"/garden/bed/{bed_id}/{kind}", "Put it down", fields, quiet=True)


def read_fact(kind: str, bed_id: int, form: Typed, kinds: Mapping[str, Kind], today: date, imperial: bool) -> Fact:
    """Something said of a bed, as it was typed.

    Raises: BadInput with a sentence per field.
    """
    what, amount, unit = "", None, ""
    on: Day | None
    if kind == "grew":
        what = form.choice("what", kinds, "What grew there?")
        year = form.number("year", today.year - 60, today.year, needed="Which year was it?")
        if year is not None and year != round(year):
            form.fault("year", "A year is wanted, such as 2025.")
        on = date(int(year), min(7, today.month) if int(year) == today.year else 7, 1).toordinal() if year else None
    else:
        on = form.day("on", "Which day was it?")
    if kind == "fed":
        what = form.choice("what", FEED_NAMES, "What was spread?")
        amount, unit = _read(KILOS, form, imperial), "kg"
    elif kind == "watered":
        amount, unit = _read(LITRES, form, imperial), "l"
    elif kind == "trouble":
        what = form.choice("what", TROUBLES, "What was found?")
    note = form.text("note", "Say in a word what it was." if what == OTHER and kind == "trouble" else "")
    form.check()
    return Fact("", bed_id, kind, what, on or 0, amount, unit if amount is not None else "", note)


def _read(ask: Ask, form: Typed, imperial: bool) -> float | None:
    value = form.asked(in_units((ask,), imperial)).get(ask.name)
    return float(value) if value is not None else None


def _on(kind: str, today: date, typed: Mapping[str, str], errors: Mapping[str, str]) -> Field:
    iso = today.isoformat()
    return Field(
        "on", "On", "date", typed.get("on", iso), error=errors.get("on", ""), required=True, high=iso, id=f"{kind}-on"
    )


def _choice(
    kind: str, label: str, words: Mapping[str, str], typed: Mapping[str, str], errors: Mapping[str, str]
) -> Field:
    choices = tuple(Choice(value, text) for value, text in words.items())
    return Field(
        "what", label, "choice", typed.get("what", ""), error=errors.get("what", ""), choices=choices, required=True,
        id=f"{kind}-what",
    )  # fmt: skip


def _amount(ask: Ask, kind: str, imperial: bool, typed: Mapping[str, str], errors: Mapping[str, str]) -> Field:
    (asked,) = in_units((ask,), imperial)
    found = field(asked, typed.get(ask.name), errors.get(ask.name, ""))
    return Field(
        found.name, found.label, found.kind, found.value, found.unit, "", found.error, required=found.required,
        id=f"{kind}-{ask.name}",
    )  # fmt: skip
