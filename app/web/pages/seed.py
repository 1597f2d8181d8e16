"""Pages of the seed tin: all of it, one lot, labels, and what flowers together."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import Form, Frame, Link, Pair, Undoing


@dataclass(frozen=True, slots=True)
class SeedLine:
    """A lot in the tin, with its life drawn."""

    name: str  # "September 2025"
    href: str
    sub: str  # "Student · from twenty plants · parsnips of 2024"
    have: str  # "38 g, some 16 300 seeds"
    life: str  # "18 months old; sow by 15 March 2027"
    trouble: str  # "Past its day since 15 March"
    test: str  # "16 of 20 came up: 58 to 92 in a hundred. Sow as usual."
    f1: str  # the plain warning
    line: Markup  # from harvest to its day, on the page's scale; it says itself


@dataclass(frozen=True, slots=True)
class SeedKind:
    """All lots of one kind of seed, and whether they are enough."""

    name: str  # "Parsnip seed"
    enough: str  # "Enough for next year: 1.04 g wanted, 38 g there. 36 g could be given away."
    lacking: bool
    lines: tuple[SeedLine, ...]


@dataclass(frozen=True, slots=True)
class Generation:
    """One sowing of a short-lived line."""

    name: str
    href: str
    sown: str
    flowers: str
    seed: str


@dataclass(frozen=True, slots=True)
class SeedLineage:
    """A line whose seed does not keep, with the generations that stand."""

    name: str  # "Parsnip seed keeps 18 months"
    says: str  # "Two generations stand. …"
    trouble: bool
    generations: tuple[Generation, ...]


@dataclass(frozen=True, slots=True)
class SeedTin(Page):
    """`seed.html`: the seed tin."""

    template = "seed.html"

    frame: Frame
    sub: str
    warnings: tuple[Link, ...]  # sowings of old seed, rows that are not up, what would cross: each leads to its place
    kinds: tuple[SeedKind, ...]
    years: tuple[tuple[float, str], ...]  # marks of the scale of lives
    lineages: tuple[SeedLineage, ...]
    store: str  # "12 °C and 45 %: …"
    store_note: str
    store_form: Form
    add: Form
    open: bool
    open_store: bool
    gone: tuple[Link, ...]
    links: tuple[Link, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class SeedJar(Page):
    """`seed_lot.html`: one lot."""

    template = "seed_lot.html"

    frame: Frame
    name: str
    sub: str
    facts: tuple[Pair, ...]
    warnings: tuple[str, ...]
    take: Form
    count: Form
    test: Form
    open: str  # which form was refused: "take", "count", "test"
    said: tuple[Undoing, ...]
    links: tuple[Link, ...]
    strike: Form | None


@dataclass(frozen=True, slots=True)
class Label:
    """What stands on a jar."""

    what: str  # "Parsnip"
    variety: str
    f1: bool
    harvested: str
    of: str  # "from 24 plants of the long row"
    count: str  # "38 g, some 16 300 seeds"
    sow_by: str
    holding: str


@dataclass(frozen=True, slots=True)
class SeedLabels(Page):
    """`seed_labels.html`: labels to print, several to a sheet of A4."""

    template = "seed_labels.html"

    frame: Frame
    heading: str
    labels: tuple[Label, ...]
    copies: Form | None
    back: Link


@dataclass(frozen=True, slots=True)
class FlowerLine:
    """Something in flower, with its days drawn, and what it would cross with."""

    name: str
    href: str  # "" for what flowers next door
    sub: str
    meets: tuple[str, ...]
    line: Markup


@dataclass(frozen=True, slots=True)
class Species:
    """One species and all of it that flowers."""

    latin: str
    lines: tuple[FlowerLine, ...]


@dataclass(frozen=True, slots=True)
class Crossing(Page):
    """`crossing.html`: what flowers together."""

    template = "crossing.html"

    frame: Frame
    sub: str
    species: tuple[Species, ...]
    months: tuple[tuple[float, str], ...]
    near: tuple[Undoing, ...]
    add: Form
    open: bool
    empty: str
