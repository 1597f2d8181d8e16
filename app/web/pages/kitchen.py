"""The pages of preserving's sums: the look-up of tested times for jars, and the kitchen's sums."""

from dataclasses import dataclass

from app.web.pages.page import Page
from app.web.parts import Caution, Form, Frame, Link, Pair


@dataclass(frozen=True, slots=True)
class Bottling(Page):
    """`bottling.html`: minutes, acid and headspace of a jar at a height, from one country's tested table."""

    template = "bottling.html"

    frame: Frame
    form: Form  # a GET
    heading: str  # "Crushed tomatoes in 500 ml jars: 45 minutes in boiling water"; "" until it was asked
    refused: str  # why it is not put on a shelf
    answer: tuple[Pair, ...]
    warnings: tuple[str, ...]
    why: tuple[str, ...]
    beside: tuple[str, ...]  # another country's custom, told and not mixed in
    cautions: tuple[Caution, ...]
    ways: tuple[Link, ...]  # put it down; or the freezer instead
    doubt: tuple[str, ...]  # a jar that is in doubt
    links: tuple[Link, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class KitchenSum:
    """One sum: what it answers stands first, and what it is asked beneath."""

    id: str
    heading: str
    answer: str  # "3.3 kg of jam, set at 104.4 °C"; "" where what was typed has none
    facts: tuple[Pair, ...]
    warnings: tuple[str, ...]
    form: Form  # a GET to its own place on the page
    why: tuple[str, ...]
    open: bool  # its form was sent: shown opened


@dataclass(frozen=True, slots=True)
class StoreLine:
    """A crop of the table of raw stores."""

    crop: str
    warmth: str
    damp: str
    keeps: str
    cure: str


@dataclass(frozen=True, slots=True)
class KitchenSums(Page):
    """`kitchen.html`: the kitchen's sums on one page, each with its answer first."""

    template = "kitchen.html"

    frame: Frame
    lead: str
    jump: tuple[Link, ...]
    sums: tuple[KitchenSum, ...]
    cautions: tuple[Caution, ...]
    note: str  # whose word goes first
    stores: tuple[StoreLine, ...]
    stores_notes: tuple[str, ...]
    links: tuple[Link, ...]
