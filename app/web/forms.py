"""What every form has in common: what was refused comes back in it, and it counts once however often it is sent."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple
from uuid import uuid4

from app.web.parts import Choice, Field, Pair
from app.web.typed import Typed


class Wrong(NamedTuple):
    """A form that was refused: which one of the page, what was typed, what is wrong."""

    which: str = ""
    typed: Mapping[str, str] = {}
    errors: Mapping[str, str] = {}

    def of(self, which: str) -> tuple[Mapping[str, str], Mapping[str, str]]:
        """What was typed into a form and what was wrong with it; nothing for every other form."""
        return (self.typed, self.errors) if which == self.which else ({}, {})


def field(
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
    """A question, with what was typed into it before and what was wrong with that."""
    return Field(
        name, label, kind, typed.get(name, value), unit, help, errors.get(name, ""), choices, required=required,
        high=high, id=id,
    )  # fmt: skip


def day_done(typed: Mapping[str, str], errors: Mapping[str, str], today: date, ident: str, label: str = "On") -> Field:
    """On which day something happened: today, unless it is put further back."""
    return field("on", label, typed, errors, today.isoformat(), kind="date", high=today.isoformat(), id=ident)


# ── A form counts once ────────────────────────────────────────────────────────────────────────────────────────────


def fresh_id() -> str:
    """An id that no form had before."""
    return uuid4().hex


def fresh() -> tuple[Pair, ...]:
    """The same, hidden in a form."""
    return (Pair("id", fresh_id()),)


def form_id(form: Typed) -> str:
    """The id that a form was sent with, "" when it is none of ours."""
    ident = form.raw("id")
    return ident if 16 <= len(ident) <= 64 and ident.isascii() and ident.isalnum() else ""


def any_id(form: Typed) -> str:
    """The id that a form was sent with; a fresh one, when it is none of ours."""
    return form_id(form) or fresh_id()
