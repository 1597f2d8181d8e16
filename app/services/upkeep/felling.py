"""Felling by the calendar quarter: what was felled and sold of what needs no licence, and what is left of it."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import OutOfRange
from app.rules.facts import Tick
from app.rules.keys import split_key
from app.rules.spans import Day
from app.rules.terms import Value
from app.rules.ticks import in_force
from app.services.book import Book
from app.services.garden.stands import said_or_usual
from app.services.upkeep.plan import upkeep_plan
from app.sheets.law import LandRule
from app.trade.upkeep.felling import Account, quarter_account, tree_m3

SHEET = "felling"
COUNTS = ("within the quarter", "not known")
"""What stands in a garden, or has a licence, takes nothing of the allowance."""


class Felled(NamedTuple):
    """The quarter's account, and the m³ of what is put down to be felled and still stands."""

    account: Account
    standing_m3: float


def felled_this_quarter(book: Book, session: Session, rule: LandRule, today: Day) -> Felled | None:
    """What was felled in the quarter that holds today; None where the rule names no allowance, or nothing is put down.

    Raises: MissingFact while the first run is not done.
    """
    allowed = rule.figures.get("m3_a_quarter")
    far, sheet = upkeep_plan(book, session, today), book.library.sheets[SHEET]
    known = {one.entry.id: said_or_usual(one.entry, sheet) for one in far.laid.values() if one.entry.sheet == SHEET}
    mine = {name: entry.facts for name, entry in known.items() if entry.facts.get("covered") in COUNTS}
    if allowed is None or not mine:
        return None
    felled = {name: tuple(_felled(facts, far.ticks.get(name, ()))) for name, facts in mine.items()}
    doings = [one for each in felled.values() for one in each]
    account = quarter_account(doings, date.fromordinal(today), allowed, rule.figures.get("sold_m3_a_quarter"))
    standing = [
        _each_m3(facts) * _number(facts.get("trees")) for name, facts in mine.items()
        if not felled[name] and known[name].ends is None
    ]  # fmt: skip
    return Felled(account, sum(standing))


def _felled(facts: Mapping[str, Value], ticks: tuple[Tick, ...]) -> Iterator[tuple[date, float, float]]:
    """The day, m³ felled and m³ sold of every felling of an entry; what was sold is said when it is written down."""
    said = [tick for tick in in_force(ticks) if tick.kind == "done"]
    sold = max((_number(tick.measures.get("sold_percent")) for tick in said), default=0.0)
    for tick in said:
        if split_key(tick.key).step == "fell":
            m3 = _each_m3(facts) * _number(tick.measures.get("felled", facts.get("trees")))
            yield date.fromordinal(tick.on), m3, m3 * min(sold, 100.0) / 100.0


def _each_m3(facts: Mapping[str, Value]) -> float:
    try:
        return tree_m3(_number(facts.get("stem_cm")), _number(facts.get("height_m")))
    except OutOfRange:
        return 0.0


def _number(value: object) -> float:
    return float(value) if isinstance(value, int | float) else 0.0
