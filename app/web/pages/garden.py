"""Pages of the garden's beds: all of them, and one."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import Form, Frame, Link, Pair, Undoing


@dataclass(frozen=True, slots=True)
class BedRow:
    """A bed in the list, with its year drawn."""

    name: str
    href: str
    sub: str  # "6 × 1.2 m · tunnel · loam"
    now: str  # "Parsnips until 12 January"
    free: str  # "free from 13 January to 4 April"
    water: str  # "wants water: 12 litres a metre"
    clash: str  # "Next onions: north bed had garlic in 2026 …"
    line: Markup  # `bed_drawing.year`, with its text equivalent inside


@dataclass(frozen=True, slots=True)
class Turn:
    """A group that stood in a bed in a year, and its crops; what has no group stands by itself."""

    group: str  # "roots"
    crops: str  # "parsnips and carrots"


@dataclass(frozen=True, slots=True)
class Turns:
    """A bed's row in the table of the rotation."""

    name: str
    href: str
    years: tuple[tuple[Turn, ...], ...]  # for each year what stood there
    next: str  # "legumes or brassicas"
    feed: str  # "muck first"


@dataclass(frozen=True, slots=True)
class Beds(Page):
    """`garden.html`: every bed."""

    template = "garden.html"

    frame: Frame
    sub: str
    beds: tuple[BedRow, ...]
    months: tuple[tuple[float, str], ...]
    years: tuple[str, ...]  # "2024" … "2027"
    next_year: str
    turns: tuple[Turns, ...]
    cover: str  # "Room for six trays; nine are wanted from 3 May."
    trays: tuple["Standing", ...]  # whose trays stand under cover, and when
    unmeasured: tuple[Link, ...]
    add: Form
    open: bool  # the form is shown opened
    empty: str = ""


@dataclass(frozen=True, slots=True)
class WaterDay:
    """A day of the account, as a row."""

    day: str
    rain: str
    watered: str
    drawn: str
    owed: str
    read: str  # "read", "half read", "an average year"


@dataclass(frozen=True, slots=True)
class Water:
    """What a crop in the bed wants, and the account behind it."""

    id: str
    answer: str  # "Ten days dry: the beans want 12 litres a metre."
    wants: bool
    how: str  # "32 litres for all of it, slowly, in the evening."
    sure: str  # how much of it was measured
    drawing: Markup
    months: tuple[tuple[float, str], ...]
    facts: tuple[Pair, ...]
    days: tuple[WaterDay, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """Something that stood, stands or will stand in the bed."""

    name: str
    href: str
    when: str
    note: str = ""
    past: bool = False


@dataclass(frozen=True, slots=True)
class Fits:
    """What the bed holds of a crop."""

    crop: str
    plants: str
    rows: str
    metres: str


@dataclass(frozen=True, slots=True)
class BedForm:
    """A form that lies folded under its summary."""

    summary: str
    form: Form
    open: bool = False
    help: str = ""


@dataclass(frozen=True, slots=True)
class Bed(Page):
    """`bed.html`: one bed."""

    template = "bed.html"

    frame: Frame
    name: str
    sub: str
    warnings: tuple[str, ...]
    cover: str  # what its cover does: "A tunnel holds off …"
    line: Markup
    months: tuple[tuple[float, str], ...]
    standing: tuple[Standing, ...]
    free: str
    water: tuple[Water, ...]
    no_water: str
    next: str  # "Peas and beans have their turn in 2028, or …"
    feeding: tuple[str, ...]
    feeds: tuple[Link, ...]
    fits: tuple[Fits, ...]
    fits_note: str
    said: tuple[Undoing, ...]
    forms: tuple[BedForm, ...]
    add: Link
