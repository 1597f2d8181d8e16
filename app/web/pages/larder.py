"""The pages of the larder: what there is, one batch, labels, counting, a power cut, tables, kit, and the search."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import Caution, Form, Frame, Link, Pair, Undoing


@dataclass(frozen=True, slots=True)
class LarderLine:
    """A batch as a line."""

    number: str
    name: str
    href: str
    left: str
    sub: str  # where it lies, when it was made
    until: str  # "best by 12 May"
    trouble: bool = False
    take: Form | None = None  # one tap takes one out


@dataclass(frozen=True, slots=True)
class LarderPlace:
    """What lies in one kind of place, or was found of one kind."""

    name: str
    things: tuple[Pair, ...]
    count: str = ""  # where it is counted


@dataclass(frozen=True, slots=True)
class Larder(Page):
    """`larder.html`; ``first`` are shown, ``then`` folded away, ``eaten`` told as gone though nobody said so."""

    template = "larder.html"

    frame: Frame
    sub: str
    first: tuple[LarderLine, ...]
    then: tuple[LarderLine, ...]
    then_count: str
    first_note: str
    eaten: tuple[LarderLine, ...]
    eaten_count: str
    runs_out: tuple[Pair, ...]
    meals: tuple[Pair, ...]
    meals_note: str
    places: tuple[LarderPlace, ...]
    freezer: tuple[str, ...]
    power: Link
    notes: tuple[str, ...]
    links: tuple[Link, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class Batch(Page):
    """`batch.html`: one batch."""

    template = "batch.html"

    frame: Frame
    name: str
    sub: str
    warnings: tuple[str, ...]
    taps: tuple[Form, ...]  # what is said of it with one tap
    facts: tuple[Pair, ...]
    take: Form
    back: Form
    count: Form
    mark: Form
    right: Form
    open: str
    said: tuple[Undoing, ...]
    links: tuple[Link, ...]
    strike: Form | None
    here: Form | None = None  # what was taken as eaten is there


@dataclass(frozen=True, slots=True)
class LarderAdd(Page):
    """`larder_add.html`: a batch put down by hand."""

    template = "larder_add.html"

    frame: Frame
    form: Form


@dataclass(frozen=True, slots=True)
class BatchLabel:
    """What stands on a jar: its number, so that jars can be told apart, and a code that opens its page.

    With no name it is a place on the sheet from which the label is gone already.
    """

    number: str
    name: str
    made: str
    until: str
    left: str
    code: Markup


@dataclass(frozen=True, slots=True)
class BatchLabels(Page):
    """`larder_labels.html`: labels to print, sheet by sheet of A4."""

    template = "larder_labels.html"

    frame: Frame
    size: str  # "21", "24", "40", "65"
    sheets: tuple[tuple[BatchLabel, ...], ...]
    choose: Form
    note: str
    fits: str  # the labels' size in words


@dataclass(frozen=True, slots=True)
class KitThing:
    """A piece of kit, and the form that puts it right."""

    name: str
    holds: str
    anchor: str
    change: Form
    open: bool
    uses: tuple[Pair, ...] = ()
    ended: str = ""


@dataclass(frozen=True, slots=True)
class Kit(Page):
    """`kit.html`: what jobs are done in, and when it is in use."""

    template = "kit.html"

    frame: Frame
    things: tuple[KitThing, ...]
    ended: tuple[KitThing, ...]
    uses: tuple[Pair, ...]
    clashes: tuple[str, ...]
    way_out: str
    add: Form
    open: bool


@dataclass(frozen=True, slots=True)
class LarderCount(Page):
    """`larder_count.html`: every batch of a place with a box for what was found."""

    template = "larder_count.html"

    frame: Frame
    sub: str
    places: tuple[Link, ...]
    form: Form
    empty: str


@dataclass(frozen=True, slots=True)
class LarderPower(Page):
    """`larder_power.html`: the power is off."""

    template = "larder_power.html"

    frame: Frame
    lead: tuple[str, ...]
    freezers: tuple[Pair, ...]
    states: tuple[Pair, ...]
    states_note: str
    spoiled: Form
    nothing: str
    notes: tuple[str, ...]
    cautions: tuple[Caution, ...]
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class LarderIn(Page):
    """`larder_in.html`: a table of batches is chosen or pasted."""

    template = "larder_in.html"

    frame: Frame
    form: Form
    file_error: str
    columns: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class LarderLooked(Page):
    """`larder_looked.html`: what was understood of it, before anything is changed."""

    template = "larder_looked.html"

    frame: Frame
    says: tuple[str, ...]
    faults: tuple[Pair, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    rows_note: str
    take: Form | None
    back: Link


@dataclass(frozen=True, slots=True)
class SearchPage(Page):
    """`search.html`: everything in which the words stand."""

    template = "search.html"

    frame: Frame
    form: Form
    groups: tuple[LarderPlace, ...]
    nothing: str
