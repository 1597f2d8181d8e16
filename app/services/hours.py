"""The hours of those who are here: what they give, day by day, net of the rounds and of who is away."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple

from sqlalchemy.orm import Session

from app.records import store
from app.records.store import WEEKDAYS, StandingRow
from app.rules.spans import Day
from app.services.book import Book
from app.services.house import House


class Given(NamedTuple):
    """One day: minutes given by those who are here, minutes that the rounds take, and how many people are here."""

    day: Day
    minutes: int
    rounds: int
    people: int

    @property
    def left(self) -> int:
        """What is left after the rounds."""
        return max(0, self.minutes - self.rounds)


def hours_given(book: Book, session: Session, first: Day, last: Day) -> list[Given]:
    """What each day from ``first`` to ``last`` has to give."""
    return given_days(book.house(session), store.standing_rows(session, first, last), first, last)


def given_days(house: House, rounds: Sequence[StandingRow], first: Day, last: Day) -> list[Given]:
    """The same, from a household and its rounds."""
    away = {
        (absence.person, day)
        for absence in house.absences
        for day in range(max(first, absence.first.toordinal()), min(last, absence.last.toordinal()) + 1)
    }
    weeks = [(person.id, [int(getattr(person, name)) for name in WEEKDAYS]) for person in house.people]
    found = []
    for day in range(first, last + 1):
        weekday = date.fromordinal(day).weekday()
        here = [week[weekday] for ident, week in weeks if (ident, day) not in away]
        found.append(Given(day, sum(here), round_minutes(rounds, day), len(here)))
    return found


def round_minutes(rounds: Iterable[StandingRow], day: Day) -> int:
    """What the rounds of a day take."""
    return sum(one.minutes_a_day for one in rounds if walked(one, day))


def walked(one: StandingRow, day: Day) -> bool:
    """Whether a round is walked on a day."""
    return one.first <= day and (one.last is None or day <= one.last)
