"""What is asked about a medicine and a treatment, and read back."""

from collections.abc import Mapping, Sequence
from datetime import date

from app.rules.spans import Day
from app.services.livestock.animals import AnimalRow, called
from app.services.livestock.groups import Group
from app.services.livestock.medicine import COMMODITIES, LABEL, MEDICINE_UNITS, VET, Commodity, MedicineRow, figure
from app.services.livestock.treat import Treatment, eaten_of
from app.web.forms import Wrong, field, fresh
from app.web.parts import Choice, Field, Form
from app.web.typed import LONGEST_NOTE, Typed

MOST_FIGURE = {"meat": 730.0, "milk": 17520.0, "eggs": 730.0}
MOST_AMOUNT = 1_000_000
UNITS = {"meat": "days", "milk": "hours", "eggs": "days"}
_OF = {"meat": "Meat", "milk": "Milk", "eggs": "Eggs"}
OWN, AS_LABEL = "vet", "label"

Groups = tuple[tuple[str, tuple[Field, ...]], ...]


def bottle_form(row: MedicineRow | None, wrong: Wrong, today: date) -> tuple[Form, Groups]:
    """A medicine, new or to be changed."""
    typed, errors = wrong.of("bottle")
    high = today.isoformat()

    def known(name: str) -> str:
        value = getattr(row, name, None)
        if isinstance(value, date):
            return value.isoformat()
        return f"{value:g}" if isinstance(value, int | float) else value or ""

    def box(name: str, label: str, kind: str = "text", **more: object) -> Field:
        ident = f"bottle-{name}"
        return field(name, label, typed, errors, known(name), kind=kind, id=ident, **more)  # type: ignore[arg-type]

    units = tuple(Choice(unit, unit) for unit in MEDICINE_UNITS)
    what = (
        box("name", "Medicine, with its strength", required=True), box("batch", "Batch number"),
        box("expires", "Expiry date printed on it", "date"),
        box("bought_on", "Bought or dispensed on", "date", high=high),
        box("supplier", "From whom"), box("bought", "How much was bought", "number"),
        box("amount_left", "How much is left", "number"), box("unit", "In what", "list", choices=units),
        box("opened_on", "Opened on", "date", high=high),
        box("open_days", "Good for, once opened", "count", unit="days"),
    )  # fmt: skip
    label = tuple(box(LABEL[of], _OF[of], "number", unit=UNITS[of]) for of in COMMODITIES)
    vets = tuple(box(VET[of], _OF[of], "number", unit=UNITS[of]) for of in COMMODITIES)
    note = (box("note", "Note", "lines"),)
    groups = (
        ("What it is", what), ("Withdrawal on the label; leave out what it does not give, or forbids", label),
        ("Only if the vet set a figure off the label", vets), ("Besides", note),
    )  # fmt: skip
    action = f"/livestock/medicine/bottle/{row.id}" if row is not None else "/livestock/medicine"
    hidden = () if row is not None else fresh()
    button = "Keep" if row is not None else "Put it in the cupboard"
    return Form(action, button, hidden=hidden, error=errors.get("", "")), groups


def read_bottle(form: Typed, ident: str, now: object) -> MedicineRow:
    """A medicine as it was typed.

    Raises: BadInput with a sentence per field.
    """
    texts = {"name": form.text("name", "What is it called?", 80)}
    texts |= {name: form.text(name, longest=80) for name in ("batch", "supplier")}
    texts["note"] = form.text("note", longest=LONGEST_NOTE)
    days = {name: _date(form.day(name)) for name in ("expires", "bought_on", "opened_on")}
    figures = {name: form.number(name, 0, MOST_FIGURE[of], UNITS[of])
               for table in (LABEL, VET) for of, name in table.items()}  # fmt: skip
    amounts = {name: form.number(name, 0, MOST_AMOUNT) for name in ("bought", "amount_left")}
    unit = form.choice("unit", MEDICINE_UNITS) or None
    open_days = form.number("open_days", 1, 3650, "days")
    if amounts["bought"] is not None and amounts["amount_left"] is None and not form.raw("amount_left"):
        amounts["amount_left"] = amounts["bought"]
    form.check()
    whole = round(open_days) if open_days is not None else None
    return MedicineRow(
        id=ident, **texts, **days, **figures, **amounts, unit=unit, open_days=whole, created_at=now  # type: ignore[arg-type]
    )  # fmt: skip


