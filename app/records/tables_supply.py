"""What is bought in by the sack or the bale: how it is packed, what it costs, how soon it comes, what is left."""

from datetime import date

from sqlalchemy import CheckConstraint
from sqlmodel import Field

from app.records.base import Base


class SupplyRow(Base, table=True):
    """A thing that is bought in, by its name: ``pack`` and ``stock`` in ``unit``, ``price`` of a pack.

    ``stock`` is what was there on ``stock_on``; both are None where nobody counted.
    """

    __tablename__ = "supply"
    __table_args__ = (
        CheckConstraint("what <> ''", "what"),
        CheckConstraint("pack > 0 AND pack <= 100000", "pack"),
        CheckConstraint("price >= 0 AND price <= 1000000", "price"),
        CheckConstraint("lead_days BETWEEN 0 AND 365", "lead_days"),
        CheckConstraint("stock >= 0 AND stock <= 10000000", "stock"),
        CheckConstraint("(stock IS NULL) = (stock_on IS NULL)", "counted"),
    )
    what: str = Field(primary_key=True)
    unit: str
    pack: float | None = None
    price: float | None = None
    lead_days: int | None = None
    stock: float | None = None
    stock_on: date | None = None
