"""The pages of the larder: what there is, one batch, labels, counting, a power cut, tables, kit, and the search."""

from dataclasses import dataclass

from markupsafe import Markup

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
class Larder:
    """`larder.html`; ``first`` are shown, ``then`` folded away, ``eaten`` told as gone though nobody said so."""

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
class Batch:
    """`batch.html`: one batch."""

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
class LarderAdd:
    """`larder_add.html`: a batch put down by hand."""

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
class BatchLabels:
    """`larder_labels.html`: labels to print, sheet by sheet of A4."""

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
class Kit:
    """`kit.html`: what jobs are done in, and when it is in use."""

    frame: Frame
    things: tuple[KitThing, ...]
    ended: tuple[KitThing, ...]
    uses: tuple[Pair, ...]
    clashes: tuple[str, ...]
    way_out: str
    add: Form
    open: bool


@dataclass(frozen=True, slots=True)
class LarderCount:
    """`larder_count.html`: every batch of a place with a box for what was found."""

    frame: Frame
    sub: str
    places: tuple[Link, ...]
    form: Form
    empty: str


@dataclass(frozen=True, slots=True)
class LarderPower:
    """`larder_power.html`: the power is off."""

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
class LarderIn:
    """`larder_in.html`: a table of batches is chosen or pasted."""

    frame: Frame
    form: Form
    file_error: str
    columns: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class LarderLooked:
    """`larder_looked.html`: what was understood of it, before anything is changed."""

    frame: Frame
    says: tuple[str, ...]
    faults: tuple[Pair, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    rows_note: str
    take: Form | None
    back: Link


@dataclass(frozen=True, slots=True)
class SearchPage:
    """`search.html`: everything in which the words stand."""

    frame: Frame
    form: Form
    groups: tuple[LarderPlace, ...]
    nothing: str
