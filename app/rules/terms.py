"""The words that a sheet is told in: values, trades, nations, acts, questions, and where a thing is known from."""

from typing import Literal, NamedTuple

Value = int | float | str | bool
"""A fact or a measure: a date is held as its day number (`int`), a choice and a text as `str`."""

Trade = Literal["garden", "livestock", "meat", "preserving", "upkeep"]
TRADES: tuple[Trade, ...] = ("garden", "livestock", "meat", "preserving", "upkeep")

Nation = Literal["england", "scotland", "wales", "northern ireland", "ireland", "elsewhere"]
NATIONS: tuple[Nation, ...] = ("england", "scotland", "wales", "northern ireland", "ireland", "elsewhere")

Missed = Literal["late", "lost", "wait", "passes"]

ACTS: tuple[str, ...] = (
    "sow", "plant", "flower", "slaughter", "put down", "eat", "sell", "move off", "cut hedge", "fell", "burn",
    "cut up", "cure", "smoke", "use", "spread", "mark", "disturb nests", "lay hedge", "burn lowland",
)  # fmt: skip
"""What a bar can forbid. A killing for food and the killing of a suffering animal are two acts on purpose."""

ASK_KINDS: tuple[str, ...] = (
    "date", "yes or no", "text", "count", "entry",
    "kg", "g", "mm", "cm", "m", "m2", "l", "ml", "c", "%", "d", "h", "min",
)  # fmt: skip
"""What a fact or a measure can be: its unit names it. `entry` is the id of another entry; a list is a choice."""


class Source(NamedTuple):
    """Where a statement comes from.

    ``basis`` is `published`, `common practice` or `from memory`; ``key`` names a publication of sources.toml (only
    when published), ``where`` the table, section or page there, or the publication it is believed to stand in.
    """

    basis: Literal["published", "common practice", "from memory"]
    key: str = ""
    where: str = ""


class Ask(NamedTuple):
    """A fact asked of an entry, or a measure asked when a step is ticked.

    ``kind`` is one of `ASK_KINDS` or "choice"; ``default`` is used until it is said; ``low`` and ``high`` bound what
    can be meant, in the unit of the kind.
    """

    name: str
    kind: str
    label: str = ""
    choices: tuple[str, ...] = ()
    default: Value | None = None
    low: float | None = None
    high: float | None = None
    optional: bool = False
