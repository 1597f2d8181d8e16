"""Pages of upkeep: what there is, the long view, ready for winter, fit to paint, how much, firewood, the law."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import NO_LINE, Caution, Form, Frame, Link, Pair


@dataclass(frozen=True, slots=True)
class JobLine:
    """A job in a line: what, of what, and when; what presses, and what is to be said of it."""

    title: str
    href: str
    of: str  # "West wall, house"
    when: str
    pressing: str = ""  # "3 days late"
    says: str = ""
    trouble: bool = False  # what is said speaks against it
    hours: str = ""


@dataclass(frozen=True, slots=True)
class ElementLine:
    """An element in a line."""

    name: str
    href: str
    sub: str  # "masonry paint on render · 46 m² · severe"
    last: str  # "Last painted 20 June 2023"
    found: str  # "1 May 2027: chalking, below the sill"
    next: Link | None
    when: str  # the next job's window, in words
    line: Markup = NO_LINE  # on the page's scale
    pressing: str = ""
    look: Link | None = None  # the job that says what was found
    amount: Link | None = None  # how much paint
    misfit: str = ""
    id: str = ""


@dataclass(frozen=True, slots=True)
class BuildingPart:
    """A building, its elements, and its years as a picture."""

    id: str
    name: str
    sub: str
    elements: tuple[ElementLine, ...]
    picture: Markup
    told: tuple[Pair, ...]  # what the picture shows, for those who read


@dataclass(frozen=True, slots=True)
class WaitLine:
    """A wait that runs in a repair, drawn from the day it began to the day it ends."""

    text: str  # "The render cures: the first coat not before 3 June."
    href: str
    sub: str
    line: Markup


@dataclass(frozen=True, slots=True)
class Upkeep(Page):
    """`upkeep.html`: what there is, by building."""

    template = "upkeep.html"

    frame: Frame
    sub: str
    first: tuple[JobLine, ...]
    waits: tuple[WaitLine, ...]
    buildings: tuple[BuildingPart, ...]
    months: tuple[tuple[float, str], ...]
    years: tuple[tuple[float, str], ...]
    add: Form
    open: bool
    whole: Link
    notes: tuple[str, ...]
    empty: str = ""


@dataclass(frozen=True, slots=True)
class YearAsks:
    """A year of the long view."""

    year: str
    says: str  # "41 jobs, 21 h"
    cost: str
    bar: Markup
    big: tuple[JobLine, ...]


@dataclass(frozen=True, slots=True)
class UpkeepYears(Page):
    """`upkeep_years.html`."""

    template = "upkeep_years.html"

    frame: Frame
    sub: str
    picture: Markup
    years: tuple[YearAsks, ...]
    notes: tuple[str, ...]
    empty: str = ""


@dataclass(frozen=True, slots=True)
class UpkeepWinter(Page):
    """`upkeep_winter.html`."""

    template = "upkeep_winter.html"

    frame: Frame
    answer: str
    late: tuple[JobLine, ...]
    jobs: tuple[JobLine, ...]
    spring: tuple[JobLine, ...]
    done: tuple[Pair, ...]
    notes: tuple[str, ...]
    empty: str = ""


@dataclass(frozen=True, slots=True)
class Checked:
    """One reason for or against."""

    holds: bool
    says: str


@dataclass(frozen=True, slots=True)
class UpkeepFit(Page):
    """`upkeep_fit.html`."""

    template = "upkeep_fit.html"

    frame: Frame
    form: Form
    answer: str  # "Yes: it takes now." or ""
    fit: bool
    checks: tuple[Checked, ...]
    facts: tuple[Pair, ...]
    months_heading: str
    months: Markup
    told: tuple[Pair, ...]
    choose: Form
    jobs: tuple[JobLine, ...]
    notes: tuple[str, ...]
    no_months: str = ""


@dataclass(frozen=True, slots=True)
class Bought:
    """A thing to buy."""

    name: str
    amount: str
    packs: str
    cost: str = ""
    order_by: str = ""
    jobs: tuple[Link, ...] = ()
    packs_href: str = ""
    late: bool = False


@dataclass(frozen=True, slots=True)
class UpkeepAmounts(Page):
    """`upkeep_amounts.html`."""

    template = "upkeep_amounts.html"

    frame: Frame
    form: Form
    answer: str
    things: tuple[Bought, ...]
    why: tuple[Pair, ...]
    choose: tuple[Link, ...]
    list_heading: str
    shopping: tuple[Bought, ...]
    total: str
    packs: Form
    packs_open: bool
    known: tuple[Pair, ...]
    cautions: tuple[Caution, ...]
    nothing: str = ""


@dataclass(frozen=True, slots=True)
class PileLine:
    """A stack of firewood."""

    name: str
    href: str
    sub: str
    dry: str
    now: str
    job: Link | None
    line: Markup
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class UpkeepWood(Page):
    """`upkeep_wood.html`."""

    template = "upkeep_wood.html"

    frame: Frame
    sub: str
    piles: tuple[PileLine, ...]
    months: tuple[tuple[float, str], ...]
    meter: Form
    meter_says: str
    meter_facts: tuple[Pair, ...]
    need: Form
    need_says: str
    need_facts: tuple[Pair, ...]
    add: Link
    notes: tuple[str, ...]
    empty: str = ""


@dataclass(frozen=True, slots=True)
class LawLine:
    """A rule of law, with what stands under it."""

    says: str
    who: str
    about: tuple[Link, ...]
    here: tuple[Link, ...]
    every: str
    since: str
    checked: str
    source: str
    stands: str = ""  # how this household stands by it
    trouble: bool = False


@dataclass(frozen=True, slots=True)
class UpkeepLaw(Page):
    """`upkeep_law.html`."""

    template = "upkeep_law.html"

    frame: Frame
    answer: str
    seasons: tuple[LawLine, ...]
    rules: tuple[LawLine, ...]
    notes: tuple[str, ...]
    none: Link | None