def finish_form(row: MedicineRow, wrong: Wrong, today: date) -> Form:
    """It is used up, or went back; or it is not after all."""
    here = f"/livestock/medicine/bottle/{row.id}"
    if row.finished_on is not None:
        return Form(f"{here}/back", "It is here after all", quiet=True)
    typed, errors = wrong.of("finish")
    fields = (
        field("on", "On", typed, errors, today.isoformat(), kind="date", high=today.isoformat(), id="finish-on"),
        field("how", "How", typed, errors, help="Used up; what was left taken back to the vet. Never down the drain."),
    )
    return Form(f"{here}/finish", "It is finished", fields, quiet=True)


def treat_form(
    groups: Sequence[Group], group: Group | None, bottles: Sequence[MedicineRow], bottle: MedicineRow | None,
    animals: Sequence[AnimalRow], wrong: Wrong, today: date,
) -> tuple[Form, Groups]:  # fmt: skip
    """A group, or some of it, is treated; figures are filled in from the cupboard."""
    typed, errors = wrong.of("treat")
    if group is None and not errors:  # what is held hangs on whom it is given to, so that is asked first
        offered = tuple(Choice(one.entry.id, one.entry.name) for one in groups)
        whom = field("group", "To whom", typed, errors, kind="list", choices=offered, required=True)
        what = _what(bottles, bottle, typed, errors, today)[:1]
        return Form("/livestock/medicine/treat", "Go on", method="get"), (("Whom, and with what", (whom, *what)),)
    eaten = (_eaten(group, typed, errors), field("note", "What for, and what else", typed, errors, kind="lines"))
    parts = (
        ("Whom", _whom(groups, group, animals, typed, errors)),
        ("What", _what(bottles, bottle, typed, errors, today)),
        ("Withdrawal", _withdrawal(bottle, typed, errors)),
        ("What is held", eaten),
    )
    note = (
        "A figure that is left out never clears: ask the vet. Meat, milk and eggs are each barred for their own time."
    )
    form = Form(
        "/livestock/medicine/treat", "Write it in the book", hidden=fresh(), note=note, error=errors.get("", "")
    )
    return form, parts


def _whom(
    groups: Sequence[Group], group: Group | None, animals: Sequence[AnimalRow], typed: Mapping[str, str],
    errors: Mapping[str, str],
) -> tuple[Field, ...]:  # fmt: skip
    offered = tuple(Choice(one.entry.id, one.entry.name) for one in groups)
    first = field("group", "To whom", typed, errors, group.entry.id if group else "", kind="list", choices=offered,
                  required=True)  # fmt: skip
    here = tuple(Choice(called(one), called(one)) for one in animals if one.gone_on is None)
    picked = tuple(typed.get("picked", "").split("\n"))
    several = (Field("one", "Which; none ticked means all of them", "several", values=picked, choices=here),)
    says = (
        "Those that stand by tag or name on the group’s own page are held alone. One that can’t be told from the"
        " others holds the whole group."
    )
    rest = field("animals", "Others of them, or some in words", typed, errors, help=says)
    return (first, *((*several, *_apart(group, typed, errors)) if here else ()), rest)


def _apart(group: Group | None, typed: Mapping[str, str], errors: Mapping[str, str]) -> tuple[Field, ...]:
    """Whether what those few give is kept from the rest, asked of what lays or is milked."""
    gives = [of for of in eaten_of(group) if of != "meat"] if group is not None else []
    if not gives:
        return ()
    choices = (
        Choice("no", f"They go in with the others’: all their {gives[0]} are held" if gives[0] == "eggs"
               else "It goes in with the others’: all their milk is held"),
        Choice("yes", "Kept apart, and thrown away"),
    )  # fmt: skip
    label = f"If only some were treated, their {gives[0]}"
    return (field("apart", label, typed, errors, "no", kind="choice", choices=choices),)


