"""The pages of the larder: what there is, one batch, labels, kit, and the search across everything."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.parts import Form, Frame, Link, Pair, Undoing


@dataclass(frozen=True, slots=True)
class LarderLine:
    """A batch as a line."""

    number: str
    name: str
    href: str
    left: str
    sub: str  # where it lies, when it was made
    until: str  # "by 12 May, for quality"
    trouble: bool = False
    take: Form | None = None  # one tap takes one out


@dataclass(frozen=True, slots=True)
class LarderPlace:
    """What lies in one kind of place."""

    name: str
    things: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class Larder:
    """`larder.html`."""

    frame: Frame
    sub: str
    first: tuple[LarderLine, ...]
    runs_out: tuple[Pair, ...]
    meals: tuple[Pair, ...]
    meals_note: str
    places: tuple[LarderPlace, ...]
    freezer: tuple[str, ...]
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
    facts: tuple[Pair, ...]
    take: Form
    back: Form
    count: Form
    mark: Form
    open: str
    said: tuple[Undoing, ...]
    links: tuple[Link, ...]
    strike: Form | None


@dataclass(frozen=True, slots=True)
class LarderAdd:
    """`larder_add.html`: a batch put down by hand."""

    frame: Frame
    form: Form


@dataclass(frozen=True, slots=True)
class BatchLabel:
    """What stands on a jar: its number, so that jars can be told apart, and a code that opens its page."""

    number: str
    name: str
    made: str
    until: str
    left: str
    code: Markup


@dataclass(frozen=True, slots=True)
class BatchLabels:
    """`larder_labels.html`: labels to print on a sheet of A4."""

    frame: Frame
    size: str  # "21", "24", "40", "65"
    labels: tuple[BatchLabel, ...]
    sizes: tuple[Link, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Kit:
    """`kit.html`: what jobs are done in, and when it is in use."""

    frame: Frame
    things: tuple[Pair, ...]
    uses: tuple[Pair, ...]
    clashes: tuple[str, ...]
    way_out: str
    add: Form
    open: bool


@dataclass(frozen=True, slots=True)
class SearchPage:
    """`search.html`: everything in which the words stand."""

    frame: Frame
    form: Form
    groups: tuple[LarderPlace, ...]
    nothing: str
