"""The order of a repair: a chain of steps with their waits, laid inside a season or offered for the next."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from app.errors import OutOfRange


class Link(NamedTuple):
    """One step of a chain: ``lag_days`` after the one before it is done, and how many days it takes."""

    what: str
    lag_days: int
    takes_days: int = 1


class Laid(NamedTuple):
    """One step with its days, both inclusive."""

    what: str
    first: date
    last: date


class Chain(NamedTuple):
    """A repair: its steps by day, whether it ends inside the season, and the day to begin otherwise."""

    steps: tuple[Laid, ...]
    fits: bool
    offered: date | None = None


def lay_chain(links: Sequence[Link], start: date) -> tuple[Laid, ...]:
    """Each step so many days after the last day of the one before.

    Source: arithmetic; the order of a rendered wall (water stopped, washed, mended, cured, brushed down, stabilised
    where it chalks, painted twice, then the plinth twice) is common practice.
    Raises: OutOfRange for a lag below 0, or a step that takes no day.
    """
    found: list[Laid] = []
    day = start
    for number, link in enumerate(links):
        if link.lag_days < 0 or link.takes_days < 1:
            raise OutOfRange("A wait in days", link.lag_days, "0 or more, and each step a day at least")
        first = day if number == 0 else found[-1].last + timedelta(days=link.lag_days)
        found.append(Laid(link.what, first, first + timedelta(days=link.takes_days - 1)))
    return tuple(found)


def in_season(links: Sequence[Link], start: date, season_ends: date, next_begins: date) -> Chain:
    """The chain from ``start``, if its last step is done by ``season_ends``; else laid from the next season.

    The whole chain lies inside one season or is not begun: a half-cured wall is worse than an old coat.
    Source: common practice.
    Raises: OutOfRange as `lay_chain`.
    """
    laid = lay_chain(links, start)
    if not laid or laid[-1].last <= season_ends:
        return Chain(laid, True)
    return Chain(lay_chain(links, next_begins), False, next_begins)


def latest_beginning(links: Sequence[Link], season_ends: date) -> date:
    """The last day to begin so that the chain ends inside the season.

    Source: arithmetic.
    """
    laid = lay_chain(links, season_ends)
    return season_ends - (laid[-1].last - season_ends) if laid else season_ends
