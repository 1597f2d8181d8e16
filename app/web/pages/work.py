"""Pages about what is to be done: Month, Today, What got done, a job, an entry's chain."""

from dataclasses import dataclass
from typing import Literal

from markupsafe import Markup

from app.web.chain import Chain
from app.web.pages.cure_kept import CureKept
from app.web.pages.page import Page
from app.web.pages.preserving import Drying
from app.web.parts import Caution, Follow, Form, Frame, Group, Link, Moved, Pair, Reasoned, Row, Scale, Status, Undoing

# ── Month ─────────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Summary:
    """The head of a month, beside its list."""

    wanted: str  # "41 h"
    given: str  # "29 h to give after the rounds"
    hours: Markup  # `drawing.against`
    out_of_time: str  # "7 jobs"
    out_of_time_rest: str  # ", 2 this week"
    carried: str  # "3"
    carried_from: str  # "carried from August"
    daylight: str  # "13 h 36 → 11 h 33"
    frost: str  # "1 year in 20 by the 30th"; "" where frost is not known
    frost_label: str = "first frost"  # or "last frost", or "frost"
    unfit: str = ""  # "It does not all fit." with what to do about it
    unfit_link: Link | None = None


@dataclass(frozen=True, slots=True)
class Month(Page):
    """`month.html`: a month as a list on its day scale."""

    template = "month.html"

    frame: Frame
    year: str  # "2027"
    name: str  # "September"
    last: Link  # "August"
    next: Link  # "October"
    this: Link | None  # back to the month it is; None when it is this one
    summary: Summary
    scale: Scale
    groups: tuple[Group, ...]  # Can't wait, Time for it now, Still to come, barred until something is said, Done
    trades: tuple[Link, ...]  # "All", then each trade with its count; which one is shown is ``here``
    folds: tuple[Link, ...]  # fold by: crop, entry, place, not at all
    views: tuple[Link, ...]  # List, Grid
    count: str  # "96 jobs in 41 rows"
    # "close" when more than 44 lines are to go on the printed side, "close tall" while there is room to write
    paper: Literal["roomy", "close tall", "close"] = "roomy"
    empty: str = ""  # said instead of groups: "Nothing is asked of you in this month."
    evening: Link | None = None  # What got done, for the numbers on the printed page
    number: Form | None = None  # gives numbers to the rows that have none, before the page is printed
    unnumbered: str = ""  # said on paper in place of numbers


@dataclass(frozen=True, slots=True)
class GridJob:
    """A job in a day of the grid."""

    title: str
    href: str
    trade: str
    past: bool = False
    pressing: bool = False
    minutes: str = ""


@dataclass(frozen=True, slots=True)
class GridDay:
    """A day of the grid."""

    n: int
    words: str  # "Wednesday 15 September": for listeners, and for the phone
    inside: bool  # it belongs to the month; others are left blank
    today: bool = False
    best: tuple[GridJob, ...] = ()  # jobs whose best day it is
    closing: tuple[GridJob, ...] = ()  # jobs whose last day it is
    more: Link | None = None  # "and four more", when the day is too full


@dataclass(frozen=True, slots=True)
class GridWeek:
    """A row of the grid: what the week asks, and its seven days, Monday first."""

    label: str  # "week 37"
    wanted: str  # "9 h"
    given: str  # "of 7 h"
    over: bool  # it does not fit
    light: str  # "13 h 10"
    days: tuple[GridDay, ...]


@dataclass(frozen=True, slots=True)
class MonthGrid(Page):
    """`month_grid.html`: a month as seven columns of days, for a laptop."""

    template = "month_grid.html"

    frame: Frame
    year: str
    name: str
    last: Link
    next: Link
    this: Link | None
    views: tuple[Link, ...]
    trades: tuple[Link, ...]
    weekdays: tuple[str, ...]  # "Monday" … "Sunday"
    weeks: tuple[GridWeek, ...]
    note: str = ""  # "Jobs stand on their best day; those under the line have their last."


# ── A job, an entry ───────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Remembered:
    """What was said in a former year, and what came of it."""

    year: str  # "2026"
    says: str  # "sowed 14 courgettes, gave away 9"
    came: str  # "31 kg picked"; "" where nothing is known
    href: str


