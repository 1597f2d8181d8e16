"""What is asked about what shall be on the table, and read back."""

from collections.abc import Mapping, Sequence
from datetime import date

from app.rules.spans import Day
from app.rules.terms import Ask, Value
from app.rules.ways_in import Goal
from app.services.meat.from_table import goal_id
from app.sheets.library import Library
from app.web import told as said
from app.web.fields import field, in_units, told
from app.web.parts import Choice, Field, Form
from app.web.typed import Typed

PREFIX = "f-"


def table_form(
    library: Library, goals: Sequence[Goal], typed: Mapping[str, str], errors: Mapping[str, str], asks: Sequence[Ask],
    imperial: bool, today: date,
) -> Form:  # fmt: skip
    """What, for when, and what is asked about it once it is chosen."""
    choices = tuple(Choice(goal_id(one), _text(library, one)) for one in goals)
    fields = (
        Field("what", "On the table", "list", typed.get("what", ""), choices=choices, required=True,
              error=errors.get("what", "")),
        Field("day", "On", "date", typed.get("day", ""), required=True, error=errors.get("day", ""),
              low=today.isoformat()),
        *(field(ask, typed.get(PREFIX + ask.name), errors.get(PREFIX + ask.name, ""), prefix=PREFIX)
          for ask in in_units(asks, imperial)),
    )  # fmt: skip
    return Form("/meat/table", "Work it back", fields, method="get")


def as_usual(
    typed: Mapping[str, str], asks: Sequence[Ask], usual: Mapping[str, Value], imperial: bool
) -> dict[str, str]:
    """What was typed; where nothing was, what is usual."""
    found = dict(typed)
    for ask in in_units(asks, imperial):
        value = usual.get(ask.name)
        if PREFIX + ask.name not in found and value is not None:
            found[PREFIX + ask.name] = told(ask, value)
    return found


def read_table(form: Typed, asks: Sequence[Ask], imperial: bool) -> tuple[Day, dict[str, Value]]:
    """The day, and what was said of what is to be on the table.

    Raises: BadInput with a sentence per field.
    """
    on = form.day("day", "For which day?")
    facts = form.asked(in_units(asks, imperial), prefix=PREFIX)
    form.check()
    return on or 0, facts


def _text(library: Library, goal: Goal) -> str:
    title = library.sheets[goal.sheet].title
    plain = goal.what.casefold() in title.casefold()
    return title if plain else f"{said.name(goal.what)}: {title[:1].lower()}{title[1:]}"
