"""The pages of livestock that look ahead: appointments, feed, what to expect, grass and hay."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import Caution, Follow, Form, Frame, Link, Pair


@dataclass(frozen=True, slots=True)
class DayAhead:
    """A day with somebody outside; ``form`` says that it is booked, and for when."""

    id: str
    name: str
    href: str
    who: str  # "the abattoir"
    when: str  # "Thursday 14 May", "hoped for about 14 May"
    by: str  # "book by 19 March"
    trouble: bool  # the booking is late
    held: tuple[str, ...]  # "Not on that day: …"
    facts: tuple[Pair, ...]  # carcase, packs, room in the freezer, what comes back
    short: str  # "Short of 40 litres of freezer"
    hangs: tuple[Follow, ...]
    form: Form | None
    open: bool  # the form lies open


@dataclass(frozen=True, slots=True)
class LivestockDays(Page):
    """`livestock_days.html`: what must be booked by when, what is booked, and what hangs from each day."""

    template = "livestock_days.html"

    frame: Frame
    first: Pair | None
    to_book: tuple[DayAhead, ...]
    booked: tuple[DayAhead, ...]
    put: tuple[Link, ...]
    links: tuple[Link, ...]
    cautions: tuple[Caution, ...]
    notes: tuple[str, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class FeedThing:
    """A thing that is bought in."""

    id: str
    name: str
    answer: str  # "Order 3 bags of 20 kg by 4 June: it runs out on 14 June"
    trouble: bool
    facts: tuple[Pair, ...]
    months: Markup
    by_month: tuple[Pair, ...]
    form: Form
    open: bool


@dataclass(frozen=True, slots=True)
class FeedGroup:
    """A group and what it takes, to its end."""

    name: str
    href: str
    sub: str
    takes: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class LivestockFeed(Page):
    """`livestock_feed.html`: what is to be ordered, then what each group takes."""

    template = "livestock_feed.html"

    frame: Frame
    first: Pair | None
    things: tuple[FeedThing, ...]
    groups: tuple[FeedGroup, ...]
    sums: tuple[Pair, ...]
    why: tuple[str, ...]
    links: tuple[Link, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class EggWeek:
    """A week of lay as a row of the table beside the picture."""

    week: str
    expected: str
    came: str
    share: str


@dataclass(frozen=True, slots=True)
class FlockLay:
    """A flock against its curve."""

    id: str
    name: str
    href: str
    sub: str
    answer: str
    warning: str
    look: str
    curve: Markup
    curve_words: str
    weeks: tuple[EggWeek, ...]
    form: Form
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MeatAhead:
    """Animals for the table: what their weight gives, against what came."""

    name: str
    href: str
    sub: str
    facts: tuple[Pair, ...]
    note: str


@dataclass(frozen=True, slots=True)
class LivestockExpect(Page):
    """`livestock_expect.html`: eggs, carcases and honey, expected and come."""

    template = "livestock_expect.html"

    frame: Frame
    flocks: tuple[FlockLay, ...]
    carcases: tuple[MeatAhead, ...]
    honey: tuple[MeatAhead, ...]
    links: tuple[Link, ...]
    empty: str


@dataclass(frozen=True, slots=True)
class GrassLine:
    """A paddock, or ground shut up for hay."""

    name: str
    href: str
    state: str
    sub: str
    when: str
    trouble: bool = False
    job: Link | None = None


@dataclass(frozen=True, slots=True)
class LivestockGrass(Page):
    """`livestock_grass.html`: paddocks, clean ground, hay made and hay short."""

    template = "livestock_grass.html"

    frame: Frame
    first: Pair | None
    paddocks: tuple[GrassLine, ...]
    wanted: str
    clean: tuple[Pair, ...]
    clean_note: str
    hay: tuple[GrassLine, ...]
    months: tuple[Pair, ...]
    months_note: str
    short: str
    short_facts: tuple[Pair, ...]
    buy: Link | None
    put: tuple[Link, ...]
    links: tuple[Link, ...]
    cautions: tuple[Caution, ...]
    why: tuple[str, ...]
    empty: str
