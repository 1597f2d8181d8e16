"""Pages of what the garden gives and takes: our own ways, how much to sow, the table."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import Form, Frame, Link, Pair

# ── Our own ways ──────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class WayLine:
    """A way that holds."""

    words: str  # "Pick the apples: 3 weeks later with Bramley"
    sub: str  # "told on 3 March 2027 · two entries"
    strike: Form


@dataclass(frozen=True, slots=True)
class WayGroup:
    """The ways told of one sheet."""

    title: str
    href: str
    trade: str
    lines: tuple[WayLine, ...]


@dataclass(frozen=True, slots=True)
class Ways(Page):
    """`ways.html`: where this holding does otherwise than the sheets say."""

    template = "ways.html"

    frame: Frame
    groups: tuple[WayGroup, ...]
    empty: str
    choose: Form  # which sheet: a GET
    heading: str  # "Apple: what goes differently here?"
    form: Form | None  # None until a sheet is chosen
    back: Link | None  # the entry or job one came from


# ── How much to sow ───────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Sums(Page):
    """`sums.html`: for so many mouths, metres or plants, what to sow."""

    template = "sums.html"

    frame: Frame
    form: Form  # a GET
    heading: str  # "Carrot for four, fresh and to keep"; "" until it was asked
    answer: tuple[Pair, ...]  # "row" "24 m", "seed" "1 320, 1.6 g" …
    why: tuple[str, ...]  # the arithmetic, in sentences with their sources
    warnings: tuple[str, ...]
    dates_heading: str
    dates: tuple[str, ...]  # the successive sowings
    dates_note: str
    add: Link | None  # put it down with these facts
    empty: str


# ── The table ─────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class TableMonth:
    """A month of the year ahead."""

    name: str  # "Nov"
    year: str  # "2026" on the first and each January
    x: float  # percent, where it begins


@dataclass(frozen=True, slots=True)
class TableCrop:
    """A crop's year: growing, picked, kept and eaten."""

    name: str
    href: str
    line: Markup
    says: str  # the text equivalent: "in the ground till October, picked July to September, kept till March"
    kilos: str  # "12 kg expected, 8 kg a year eaten"


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch with little to eat, and what can be done about it."""

    when: str  # "7 April – 20 May"
    says: str
    sow: tuple[Link, ...]  # "Radish: sow by 12 March"


@dataclass(frozen=True, slots=True)
class Tally:
    """What a crop has given this year, against what was expected."""

    name: str
    href: str
    picked: str  # "14.2 kg"
    expected: str  # "27 kg"
    line: Markup  # one against the other
    weeks: str  # "week 30: 2.1 kg; week 31: 3 kg"


@dataclass(frozen=True, slots=True)
class TheTable(Page):
    """`table.html`: growing, kept and eaten on one line through the year; the hungry gap; kilos."""

    template = "table.html"

    frame: Frame
    lead: str
    months: tuple[TableMonth, ...]
    crops: tuple[TableCrop, ...]
    gap_line: Markup
    gaps: tuple[Gap, ...]
    no_gap: str
    tallies_heading: str
    tallies: tuple[Tally, ...]
    no_tallies: str
    empty: str
