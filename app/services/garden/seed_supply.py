"""Whether there is enough of each kind of seed for next year's sowings, and what is over to give away."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from app.rules.made import with_defaults
from app.rules.spans import Day
from app.rules.tasks import Fate, Laid
from app.services.book import Book
from app.services.garden.seed_lot import SEEDS, SeedLot
from app.trade.garden.enough import Balance, balance

AHEAD_DAYS = 400
"""Sowings so far ahead are next year's."""

_SETTLED = frozenset({Fate.LOST, Fate.PASSED_OVER, Fate.LET_GO, Fate.NO_ROOM})


class Supply(NamedTuple):
    """All of one kind of seed: what is still good on the next sowing, what is wanted, and what is over.

    ``unit`` is "seeds" or "g"; ``like_last_year`` when nothing is planned yet and last year's sowing stands in;
    ``sowings`` name what it is wanted for. ``balance`` is None when nothing is wanted, or no number is to be had.
    """

    what: str
    unit: str
    balance: Balance | None
    like_last_year: bool
    sowings: tuple[str, ...]


class Wanted(NamedTuple):
    """What one sowing takes."""

    name: str
    day: Day
    amount: float
    unit: str


def supplies(book: Book, there: Sequence[SeedLot], laid: Iterable[Laid], today: Day) -> dict[str, Supply]:
    """For each kind of seed what there is of it and what is wanted."""
    coming, gone = _wanted_of(book, laid, today)
    kinds: dict[str, list[SeedLot]] = {}
    for one in there:
        kinds.setdefault(one.lot.what, []).append(one)
    return {what: _supply(what, some, coming.get(what, []), gone.get(what, [])) for what, some in kinds.items()}


def _supply(what: str, some: Sequence[SeedLot], coming: Sequence[Wanted], gone: Sequence[Wanted]) -> Supply:
    sowings = coming or gone
    names = tuple(dict.fromkeys(one.name for one in sowings))
    next_day = min((one.day for one in coming), default=None)
    good = [one for one in some if next_day is None or one.lot.keeps_until is None or one.lot.keeps_until >= next_day]
    a_gram = next((one.a_gram for one in some if one.a_gram), None)
    unit = SEEDS if a_gram or any(one.lot.unit == SEEDS for one in some) else "g"
    amounts = [_in(unit, want.amount, want.unit, a_gram) for want in sowings]
    there = [one.seeds if unit == SEEDS else one.grams for one in good]
    if not sowings or None in amounts or None in there:
        return Supply(what, unit, None, not coming, names)
    times = max((one.test.times or 1.0 for one in good if one.test is not None), default=1.0)
    wanted = sum(amount for amount in amounts if amount is not None) * max(1.0, times)
    return Supply(what, unit, balance(sum(part for part in there if part is not None), wanted), not coming, names)


def _in(unit: str, amount: float, of: str, a_gram: float | None) -> float | None:
    if unit == of:
        return amount
    if not a_gram or {unit, of} != {SEEDS, "g"}:
        return None
    return amount * a_gram if unit == SEEDS else amount / a_gram


def _wanted_of(book: Book, laid: Iterable[Laid], today: Day) -> tuple[dict[str, list[Wanted]], dict[str, list[Wanted]]]:
    """What the sowings to come take of each kind of seed, and what those of the last year took."""
    coming: dict[str, list[Wanted]] = {}
    gone: dict[str, list[Wanted]] = {}
    for one in laid:
        sheet = book.library.sheets.get(one.entry.sheet)
        uses = {step.id: step.uses for step in sheet.steps if step.uses} if sheet is not None else {}
        if sheet is None or one.entry.struck or not uses:
            continue
        facts = with_defaults(one.entry, sheet).facts
        for task in one.tasks:
            for use in uses.get(task.step, ()):
                many = facts.get(use.per, 1) if use.per else 1
                day = task.done if task.done is not None else task.best
                if day is None or not use.what.endswith("seed") or not isinstance(many, int | float):
                    continue
                want = Wanted(one.entry.name, day, use.amount * many, use.unit)
                if task.done is None and task.fate not in _SETTLED and today <= day <= today + AHEAD_DAYS:
                    coming.setdefault(use.what, []).append(want)
                elif task.done is not None and day > today - 366:
                    gone.setdefault(use.what, []).append(want)
    return coming, gone
