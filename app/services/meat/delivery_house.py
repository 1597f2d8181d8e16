"""What a delivery has to know of the house: its freezers and what is free in each, its mouths, its nation."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.packs import frozen_kg
from app.rules.spans import Day
from app.rules.terms import Nation
from app.services.book import Book
from app.trade.meat.freezer import room_litres


class Freezer(NamedTuple):
    """A freezer by its name, and its litres."""

    name: str
    litres: float


class House(NamedTuple):
    """``free`` litres by a freezer's name; where no freezer is put down, what is frozen stands under "" as litres."""

    freezers: Sequence[Freezer]
    free: Mapping[str, float]
    mouths: float
    nation: Nation
    imperial: bool


def freezers(session: Session, today: Day) -> list[Freezer]:
    """The freezers there are whose litres were said."""
    return [
        Freezer(row.name, row.litres)
        for row in store.kit(session)
        if row.kind == "freezer" and row.litres is not None and (row.ends is None or row.ends.toordinal() >= today)
    ]


def place_of(freezer: str) -> str:
    """What a place is called, so that it is known for a freezer: "chest" is "chest freezer"."""
    return freezer if "freezer" in freezer.casefold() else f"{freezer} freezer".strip()


def house(book: Book, session: Session, today: Day) -> House:
    """The house as it is; the only freezer holds all that is frozen.

    Raises: MissingFact while the first run is not done.
    """
    rows, lying = freezers(session, today), frozen_kg(session)
    every = sum(lying.values())
    free = {
        row.name: max(0.0, row.litres - room_litres(lying.get(place_of(row.name), 0.0) if len(rows) > 1 else every))
        for row in rows
    }
    holding = book.holding(session)
    nation: Nation = holding.nation or "elsewhere"  # type: ignore[assignment]  # the table admits no other
    return House(rows, free or {"": room_litres(every)}, holding.mouths, nation, book.imperial)
