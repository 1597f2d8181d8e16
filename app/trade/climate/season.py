"""What the place's climate answers. Rules ask it; how it is answered (normals, a daily record) is its own affair."""

from typing import Literal, NamedTuple, Protocol, runtime_checkable


class Spread(NamedTuple):
    """The days by which 10, 50 and 90 in 100 years have reached something, as day numbers."""

    low: int
    best: int
    high: int


class Basis(NamedTuple):
    """What a season's answers rest on: the ``kind`` of climate known of the place, the years on record that count
    (0, None and None without any), and all of it in plain sentences."""

    kind: Literal["record", "months", "frost dates"]
    years: int
    first_year: int | None
    last_year: int | None
    said: str


class Season(Protocol):
    """The season marks and warmth of one place."""

    def mark(self, name: str, value: float, year: int) -> int | None:
        """The day of a mark in the season of ``year``; None where it never comes.

        ``value`` is the chance in percent for the frosts ("last frost": by this day it is over in so many years of a
        hundred; "first frost": by this day it has come in so many), °C at 10 cm for "soil above" and "soil below",
        hours for "day longer than" and "day shorter than".
        """
        ...

    def warmth(self, total: float, base: float, since: int) -> Spread | None:
        """When ``total`` degree-days above ``base`` °C have come since the day ``since``; None where they never do."""
        ...


@runtime_checkable
class Tells(Protocol):
    """A season that can say what a date by warmth rests on."""

    def why_warmth(self, total: float, base: float, since: int) -> str:
        """On how many years a date by warmth rests, and how this year so far has moved it."""
        ...
