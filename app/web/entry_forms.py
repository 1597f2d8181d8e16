"""A new entry or a change to one as a form: the sheet's questions with what was typed, read back into a draft."""

from collections.abc import Iterable, Mapping, Sequence

from app.rules.facts import Entry
from app.rules.sheet import Sheet
from app.rules.spans import Day
from app.rules.terms import Ask
from app.services.preview import Draft
from app.services.setup import asks_last_done
from app.web.fields import field, in_units
from app.web.parts import Choice, Field
from app.web.typed import LONGEST_NOTE, Typed


def facts_asked(sheet: Sheet, imperial: bool, made: bool = False) -> tuple[Ask, ...]:
    """What is asked of an entry, in the household's units; of one that a job made the date is not, since it follows."""
    return in_units((ask for name, ask in sheet.facts.items() if not (made and name == "date")), imperial)


def read_draft(
    sheet: Sheet, form: Typed, others: Mapping[str, str], imperial: bool, today: Day, known: Entry | None = None
) -> Draft:
    """What was typed, as an entry that is not yet put down.

    Raises: BadInput with a sentence per field.
    """
    name = form.text("name", longest=80)
    place = form.text("place", longest=80)
    note = form.text("note", longest=LONGEST_NOTE)
    made = known is not None and bool(known.made_by)
    facts = form.asked(facts_asked(sheet, imperial, made), others, known=known.facts if known is not None else None)
    date = facts.get("date")
    if asks_last_done(sheet) and isinstance(date, int) and date > today:
        form.fault("date", "That day has not come yet; when was it last done?")
    form.check()
    return Draft(sheet.id, name or sheet.title, place, facts, note)


def form_fields(
    sheet: Sheet,
    typed: Mapping[str, str],
    errors: Mapping[str, str],
    known: Entry | None,
    note: str,
    others: Mapping[str, str],
    imperial: bool,
    places: Sequence[str] = (),
) -> tuple[Field, ...]:
    """The fields of an entry's form: as typed, else as known, else as usual."""
    made = known is not None and bool(known.made_by)
    choices = tuple(Choice(ident, name) for ident, name in others.items())
    facts = known.facts if known is not None else {}
    asked = [
        field(ask, typed.get(ask.name), errors.get(ask.name, ""), facts.get(ask.name), choices)
        for ask in facts_asked(sheet, imperial, made)
    ]
    helped = f"Where others are: {', '.join(places)}" if places and known is None else ""
    name = Field(
        "name",
        "What you call it",
        value=typed.get("name", known.name if known is not None else ""),
        help="" if known is not None else f"Left empty, it is called ‘{sheet.title}’.",
        error=errors.get("name", ""),
    )
    place = Field(
        "place",
        "Where",
        value=typed.get("place", known.place if known is not None else ""),
        help=helped,
        error=errors.get("place", ""),
    )
    said = Field("note", "Note", "lines", typed.get("note", note), error=errors.get("note", ""))
    return (*asked[:1], name, place, *asked[1:], *([] if made else [said]))


def others_of(entries: Iterable[Entry]) -> dict[str, str]:
    """The entries that a question about another entry may name: their names by their ids."""
    return {entry.id: entry.name for entry in entries if not entry.struck and entry.sure}
