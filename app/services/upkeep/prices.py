"""In which packs a material of upkeep is sold, at what price, and how long it takes to come."""

from collections.abc import Mapping
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import SupplyRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.livestock.feed import PACKS
from app.sheets.livestock_tables import eats
from app.trade.upkeep.paint_needed import Tin

__all__ = ["Pack", "Prices", "Tin", "keep_pack", "prices"]


class Pack(NamedTuple):
    """What one pack holds (in ``unit``), its price in the household's money, days until it comes; None: not said."""

    what: str
    unit: str
    size: float | None
    price: float | None
    lead_days: int | None


class Prices(NamedTuple):
    """The packs that the household put down, by what is in them."""

    packs: Mapping[str, Pack]

    def known(self, what: str, unit: str) -> Pack | None:
        """The pack of a material, when it is counted in that unit."""
        found = self.packs.get(what.casefold())
        return found if found is not None and found.unit == unit else None

    def tins(self, what: str, unit: str) -> tuple[Tin, ...]:
        """The pack as a size to buy; none where it is not known."""
        found = self.known(what, unit)
        return (Tin(found.size, found.price or 0.0),) if found is not None and found.size else ()

    def of_upkeep(self) -> tuple[Pack, ...]:
        """The packs of what upkeep takes: all but what animals eat and lie on, which is told with them."""
        fed = {one.what.casefold() for rows in eats().values() for one in rows} | PACKS.keys()
        return tuple(pack for name, pack in self.packs.items() if name not in fed)

    def a_unit(self, what: str, unit: str) -> float | None:
        """What one litre (kilogram, piece) costs; None when nobody said."""
        found = self.known(what, unit)
        return found.price / found.size if found is not None and found.price and found.size else None


def prices(session: Session) -> Prices:
    """Every pack that was put down."""
    found = (Pack(one.what, one.unit, one.pack, one.price, one.lead_days) for one in store.supplies(session))
    return Prices({one.what.casefold(): one for one in found})


def keep_pack(book: Book, pack: Pack, today: Day) -> None:
    """Put down how something is sold, in place of what was known; what is in stock of it stays as it was said."""
    with book.writing() as session:
        before = next((one for one in store.supplies(session) if one.what.casefold() == pack.what.casefold()), None)
        stock, counted = (before.stock, before.stock_on) if before is not None else (None, None)
        row = SupplyRow(
            what=before.what if before is not None else pack.what, unit=pack.unit, pack=pack.size, price=pack.price,
            lead_days=pack.lead_days, stock=stock, stock_on=counted,
        )  # fmt: skip
        store.put_supply(session, row)
        book.replan(session, (), today)
