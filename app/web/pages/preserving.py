"""Pages of keeping: what is under way, the glut planner, the dryer."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import Caution, Field, Form, Frame, Link, Pair


@dataclass(frozen=True, slots=True)
class BatchOnItsWay:
    """A batch under way, with its next job."""

    name: str
    href: str
    sub: str  # how far it has dried
    next: Link
    when: str
    trouble: bool = False


@dataclass(frozen=True, slots=True)
class BatchGroup:
    """Batches at one stage."""

    id: str
    heading: str
    batches: tuple[BatchOnItsWay, ...]


@dataclass(frozen=True, slots=True)
class Preserving(Page):
    """`preserving.html`: what is under way, what is coming, and the way to plan a glut."""

    template = "preserving.html"

    frame: Frame
    sub: str
    groups: tuple[BatchGroup, ...]
    coming: tuple[Pair, ...]  # a crop, when and how much, and the way to its planner
    form: Form  # a GET: how much of what
    links: tuple[Link, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class GlutWayCard:
    """One way of keeping it."""

    id: str
    title: str
    sheet: Link
    facts: tuple[Pair, ...]
    short: tuple[str, ...]  # what is short, and clashes with the way out
    notes: tuple[str, ...]
    refused: str
    field: Field | None  # the kilos that go this way


@dataclass(frozen=True, slots=True)
class GlutEntry:
    """One entry that would be put down."""

    name: str
    dates: tuple[Pair, ...]
    clashes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Glut(Page):
    """`preserving_glut.html`: so many kilos, every way to keep them side by side, and what would be put down."""

    template = "preserving_glut.html"

    frame: Frame
    asked: Form  # a GET
    heading: str  # "20 kg of tomatoes, on 3 September"; "" until it was asked
    lead: tuple[str, ...]  # keep it raw; hours there are on those days
    ways: tuple[GlutWayCard, ...]
    share: Form | None  # the POST that holds the cards: its hidden fields and button
    later: Field | None
    entries: tuple[GlutEntry, ...]  # what would be put down, once it was looked at
    left: str
    confirm: str
    error: str
    cautions: tuple[Caution, ...]
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class Drying:
    """`fragments/drying.html`: a batch in the dryer, on its entry's page and on its own."""

    answer: str  # "Dry at 274 g: about five hours more"
    facts: tuple[Pair, ...]
    fault: str
    curve: Markup
    curve_words: str
    weighed: tuple[Pair, ...]
    why: tuple[str, ...]
    weigh: Form | None
    open: bool = False


@dataclass(frozen=True, slots=True)
class DryingBatch(Page):
    """`preserving_batch.html`: one batch in the dryer, when a weighing was refused."""

    template = "preserving_batch.html"

    frame: Frame
    name: str
    drying: Drying
    back: Link


@dataclass(frozen=True, slots=True)
class DryingSums(Page):
    """`preserving_drying.html`: what drying so much comes to; powder brought back."""

    template = "preserving_drying.html"

    frame: Frame
    asked: Form  # a GET
    heading: str
    answer: tuple[Pair, ...]
    notes: tuple[str, ...]
    why: tuple[str, ...]
    add: Link | None
    powder: Form  # a GET
    powder_heading: str
    powder_answer: tuple[Pair, ...]
    cautions: tuple[Caution, ...]
    links: tuple[Link, ...]
