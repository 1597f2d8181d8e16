"""What there is to keep a glut with: dryer, freezer, pan, the height of the kitchen, hands on those days."""

from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.coming import minutes_closing
from app.records.packs import frozen_kg
from app.records.store import KitRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.hours import hours_given
from app.services.larder.larder import KG_A_LITRE

USUAL_TRAYS_M2 = 1.0
USUAL_FREEZER_L = 200.0
USUAL_JARS_A_LOAD = 7
PAN_FULL = 0.45
"""Of a pan's litres so much is jars, when they stand on a rack with water over them; common practice."""


class Kitchen(NamedTuple):
    """The kit as the records have it; a usual figure stands where nobody said it, and ``said`` names what was said."""

    tray_m2: float
    dryer_watts: float | None
    dryers: int
    freezer_l: float
    free_l: float | None
    pan_l: float | None
    altitude_m: float
    said: frozenset[str]


class Hands(NamedTuple):
    """Minutes that the household gives on some days after its rounds, and what other jobs want that close then."""

    first: Day
    last: Day
    given: int
    wanted: int

    @property
    def left(self) -> int:
        """What is left for the glut."""
        return max(0, self.given - self.wanted)


def kitchen(book: Book, session: Session) -> Kitchen:
    """What the records know; a fixed number of queries.

    Raises: MissingFact while the first run is not done.
    """
    holding, today = book.holding(session), book.today().toordinal()
    rows = [row for row in store.kit(session) if row.ends is None or row.ends.toordinal() >= today]
    dryers = [row for row in rows if row.kind == "dryer"]
    trays = sum((row.trays or 0) * (row.tray_m2 or 0) for row in dryers)
    watts = sum(row.watts or 0 for row in dryers) if dryers and all(row.watts for row in dryers) else 0
    freezers = sum(row.litres or 0 for row in rows if row.kind == "freezer")
    pans = [row.litres for row in rows if row.kind in ("pan", "canner") and row.litres]
    said = {name for name, is_said in (("trays", trays), ("freezer", freezers), ("pan", pans)) if is_said}
    return Kitchen(
        trays or USUAL_TRAYS_M2, watts or None, len(dryers), freezers or USUAL_FREEZER_L,
        free_litres(session, rows), max(pans, default=None), holding.altitude_m, frozenset(said),
    )  # fmt: skip


def free_litres(session: Session, rows: list[KitRow]) -> float | None:
    """Litres of the freezers that are free; None where nobody said how big they are."""
    sizes = [row.litres for row in rows if row.kind == "freezer" and row.litres]
    if not sizes:
        return None
    return max(0.0, sum(sizes) - sum(frozen_kg(session).values()) / KG_A_LITRE)


def jars_a_load(room: Kitchen, jar_ml: float) -> int:
    """Jars that stand in the pan at once: by its litres, else seven."""
    if room.pan_l is None:
        return USUAL_JARS_A_LOAD
    return max(1, min(50, int(PAN_FULL * room.pan_l * 1000 / jar_ml)))


def hands(book: Book, session: Session, first: Day, last: Day) -> Hands:
    """What those days have to give, and what other jobs want of them: those whose last day is among them."""
    given = sum(one.left for one in hours_given(book, session, first, last))
    return Hands(first, last, given, minutes_closing(session, first, last))