def _what(
    bottles: Sequence[MedicineRow], bottle: MedicineRow | None, typed: Mapping[str, str], errors: Mapping[str, str],
    today: date,
) -> tuple[Field, ...]:  # fmt: skip
    cupboard = tuple(Choice(one.id, f"{one.name}{f', {one.batch}' if one.batch else ''}") for one in bottles)
    known, high = bottle.id if bottle else "", today.isoformat()
    unit = (bottle.unit or "") if bottle else ""
    return (
        field("medicine", "From the cupboard", typed, errors, known, kind="list", choices=cupboard),
        field("product", "Or its name and batch, if it is not there", typed, errors),
        field("given", "Dose given to each, and how", typed, errors), field("by", "By whom", typed, errors),
        field("first", "First dose on", typed, errors, high, kind="date", high=high, required=True),
        field("last", "Last dose on", typed, errors, kind="date",
              help="Left out, it was one dose. Every day between is a dose."),
        field("course", "More doses to come after that", typed, errors, "no", kind="choice",
              choices=(Choice("no", "No"), Choice("yes", "Yes"))),
        field("used", "How much was used in all", typed, errors, kind="number", unit=unit),
    )  # fmt: skip


def _withdrawal(
    bottle: MedicineRow | None, typed: Mapping[str, str], errors: Mapping[str, str]
) -> tuple[Field, ...]:  # fmt: skip
    vet = bottle is not None and any(figure(bottle, of, vet=True) is not None for of in COMMODITIES)
    says = "" if bottle else "Left out: as the cupboard has it."
    return (
        field("whose", "Whose figures", typed, errors, OWN if vet else AS_LABEL, kind="choice",
              choices=(Choice(AS_LABEL, "As the label says"), Choice(OWN, "The vet’s own, off the label"))),
        *(field(_name(of), _OF[of], typed, errors, _told(figure(bottle, of, vet=vet)), kind="number",
                unit=UNITS[of], help=says) for of in COMMODITIES),
    )  # fmt: skip


def read_treat(
    form: Typed, groups: Mapping[str, Group], bottles: Mapping[str, MedicineRow], today: Day
) -> Treatment:  # fmt: skip
    """A treatment as it was typed; what was left out of the figures is as the cupboard has it.

    Raises: BadInput with a sentence per field.
    """
    entry = form.choice("group", groups, "To whom was it given?")
    medicine = bottles.get(form.choice("medicine", bottles))
    product = form.text("product", longest=120) or (medicine.name if medicine is not None else "")
    if not product:
        form.fault("product", "What was given? Choose it from the cupboard, or write its name and batch.")
    first, last = form.day("first", "On which day?"), form.day("last")
    vet = form.choice("whose", (OWN, AS_LABEL)) == OWN
    figures: dict[Commodity, float] = {}
    for of in COMMODITIES:
        value = form.number(_name(of), 0, MOST_FIGURE[of], UNITS[of])
        value = figure(medicine, of, vet=vet) if value is None and not form.raw(_name(of)) else value
        if value is not None:
            figures[of] = value
    used = form.number("used", 0, MOST_AMOUNT)
    eaten = tuple(of for of in COMMODITIES if of in form.chosen("eaten", COMMODITIES))
    texts = {name: form.text(name, longest=120) for name in ("given", "by")}
    animals = form.text("animals", longest=400)
    note = form.text("note", longest=LONGEST_NOTE)
    form.check()
    begin = first or today
    return Treatment(
        entry, medicine, product, begin, begin if last is None else last, form.raw("course") == "yes", vet, figures,
        eaten, texts["given"], texts["by"], (*form.several.get("one", ()), *names_in(animals)),
        form.raw("apart") == "yes", used, note,
    )  # fmt: skip


def names_in(text: str) -> list[str]:
    """Names or tags typed one after another, with commas or semicolons between."""
    return [name.strip() for name in text.replace(";", ",").split(",") if name.strip()]


def _eaten(group: Group | None, typed: Mapping[str, str], errors: Mapping[str, str]) -> Field:
    usual = eaten_of(group) if group is not None else COMMODITIES
    values = tuple(typed["picked-eaten"].split(",")) if "picked-eaten" in typed else usual
    choices = tuple(Choice(of, _OF[of]) for of in COMMODITIES)
    return Field("eaten", "What of theirs is ever eaten, drunk or sold", "several", values=values, choices=choices,
                 error=errors.get("eaten", ""))  # fmt: skip


def kept(form: Typed) -> dict[str, str]:
    """What was typed, with the boxes that were ticked, so that a refused form keeps them."""
    ticked = {"picked": "\n".join(form.several.get("one", ())), "picked-eaten": ",".join(form.several.get("eaten", ()))}
    return {**form.values, **ticked}


def _name(of: Commodity) -> str:
    return f"{of}_{UNITS[of]}"


def _told(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def _date(on: Day | None) -> date | None:
    return None if on is None else date.fromordinal(on)
