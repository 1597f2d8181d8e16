"""Last days by age that the law sets: rings, tags, passports; and by when a bird is on the register."""

from typing import NamedTuple

from app.errors import OutOfRange
from app.trade.livestock.months import months_after


class Term(NamedTuple):
    """A term of law: so many calendar ``months`` and ``days`` from an event, the day of the event being day 0.

    "From two months old an anaesthetic" leaves the day before: two months and -1 day.
    """

    days: int = 0
    months: int = 0


def last_day(since: int, term: Term) -> int:
    """The last lawful day of a term: the same day so many months on, and ``days`` more.

    Valid: a term of more than 0. Source: the term's own. Raises: OutOfRange below that.
    """
    if term.months < 0 or term.months * 28 + term.days <= 0:
        raise OutOfRange("A term in days", term.months * 28 + term.days, "more than 0")
    return months_after(since, term.months) + term.days


def tagged_by(born: int, term: Term, leaves: int | None = None) -> int:
    """By when a lamb or kid bears its tag: its age, or the day before which it leaves, whichever comes first.

    Valid: leaving on or after the day of birth. Source: SMR 8, sheep and goat identification.
    Raises: OutOfRange beyond that.
    """
    if leaves is not None and leaves < born:
        raise OutOfRange("Days from birth to leaving", leaves - born, "0 and more")
    by_age = last_day(born, term)
    return by_age if leaves is None else min(by_age, leaves)


def lawful_on(since: int, term: Term, day: int) -> bool:
    """Whether a day still lies in the term, both ends counted.

    Source: as `last_day`.
    """
    return since <= day <= last_day(since, term)
