"""The household: the place, its people, their hours, and who is away."""

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.errors import BadInput, NotFound
from app.records import store
from app.records.store import HoldingRow, PersonRow
from app.rules.spans import Day
from app.rules.why import said
from app.services.book import Book
from app.services.setup import Estimate, House, Where, estimate, holding_row

DAYS = store.WEEKDAYS
"""The weekdays by name, Monday first."""


class Away(NamedTuple):
    """Days on which somebody is away, both counted."""

    id: int
    first: date
    last: date
    note: str


class Place(NamedTuple):
    """The holding's own facts; frosts are days of the year, "--05-12", and None where they are left to the estimate."""

    where: Where
    house: House


class PersonView(NamedTuple):
    """Somebody with the minutes they give each weekday, Monday first, and when they are away."""

    id: int
    name: str
    minutes: tuple[int, ...]
    away: tuple[Away, ...]


class HouseView(NamedTuple):
    """The household: ``minutes`` in an ordinary week, ``round_minutes`` of them walked as rounds.

    ``estimated`` are the frosts that the weather of its place gives; ``own_months`` whether it typed monthly means.
    """

    place: Place
    people: tuple[PersonView, ...]
    minutes: int
    round_minutes: int
    estimated: Estimate
    own_months: bool


def household(book: Book, session: Session, today: Day) -> HouseView:
    """Who is of the household, and how many hours that is.

    Raises: MissingFact while the first run is not done.
    """
    holding = book.holding(session)
    house = book.house(session)
    people = tuple(
        PersonView(
            row.id or 0,
            row.name,
            tuple(getattr(row, day) for day in DAYS),
            tuple(
                Away(one.id or 0, one.first, one.last, one.note)
                for one in house.absences
                if one.person == row.id and one.last.toordinal() >= today
            ),
        )
        for row in house.people
    )
    rounds = store.standing_rows(session, today, today + 6)
    walked = sum(one.minutes_a_day * _days(one.first, one.last, today) for one in rounds)
    minutes = sum(sum(one.minutes) for one in people)
    typed = bool(store.normals_months(session))
    return HouseView(place_of(holding), people, minutes, walked, _estimated(book, session, today), typed)


def place_of(row: HoldingRow) -> Place:
    """The holding's own facts as the first run asks them."""
    where = Where(
        row.name, row.nation or "", row.latitude, row.longitude, row.altitude_m, row.normals or "",
        row.aspect or "", row.frost_hollow,
    )  # fmt: skip
    return Place(
        where, House(row.last_frost_50, row.first_frost_50, row.mouths, row.units, row.timezone, row.vet or "")
    )


def has_own_months(book: Book) -> bool:
    """Whether the household typed monthly means of its own."""
    with book.reading() as session:
        return bool(store.normals_months(session))


def estimated(book: Book, today: Day) -> Estimate:
    """The middle frosts that the holding's weather gives, as the household is shown them."""
    with book.reading() as session:
        return _estimated(book, session, today)


def _estimated(book: Book, session: Session, today: Day) -> Estimate:
    """By the days on record where there are enough; a frost of the household's own gives way to what is reckoned."""
    row, season = book.holding(session), book.season(session)
    year = date.fromordinal(today).year
    reckoned = estimate(place_of(row).where, year, store.normals_months(session))
    found = []
    owns = (("last frost", row.last_frost_50), ("first frost", row.first_frost_50))
    for (name, own), guess in zip(owns, reckoned, strict=True):
        on = season.mark(name, 50, year) if own is None else None
        found.append(date.fromordinal(on) if on is not None else guess if own is not None else None)
    return Estimate(*found)


def keep_holding(book: Book, place: Place, today: Day) -> None:
    """Change the holding's own facts; every date follows.

    Raises: MissingFact while the first run is not done.
    """
    with book.writing() as session:
        kept = book.holding(session)
        changed = holding_row(place.where, place.house, kept.created_at)
        if place.house.last_frost == kept.last_frost_50:
            changed.last_frost_10, changed.last_frost_90 = kept.last_frost_10, kept.last_frost_90
        if place.house.first_frost == kept.first_frost_50:
            changed.first_frost_10, changed.first_frost_90 = kept.first_frost_10, kept.first_frost_90
        store.put_holding(session, changed)
        book.replan(session, None, today)


def add_person(book: Book, name: str, today: Day) -> int:
    """Somebody else is of the household, with no hours yet.

    Raises: BadInput when somebody there has that name.
    """
    with book.writing() as session:
        if name.casefold() in {row.name.casefold() for row in store.people(session)}:
            raise BadInput({"person_name": f"There is a {name} already; add a letter to tell them apart."})
        row = store.put_person(session, PersonRow(name=name))
        book.replan(session, None, today)
        return row.id or 0


def keep_hours(book: Book, person_id: int, minutes: Mapping[str, int], today: Day) -> None:
    """Change how many minutes somebody gives on each weekday.

    Raises: NotFound.
    """
    with book.writing() as session:
        row = _person(session, person_id)
        for day in DAYS:
            setattr(row, day, minutes[day])
        store.put_person(session, row)
        book.replan(session, None, today)


def go_away(book: Book, person_id: int, first: Day, last: Day, today: Day) -> None:
    """Somebody will be away, both days counted.

    Raises: NotFound; BadInput for days in the wrong order, or that were put down already.
    """
    with book.writing() as session:
        row = _person(session, person_id)
        if last < first:
            raise BadInput({"to": f"That is before the first day, {said(first)}."})
        others = [one for one in store.absences(session, first, last) if one.person == person_id]
        if others:
            one = others[0]
            when = f"{said(one.first.toordinal())} to {said(one.last.toordinal())}"
            raise BadInput({"from": f"{row.name} is away from {when} already; take that back first."})
        store.add_absence(session, person_id, first, last)
        book.replan(session, None, today)


def stay_after_all(book: Book, absence_id: int, today: Day) -> None:
    """Somebody will not be away after all.

    Raises: NotFound when that was taken back already.
    """
    with book.writing() as session:
        store.remove_absence(session, absence_id)
        book.replan(session, None, today)


def leave(book: Book, person_id: int, today: Day) -> None:
    """Somebody is no longer of the household; what they ticked stays theirs.

    Raises: NotFound.
    """
    with book.writing() as session:
        _person(session, person_id)
        store.person_leaves(session, person_id, today)
        book.replan(session, None, today)


def _person(session: Session, person_id: int) -> PersonRow:
    row = next((one for one in store.people(session) if one.id == person_id), None)
    if row is None:
        raise NotFound("There is nobody of that name in the household any more.")
    return row


def _days(first: Day, last: Day | None, today: Day) -> int:
    """On how many of the seven days from today a round is walked."""
    end = today + 6 if last is None else min(last, today + 6)
    return max(0, end - max(first, today) + 1)
