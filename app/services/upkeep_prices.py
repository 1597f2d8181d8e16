"""In which packs a material is sold, and what the household paid for each."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.rules.spans import Day
from app.services.book import Book
from app.trade.upkeep.paint_needed import Tin

__all__ = ["Prices", "Tin", "keep_packs", "prices"]


class Prices(NamedTuple):
    """Packs by what is in them and its unit, as the household put them down."""

    packs: Mapping[tuple[str, str], tuple[Tin, ...]]

    def of(self, what: str, unit: str) -> tuple[Tin, ...]:
        """The packs of a material, the largest first."""
        return self.packs.get((what.casefold(), unit), ())

    def a_unit(self, what: str, unit: str) -> float | None:
        """What one litre (kilogram, piece) costs in the cheapest pack that has a price; None when none has."""
        priced = [one.price / one.size for one in self.of(what, unit) if one.price > 0]
        return min(priced, default=None)


def prices(session: Session) -> Prices:
    """Every pack that was put down."""
    found: dict[tuple[str, str], list[Tin]] = {}
    for row in store.material_packs(session):
        found.setdefault((row.what.casefold(), row.unit), []).append(Tin(row.size, row.price or 0.0))
    return Prices({key: tuple(sorted(tins, reverse=True)) for key, tins in found.items()})


def keep_packs(book: Book, what: str, unit: str, tins: Sequence[Tin], today: Day) -> None:
    """Put down in which packs something is sold, in place of what was known; no packs takes it off."""
    with book.writing() as session:
        store.put_material_packs(session, what.casefold(), unit, [(one.size, one.price or None) for one in tins])
        book.replan(session, (), today)
