"""What the day of a batch is of, what it rests on, when it is taken as eaten, and the day of what was moved."""

from collections.abc import Sequence
from typing import Literal, NamedTuple, cast

from app.rules.keys import split_key
from app.rules.sheet import Sheet
from app.rules.spans import Day, add
from app.rules.step import Make, Step
from app.services.larder.lot_parts import Lot, LotFact, day_said
from app.sheets.larder_tables import BASES, basis_of, figures_of, named

FRESH_DAYS = 31
"""What came fresh out of the garden to keep so long or less is eaten without a word said."""
THAWED_DAYS = 1
"""Meat out of the freezer is cooked within a day. Source: safefood, Advice on defrosting meat; the strictest of the
published, so it serves everywhere."""

Basis = Literal["", "quality", "safety"]


class Keeping(NamedTuple):
    """By when a batch is to be used, what that day is of, and what it rests on."""

    until: Day | None
    basis: Basis
    source: str


def keeping(one: Lot, first: str, now: str, sheet: Sheet | None, trade: str) -> Keeping:
    """The day of a batch, as somebody put it right, else as it is told."""
    told, said = told_of(one, first, now, sheet, trade), day_said(one.facts)
    if said is None:
        return _as_the_table_has_it(told, one.facts) if now == first else told
    return Keeping(said, told.basis or basis_of(one.what, trade, now).of, "as you put it right")


def _as_the_table_has_it(told: Keeping, facts: Sequence[LotFact]) -> Keeping:
    """With the basis and its source that stood in the table by which a batch came in."""
    for fact in facts:
        basis, rests = fact.measures.get("basis"), fact.measures.get("rests")
        if basis in BASES and told.until is not None:
            told = told._replace(basis=cast(Basis, basis))
        if isinstance(rests, str) and told.until is not None:
            told = told._replace(source=rests)
    return told


def told_of(one: Lot, first: str, now: str, sheet: Sheet | None, trade: str) -> Keeping:
    """The day of a batch that was put up in the store ``first`` and lies in ``now``; None where nobody knows it.

    Meat that came out of the freezer has one day; what went into it has the lowest figure that a table gives.
    """
    row = basis_of(one.what, trade, now)
    if now == first or one.kind == "seed":
        make, step = _maker(one, sheet)
        of = make.basis if make is not None and make.basis else row.of
        if one.keeps_until is None:
            return Keeping(None, "", "")
        of = "quality" if one.kind == "seed" else of
        return Keeping(one.keeps_until, of, step.source.basis if step is not None else "as it was put down")
    day = moved_on(one.facts)
    if first == "freezer":
        perishable = row.of == "safety" or trade in ("meat", "preserving")
        if perishable:
            return Keeping(None if day is None else day + THAWED_DAYS, "safety", "out of the freezer: a day, published")
    if now == "freezer" and day is not None and (figures := figures_of(one.what, "freezer")):
        return Keeping(add(day, figures[0].low), "quality", figures[0].basis)
    return Keeping(one.keeps_until, row.of if one.keeps_until is not None else "", "as before it was moved")


def moved_on(facts: Sequence[LotFact]) -> Day | None:
    """The day on which it last went to another kind of place."""
    return max((fact.on for fact in facts if fact.measures.get("to")), default=None)


def taken_as_eaten(one: Lot, until: Day | None, trade: str, today: Day) -> bool:
    """Whether what is past its day is taken as eaten: garden's fresh lots, and eggs, of which nobody has said since.

    A count on or after that day holds for as long again as the lot keeps. This is a way of telling: no fact is made.
    """
    if one.kind == "seed" or one.over or until is None or until >= today or until <= one.made_on:
        return False
    keeps = until - one.made_on
    fresh = trade == "garden" and not one.by_hand and keeps <= FRESH_DAYS
    if not fresh and not named(one.what, ("egg",)):
        return False
    seen = max((fact.on for fact in one.facts if fact.on >= until), default=None)
    return seen is None or seen + keeps < today


def _maker(one: Lot, sheet: Sheet | None) -> tuple[Make | None, Step | None]:
    """The step that made a lot, and the place there that says so."""
    if sheet is None or not one.key:
        return None, None
    name = split_key(one.key).step
    step = next((step for step in sheet.steps if name == step.id or name in step.was), None)
    number = one.id.rpartition("#")[2]
    make = (
        step.makes[int(number)] if step is not None and number.isdecimal() and int(number) < len(step.makes) else None
    )
    return make, step
