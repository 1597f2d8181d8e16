"""How many there are after each thing that was told of a group: so many found, so many more, so many fewer."""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from app.errors import OutOfRange


class Said(NamedTuple):
    """What was told on day number ``on``: ``number`` were there ("count"), came ("more") or went ("fewer")."""

    on: int
    what: Literal["count", "more", "fewer"]
    number: int


def after_each(said: Sequence[Said]) -> list[int]:
    """How many there are after each, in the order given, which is that of the days; a count puts right what was so far.

    Valid: never more gone than there are. Source: counting.
    Raises: OutOfRange when more went than were there.
    """
    left, found = 0, []
    for one in said:
        if one.what == "count":
            left = one.number
        elif one.what == "more":
            left += one.number
        elif one.number > left:
            raise OutOfRange("Animals gone", one.number, f"up to the {left} that were there")
        else:
            left -= one.number
        found.append(left)
    return found


def by_day(said: Sequence[Said], first: int, last: int) -> list[int]:
    """How many there are at the end of each day from ``first`` to ``last``: none before the first count.

    Valid and raises: as `after_each`. Source: counting.
    """
    counts = list(zip((one.on for one in said), after_each(said), strict=True))
    found, left, at = [], 0, 0
    for day in range(first, last + 1):
        while at < len(counts) and counts[at][0] <= day:
            left = counts[at][1]
            at += 1
        found.append(left)
    return found
