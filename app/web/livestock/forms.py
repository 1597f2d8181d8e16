"""What is asked about a group of animals and its single animals, and read back."""

from collections.abc import Sequence
from datetime import UTC, date, datetime

from app.rules.spans import Day
from app.services.livestock.animals import GONE, SEXES, AnimalRow, Typed, kind_of
from app.services.livestock.groups import Group
from app.services.livestock.heads import Change
from app.services.livestock.put import NewGroup
from app.web.forms import Wrong, field, fresh
from app.web.livestock.words import HOLDING, KINDS, SAID
from app.web.parts import Choice, Field, Form, Pair
from app.web.typed import LONGEST_NOTE
from app.web.typed import Typed as Sent

MOST_HEAD = 100_000
NEVER = datetime(1900, 1, 1, tzinfo=UTC)
"""Stands in an animal that is not there yet: its form is filled from it."""
_SEX = {"female": "Female", "male": "Male", "castrated": "Castrated"}
_YES = (Choice("yes", "Yes"), Choice("no", "No"))


def read_group(form: Sent) -> NewGroup:
    """A group as it was typed.

    Raises: BadInput with a sentence per field.
    """
    sheet = form.text("sheet", "What are they?", 80)
    head = form.number("head", 1, MOST_HEAD)
    if head is not None and head != round(head):
        form.fault("head", "A whole number is wanted.")
    on = form.day("on", "On which day?")
    texts = {name: form.text(name, longest=80) for name in ("name", "place", "other", "paper")}
    tags = form.text("tags", longest=400)
    form.check()
    return NewGroup(sheet, on or 0, round(head) if head is not None else None, tags=tags, **texts)


def tell_form(
    here: str, group: Group, others: Sequence[Group], wrong: Wrong, today: date
) -> tuple[Form, tuple[Field, ...]]:  # fmt: skip
    """Something happened to the count, and what is asked of a movement besides."""
    typed, errors = wrong.of("tell")
    kinds = tuple(Choice(kind, text) for kind, text in KINDS.items() if kind != "moved" or others)
    fields = (
        field("kind", "What happened", typed, errors, "died", kind="list", choices=kinds, required=True),
        field("number", "How many", typed, errors, kind="count", required=True, id="tell-number"),
        field("on", "On", typed, errors, today.isoformat(), kind="date", high=today.isoformat(), id="tell-on"),
        field("note", "Note", typed, errors, id="tell-note"),
    )
    more: tuple[Field, ...] = (
        field("other", f"{HOLDING} they came from or went to", typed, errors, id="tell-other"),
        field("tags", "Tags or marks", typed, errors, id="tell-tags"),
        field("paper", "Licence or notice number", typed, errors, id="tell-paper"),
    )
    if others:
        offered = tuple(Choice(one.entry.id, one.entry.name) for one in others)
        more = (field("to", "If to another group, which", typed, errors, kind="list", choices=offered), *more)
    note = "What is fed, how long it takes and what comes of it shrink or grow with the count."
    return Form(f"{here}/tell", "Put it down", fields, fresh(), error=errors.get("", ""), note=note), more


def read_tell(form: Sent, today: Day, others: Sequence[str]) -> Change:
    """A change of a count as it was typed.

    Raises: BadInput with a sentence per field.
    """
    kind = form.choice("kind", KINDS, "What happened?")
    number = form.number("number", 0, MOST_HEAD, needed="How many?")
    if number is not None and number != round(number):
        form.fault("number", "A whole number is wanted.")
    on = form.day("on")
    if kind == "moved" and not others:
        form.fault("kind", "No other group of theirs is here; put it down first.")
    to = form.choice("to", others, "To which group?" if kind == "moved" else "")
    note = form.text("note", longest=LONGEST_NOTE)
    other, tags, paper = (form.text(name, longest=400) for name in ("other", "tags", "paper"))
    form.check()
    return Change(kind, today if on is None else on, round(number or 0), note, other, tags, paper, to)


