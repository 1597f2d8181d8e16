"""The pages of animals: what there is, a group, the medicine cupboard, a treatment, the registers, a table taken in."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import NO_LINE, Caution, Field, Form, Frame, Link, Pair, Undoing


@dataclass(frozen=True, slots=True)
class NextJob:
    """A job of a group, with its window as a line."""

    title: str
    href: str
    when: str
    line: Markup = NO_LINE
    trouble: bool = False


@dataclass(frozen=True, slots=True)
class GroupLine:
    """A group as a line."""

    name: str
    href: str
    alive: str  # "eight", "one, of two"
    sub: str  # what it is, where, since when
    held: str = ""  # "nothing eaten or sold until 12 June"
    next: NextJob | None = None
    note: str = ""  # what was told of it elsewhere, and is not yet taken off its count


@dataclass(frozen=True, slots=True)
class GroupPart:
    """A heading with its groups."""

    heading: str
    groups: tuple[GroupLine, ...]


@dataclass(frozen=True, slots=True)
class StillRow:
    """A species, how many days it stands still after which others come, and from when it may leave again."""

    name: str
    days: tuple[str, ...]
    free: str
    trouble: bool = False


@dataclass(frozen=True, slots=True)
class StandstillTable:
    """The standstill of the nation; ``rows`` is empty where none is told, and ``says`` says why."""

    heads: tuple[str, ...]
    rows: tuple[StillRow, ...]
    says: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Livestock(Page):
    """`livestock.html`."""

    template = "livestock.html"

    frame: Frame
    held: tuple[Pair, ...]  # what is barred: the group, and the sentence
    warnings: tuple[Pair, ...]
    parts: tuple[GroupPart, ...]
    coming: tuple[GroupLine, ...]
    over: str
    add: Form
    more_add: tuple[Field, ...]
    standstill: StandstillTable
    links: tuple[Link, ...]
    cautions: tuple[Caution, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class AnimalLine:
    """One animal: what it is called, what is known of it, how it goes."""

    name: str
    sub: str
    cull: str = ""
    gone: str = ""
    change: Link | None = None
    forms: tuple[Form, ...] = ()
    held: str = ""  # until when it is not eaten, and what it gives


@dataclass(frozen=True, slots=True)
class LivestockGroup(Page):
    """`livestock_group.html`."""

    template = "livestock_group.html"

    frame: Frame
    name: str
    sub: str
    held: tuple[str, ...]
    warnings: tuple[str, ...]
    alive: str
    elsewhere: tuple[Undoing, ...]
    tell: Form
    tell_more: tuple[Field, ...]
    tell_open: bool
    dead: Link
    history: tuple[Undoing, ...]
    next: tuple[NextJob, ...]
    weights: tuple[Pair, ...]
    weigh: Link | None
    treated: tuple[Pair, ...]
    animals: tuple[AnimalLine, ...]
    animals_note: str
    animal: Form
    animal_heading: str
    animal_open: bool
    paper: Form | None
    paper_open: bool
    links: tuple[Link, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class BottleLine:
    """A medicine in the cupboard."""

    name: str
    href: str
    sub: str
    says: str  # "expired on 3 June", "good until 28 June, opened on 31 May"
    figures: tuple[Pair, ...]
    trouble: bool = False
    treat: Link | None = None


@dataclass(frozen=True, slots=True)
class LivestockMedicine(Page):
    """`livestock_medicine.html`: the cupboard."""

    template = "livestock_medicine.html"

    frame: Frame
    here: tuple[BottleLine, ...]
    finished: tuple[BottleLine, ...]
    treat: Link
    form: Form
    groups: tuple[tuple[str, tuple[Field, ...]], ...]
    open: bool
    links: tuple[Link, ...]
    cautions: tuple[Caution, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class LivestockBottle(Page):
    """`livestock_bottle.html`: one medicine, changed or finished."""

    template = "livestock_bottle.html"

    frame: Frame
    name: str
    says: str
    trouble: bool
    form: Form
    groups: tuple[tuple[str, tuple[Field, ...]], ...]
    finish: Form
    given: tuple[Pair, ...]
    links: tuple[Link, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class LivestockTreat(Page):
    """`livestock_treat.html`: a group is treated."""

    template = "livestock_treat.html"

    frame: Frame
    form: Form
    groups: tuple[tuple[str, tuple[Field, ...]], ...]
    warnings: tuple[str, ...]
    links: tuple[Link, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class RegisterTable:
    """A table of a register."""

    heading: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    nothing: str


@dataclass(frozen=True, slots=True)
class LivestockRegister(Page):
    """`livestock_register.html`: the medicine book, or the movement record, to print."""

    template = "livestock_register.html"

    frame: Frame
    name: str
    sub: str
    tables: tuple[RegisterTable, ...]
    notes: tuple[str, ...]
    csv: Link
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class LivestockIn(Page):
    """`livestock_in.html`: animals from a table; ``looked`` is what was understood of it."""

    template = "livestock_in.html"

    frame: Frame
    form: Form
    file_error: str
    columns: tuple[Pair, ...]
    says: tuple[str, ...] = ()
    faults: tuple[Pair, ...] = ()
    heads: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    take: Form | None = None
