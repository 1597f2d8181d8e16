"""The pages of meat: what there is to deal with, a delivery before it is saved, its packing."""

from dataclasses import dataclass

from app.web.pages.page import Page
from app.web.parts import Caution, Field, Form, Frame, Link, Pair


@dataclass(frozen=True, slots=True)
class MeatLine:
    """A delivery, a carcase or a cure as a line."""

    name: str
    href: str
    sub: str  # its next job, and what waits
    by: str  # "by 12 May"
    job: str = ""  # where that job's page is
    trouble: bool = False


@dataclass(frozen=True, slots=True)
class Meat(Page):
    """`meat.html`."""

    template = "meat.html"

    frame: Frame
    first: Pair | None  # what must be dealt with in how many days
    open: tuple[MeatLine, ...]
    cures: tuple[MeatLine, ...]
    frozen: tuple[Pair, ...]
    frozen_note: str
    use: tuple[Pair, ...]
    put: tuple[Link, ...]
    more: tuple[Link, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class DeliveryDay:
    """What is done with a delivery on a day."""

    name: str
    things: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class DeliveryTold:
    """What follows from a delivery, before it is saved."""

    due: tuple[Pair, ...]
    warnings: tuple[str, ...]
    facts: tuple[Pair, ...]
    plan: tuple[DeliveryDay, ...]
    ways: tuple[Field, ...]
    cautions: tuple[Caution, ...]
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Delivery(Page):
    """`delivery.html`: a delivery as it is typed, and what follows."""

    template = "delivery.html"

    frame: Frame
    tabs: tuple[Link, ...]
    form: Form
    told: DeliveryTold | None
    back: Link


@dataclass(frozen=True, slots=True)
class PackRow:
    """A cut to be packed: a box to tick, its weight, its packs."""

    name: str
    by: str  # "today", "by Thursday"
    trouble: bool
    pick: Field
    kg: Field
    packs: Field
    into: str  # "fridge" for what is eaten fresh


@dataclass(frozen=True, slots=True)
class DeliveryPacking(Page):
    """`delivery_packing.html`: a delivery that has come, ticked off cut by cut."""

    template = "delivery_packing.html"

    frame: Frame
    name: str
    sub: str
    due: tuple[Pair, ...]
    warnings: tuple[str, ...]
    action: str
    hidden: tuple[Pair, ...]
    error: str
    rows: tuple[PackRow, ...]
    fields: tuple[Field, ...]
    packed: tuple[Pair, ...]
    cures: tuple[Pair, ...]
    other: str
    links: tuple[Link, ...]
    nothing: str