def paper_form(here: str, known: Pair, tags: str, other: str, wrong: Wrong) -> Form:
    """What stood on the paper with which they came."""
    typed, errors = wrong.of("paper")
    fields = (
        field("other", f"From: {HOLDING.lower()}", typed, errors, other, id="paper-other"),
        field("tags", "Tags or marks", typed, errors, tags, id="paper-tags"),
        field("paper", "Licence or notice number", typed, errors, known.value, id="paper-paper"),
    )
    return Form(f"{here}/paper", "Keep", fields, quiet=True)


def animal_form(here: str, group: Group, row: AnimalRow | None, wrong: Wrong, today: date) -> Form:
    """An animal, new or to be changed."""
    typed, errors = wrong.of("animal")
    known = row or AnimalRow(id="", entry="", created_at=NEVER)
    sexes = tuple(Choice(sex, f"{_SEX[sex]}{f', a {word}' if (word := kind_of(group.species, sex)) else ''}")
                  for sex in SEXES)  # fmt: skip
    days = {name: on.isoformat() if on is not None else "" for name, on in
            (("born", known.born), ("marked_on", known.marked_on))}  # fmt: skip
    high = today.isoformat()
    fields = (
        field("tag", "Tag or mark", typed, errors, known.tag),
        field("name", "Name", typed, errors, known.name, id="animal-name"),
        field("sex", "It is", typed, errors, known.sex or "", kind="list", choices=sexes),
        field("born", "Born on", typed, errors, days["born"], kind="date", high=high),
        field("dam", "Mother", typed, errors, known.dam),
        field("sire", "Father", typed, errors, known.sire),
        field("marked_on", "Marked on", typed, errors, days["marked_on"], kind="date", high=high),
        field("cull", "On the cull list", typed, errors, "yes" if known.cull else "no", kind="choice", choices=_YES),
        field("note", "Note", typed, errors, known.note, kind="lines", id="animal-note"),
    )
    hidden = (Pair("animal", row.id),) if row is not None else fresh()
    return Form(f"{here}/animal", "Keep" if row else "Add it", fields, hidden, error=errors.get("", ""), quiet=True)


def read_animal(form: Sent) -> Typed:
    """An animal as it was typed.

    Raises: BadInput with a sentence per field.
    """
    tag, name = form.text("tag", longest=40), form.text("name", longest=40)
    dam, sire = form.text("dam", longest=60), form.text("sire", longest=60)
    sex, born, marked = form.choice("sex", SEXES), form.day("born"), form.day("marked_on")
    cull, note = form.choice("cull", ("yes", "no")) == "yes", form.text("note", longest=LONGEST_NOTE)
    form.check()
    return Typed(tag, name, sex, born, dam, sire, marked, cull, note)


def gone_form(here: str, row: AnimalRow, wrong: Wrong, today: date) -> Form:
    """It is gone: why, and whether the count of its group has it still."""
    typed, errors = wrong.of(f"gone-{row.id}")
    choices = tuple(Choice(why, SAID.get(why, why.capitalize())) for why in GONE)
    fields = (
        field("why", "What became of it", typed, errors, "died", kind="list", choices=choices, id=f"why-{row.id}"),
        field("on", "On", typed, errors, today.isoformat(), kind="date", high=today.isoformat(), id=f"on-{row.id}"),
        field("counted", "Take it off the count of the group", typed, errors, "yes", kind="choice", choices=_YES),
    )
    hidden = (*fresh(), Pair("animal", row.id))
    error = errors.get("number", errors.get("", ""))
    return Form(f"{here}/gone", "It is gone", fields, hidden, error=error, quiet=True)


def served_form(here: str, row: AnimalRow, wrong: Wrong, today: date) -> Form:
    """It was served on a day."""
    typed, errors = wrong.of(f"served-{row.id}")
    fields = (field("served_on", "Served on", typed, errors, "", kind="date", high=today.isoformat(),
                    required=True, id=f"served-{row.id}"),)  # fmt: skip
    return Form(f"{here}/served", "Put it down", fields, (*fresh(), Pair("animal", row.id)), quiet=True)


def one_tap(here: str, what: str, row: AnimalRow, button: str) -> Form:
    """Something said of an animal with one tap."""
    return Form(f"{here}/{what}", button, hidden=(Pair("animal", row.id),), quiet=True)
