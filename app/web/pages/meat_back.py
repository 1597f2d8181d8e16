"""The pages of meat on its way to the table: out of the freezer, back from the table, how long it keeps."""

from dataclasses import dataclass

from app.web.chain import Chain
from app.web.pages.page import Page
from app.web.parts import Caution, Follow, Form, Frame, Link, Pair


@dataclass(frozen=True, slots=True)
class Thaw(Page):
    """`thaw.html`: when a joint leaves the freezer, and how long one takes to freeze."""

    template = "thaw.html"

    frame: Frame
    form: Form
    heading: str  # "" until a weight and a day are given
    warnings: tuple[str, ...]
    answer: tuple[Pair, ...]
    dates: tuple[Pair, ...]  # the jobs that would follow
    why: tuple[str, ...]
    cautions: tuple[Caution, ...]
    put: Form | None
    freezing: Form
    frozen: tuple[Pair, ...]
    frozen_why: tuple[str, ...]
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class WayInLine:
    """A way in to what is to stand on the table."""

    title: str
    through: str  # the sheets it goes through
    begin: str  # "Saturday 27 June"; "" when it can't be dated
    state: str
    href: str
    trouble: bool = False
    here: bool = False  # it is the one that is shown


@dataclass(frozen=True, slots=True)
class TableBack(Page):
    """`table_back.html`: what shall be on the table on a day, worked back."""

    template = "table_back.html"

    frame: Frame
    form: Form
    heading: str  # "" until something and its day are chosen
    late: tuple[str, ...]  # what is already too late, said first
    here: tuple[WayInLine, ...]  # what stands on the holding already; ``begin`` is when it would be there
    ways: tuple[WayInLine, ...]
    shown: str  # the heading over the chain: "Begin with weaners"
    met: tuple[str, ...]  # what clashes with it
    chain: Chain | None
    chain_words: str
    today: str
    steps: tuple[Follow, ...]
    cautions: tuple[Caution, ...]
    put: Form | None
    notes: tuple[str, ...]
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class KeepLine:
    """How long one kind of meat keeps."""

    what: str
    chilled: str
    frozen: str
    source: str


@dataclass(frozen=True, slots=True)
class CookLine:
    """What the middle of a dish must reach, by two countries' authorities."""

    dish: str
    uk: str
    us: str


@dataclass(frozen=True, slots=True)
class Keeping(Page):
    """`keeping.html`: keeping times, thawed days, temperatures, hanging, frost against trichinella."""

    template = "keeping.html"

    frame: Frame
    sub: str
    published: tuple[KeepLine, ...]
    common: tuple[KeepLine, ...]
    thawed: tuple[Pair, ...]
    cooking: tuple[CookLine, ...]
    holds: tuple[Pair, ...]
    hanging: tuple[Pair, ...]
    trichinella: tuple[Pair, ...]
    notes: tuple[str, ...]
    cautions: tuple[Caution, ...]
    links: tuple[Link, ...]
