"""How long meat keeps and how hot it is cooked, gathered from the tables of the trade for one page."""

from collections.abc import Mapping
from typing import NamedTuple, get_args

from sqlalchemy.orm import Session

from app.services.book import Book
from app.services.meat.thawing import RULE_OF
from app.trade.meat.after_thaw import Rule, Sort, Thawed, thawed
from app.trade.meat.cooking import UK_HOLDS, Cook, Dish, safe_core, uk_hold_s
from app.trade.meat.hanging import HANGING_DAYS
from app.trade.meat.keeping import KEEPING, VACUUM_DAYS, Keeps
from app.trade.meat.trichinella import longer_trichinella_days

__all__ = ["Keeps", "Tables", "tables"]

_FREEZERS_C = (-18.0, -25.0, -29.0)
_THICK_CM = (15.0, 50.0)


class Tables(NamedTuple):
    """All that the page tells. ``rule`` is whose days hold here; None where the nation has none on file."""

    rule: Rule | None
    keeping: Mapping[str, Keeps]
    vacuum_days: int
    thawed: tuple[tuple[Rule, Sort, Thawed], ...]
    cooking: tuple[tuple[Dish, Cook, Cook], ...]
    uk_holds: tuple[tuple[float, int, int], ...]  # °C, seconds, seconds against E. coli O157
    hanging: Mapping[str, tuple[int, int]]
    trichinella: tuple[tuple[float, float, int], ...]


def tables(book: Book, session: Session) -> Tables:
    """The tables, with whose rules hold on this holding.

    Raises: MissingFact while the first run is not done.
    """
    nation = book.holding(session).nation or ""
    sorts: tuple[tuple[Rule, Sort], ...] = (("uk", "joint"), ("uk", "quick"), ("us", "joint"), ("us", "quick"))
    dishes: tuple[Dish, ...] = get_args(Dish)
    return Tables(
        RULE_OF.get(nation),
        KEEPING,
        VACUUM_DAYS,
        tuple((rule, sort, thawed(rule, sort)) for rule, sort in sorts),
        tuple((dish, safe_core("uk", dish), safe_core("us", dish)) for dish in dishes),
        tuple((c, uk_hold_s(c), uk_hold_s(c, o157=True)) for c, _ in UK_HOLDS),
        HANGING_DAYS,
        tuple((c, cm, longer_trichinella_days(cm, c)) for c in _FREEZERS_C for cm in _THICK_CM),
    )