@dataclass(frozen=True, slots=True)
class Job(Page):
    """`job.html`: one job."""

    template = "job.html"

    frame: Frame
    key: str
    title: str
    trade: str
    entry: Link  # the entry it belongs to
    place: str
    when: str  # "28 September – 3 October, best on the 30th"; "not before the 23rd"
    pressing: str  # "two days left"; "" else
    state: str  # "done on 8 September", "not this year", "moved"; "" while it is open
    note: str  # the step's own short line
    line: Markup  # on ``scale``
    scale: Scale  # the days around its window
    loses: str  # what is lost if it is missed
    tick: Form | None  # day, measures, remark, person; None while barred until something is said
    barred: str  # why not, in a sentence; a law bar says so even beside a form, since facts are always taken down
    move: Form | None  # to another day; None for a firm day, or past a legal limit
    move_risk: str  # what moving it past its window risks
    let_go: Form | None  # not this year, with a reason
    said: tuple[Undoing, ...]  # all that was ever said about it, newest first
    why: tuple[Reasoned, ...]
    changed: tuple[Pair, ...]  # where the holding's own figures differ from the sheet
    cautions: tuple[Caution, ...]
    clock: str  # "from 19.00, for 9 h, looked at every 4 h"; "" where hours don't matter
    needs: tuple[str, ...]  # "a dry day", "8 °C or more", "two people"
    uses: tuple[Pair, ...]  # "salt", "420 g"
    makes: tuple[str, ...]  # "a batch of leeks for the clamp, which keeps three months"
    minutes: str
    follows: tuple[Follow, ...]
    how: Link  # how it's done: the sheet, at this step
    otherwise: Link | None = None  # does it go differently here?
    labels: tuple[Link, ...] = ()  # to the label of each jar that was filled
    remembered: tuple[Remembered, ...] = ()  # what was said at this job in former years


@dataclass(frozen=True, slots=True)
class Entry(Page):
    """`entry.html`: one thing that there is, and its chain."""

    template = "entry.html"

    frame: Frame
    name: str
    trade: str
    kind: str  # "sowing", "pen", "wall"
    place: str
    sub: str  # "Sown 12 March 2027 · 180 plants · own seed"
    made_by: Link | None  # the job that made it
    chain: Chain  # from `chain.lay`
    chain_words: str  # the picture told in a sentence: "Eleven jobs from March 2027 to December 2028; three are done."
    today: str  # "15 September, today"
    steps: tuple[Follow, ...]  # the same jobs as a list, in order
    older: Link | None  # earlier rounds of it, when the list leaves them out
    facts: tuple[Pair, ...]
    change: Link  # change these
    later: Form | None  # what if it begins n days later: a GET
    later_heading: str  # "If it began two weeks later"
    moves: tuple[Moved, ...] | None  # the answer; None when it was not asked
    bars: tuple[str, ...]  # sentences
    clashes: tuple[str, ...]
    lacks: tuple[Link, ...]  # what is wanted before a job can be dated, and where to say it
    changed: tuple[Pair, ...]  # own figures against the sheet's
    made: tuple[Link, ...]  # entries that came of it
    end: Form | None  # it is over from a day on
    strike: Form | None  # it was put down by mistake
    ended: str  # "Ended on 3 October 2027", "Struck out"; "" while it runs
    how: Link  # its sheet
    back: Form | None = None  # it was struck out or has ended, and is to be there again
    drying: Drying | None = None  # of a batch in the dryer: the weights, the weight to reach, when it is dry
    otherwise: Link | None = None  # does it go differently here?
    cure: CureKept | None = None  # of a cure: what was weighed out, and what it weighed since


# ── What an htmx request gets ─────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Ticked(Page):
    """`fragments/ticked.html`: the row as it is now; the status, the summary and rows that moved go out of band."""

    template = "fragments/ticked.html"

    row: Row | None  # None when nothing is to be swapped (send HX-Reswap: none)
    status: Status
    summary: Summary | None = None  # on Month
    moved: tuple[Row, ...] = ()  # rows of the same page whose windows moved
