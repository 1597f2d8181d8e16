"""The medicine cupboard: what is in it, what is over, and the withdrawal periods that stand on it."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput
from app.records import store
from app.records.store import MEDICINE_UNITS, MedicineRow
from app.rules.spans import Day
from app.rules.terms import NATIONS, Nation
from app.services.book import Book
from app.sheets.livestock_law import withdrawal_floor
from app.trade.livestock.withdrawal import COMMODITIES, Commodity, floor_days

__all__ = ["COMMODITIES", "HOURS_A_DAY", "MEDICINE_UNITS", "Bottle", "Commodity", "MedicineRow", "bottles", "find"]

HOURS_A_DAY = 24
LABEL: Mapping[Commodity, str] = {"meat": "meat_days", "milk": "milk_hours", "eggs": "eggs_days"}
VET: Mapping[Commodity, str] = {"meat": "vet_meat_days", "milk": "vet_milk_hours", "eggs": "vet_eggs_days"}
"""Under which name a figure stands, by what it is of: milk in hours, the rest in days."""


class Bottle(NamedTuple):
    """Something in the cupboard: the last day on which it may be used, whether that is past, and of what it is."""

    row: MedicineRow
    until: Day | None
    why: str  # "expires", "opened", ""
    past: bool


def bottles(session: Session, today: Day) -> list[Bottle]:
    """What is in the cupboard, what may be used no longer first, what is finished last."""
    found = [bottle(row, today) for row in store.medicines(session)]
    return sorted(found, key=lambda one: (one.row.finished_on is not None, not one.past, one.row.name.casefold()))


def bottle(row: MedicineRow, today: Day) -> Bottle:
    """Until when one may be used: the earlier of the date printed on it and of its days once opened.

    Source: the label; both end inclusive.
    """
    ends: list[tuple[Day, str]] = []
    if row.expires is not None:
        ends.append((row.expires.toordinal(), "expires"))
    if row.opened_on is not None and row.open_days is not None:
        ends.append((row.opened_on.toordinal() + row.open_days, "opened"))
    until, why = min(ends, default=(None, ""))
    return Bottle(row, until, why, until is not None and until < today and row.finished_on is None)


def find(session: Session, medicine_id: str) -> MedicineRow:
    """One medicine.

    Raises: NotFound.
    """
    return store.medicine(session, medicine_id)


def put(book: Book, row: MedicineRow, today: Day, *, change: bool = False) -> None:
    """Put a medicine in the cupboard, or change what is so of it; the same sent twice is nothing new.

    Raises: BadInput for a vet's figure below what the law allows off the label, or a day that can't be.
    """
    with book.writing() as session:
        if store.has_medicine(session, row.id) and not change:
            return
        check_days(row, today)
        check_floors(book, session, row, today)
        if change:
            old = store.medicine(session, row.id)
            row.created_at, row.finished_on, row.finished_how = old.created_at, old.finished_on, old.finished_how
        store.put_medicine(session, row)
        book.replan(session, (), today)


def finish(book: Book, medicine_id: str, how: str, on: Day, today: Day) -> None:
    """A medicine is used up, or went back to the vet; the record of it is kept.

    Raises: NotFound; BadInput for a day to come.
    """
    if on > today:
        raise BadInput({"on": "That day has not come yet."})
    with book.writing() as session:
        row = store.medicine(session, medicine_id)
        row.finished_on, row.finished_how = date.fromordinal(on), how
        store.put_medicine(session, row)
        book.replan(session, (), today)


def back(book: Book, medicine_id: str, today: Day) -> None:
    """A medicine is not finished after all.

    Raises: NotFound.
    """
    with book.writing() as session:
        row = store.medicine(session, medicine_id)
        row.finished_on, row.finished_how = None, ""
        store.put_medicine(session, row)
        book.replan(session, (), today)


def figure(row: MedicineRow | None, of: Commodity, *, vet: bool) -> float | None:
    """A withdrawal figure that stands in the cupboard, in days (milk in hours); None where none is said."""
    value = getattr(row, (VET if vet else LABEL)[of]) if row is not None else None
    return float(value) if value is not None else None


def in_days(of: Commodity, value: float) -> float:
    """A figure in days: hours of milk as days."""
    return value / HOURS_A_DAY if of == "milk" else value


def nation_of(book: Book, session: Session) -> Nation | None:
    """The nation of the holding; None where it is not said."""
    name = book.holding(session).nation
    return next((one for one in NATIONS if one == name), None)


def below_floor(nation: Nation | None, of: Commodity, value: float, label: float | None, on: Day) -> str:
    """Why a vet's own figure can't be: the law's least, with its source; "" where it may stand. Milk is in hours.

    Source: the row's own; with no nation said, the strictest told for that day.
    """
    told = withdrawal_floor(nation, of, on)
    if told is None:
        return ""
    floor, law = told
    if of == "milk" and label and floor.factor:
        least = floor.factor * label  # hours, which are not rounded to days
    else:
        least = floor_days(floor, in_days(of, label) if label is not None else None) * (24.0 if of == "milk" else 1.0)
    if value >= least:
        return ""
    checked = date.fromordinal(law.checked)
    unit = "hours" if of == "milk" else "days"
    return (
        f"Off the label the law sets at least {least:g} {unit} for {of}: ask the vet again."
        f" ({law.source}; last checked {checked.day}.{checked.month}.{checked.year}.)"
    )


def check_floors(book: Book, session: Session, row: MedicineRow, on: Day) -> None:
    """Refuse a vet's figure that is below what the law allows off the label.

    Raises: BadInput.
    """
    nation, faults = nation_of(book, session), {}
    for of in COMMODITIES:
        vets, label = figure(row, of, vet=True), figure(row, of, vet=False)
        if vets is None:
            continue
        said = below_floor(nation, of, vets, label, on)
        if said:
            faults[VET[of]] = said
    if faults:
        raise BadInput(faults)


def check_days(row: MedicineRow, today: Day) -> None:
    """Refuse days that can't be.

    Raises: BadInput.
    """
    faults = {}
    for name in ("opened_on", "bought_on"):
        on = getattr(row, name)
        if on is not None and on.toordinal() > today:
            faults[name] = "That day has not come yet."
    if row.opened_on is not None and row.bought_on is not None and row.opened_on < row.bought_on:
        faults["opened_on"] = "That is before it was bought."
    if row.amount_left is not None and row.bought is not None and row.amount_left > row.bought:
        faults["amount_left"] = "More is left than was bought; one of the two is mistyped."
    if faults:
        raise BadInput(faults)
