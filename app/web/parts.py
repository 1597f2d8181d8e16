"""What pages are made of: rows, folds, forms, facts. Frozen, plain, and already in words; a template works nothing out.

Strings are as they stand on the page. A field that is "" (or None, or an empty tuple) is simply not shown. `Markup` is
only ever a drawing from `app.web.drawing` or a QR code: never anything that somebody typed.
"""

import re
from dataclasses import dataclass
from typing import ClassVar, Literal

from markupsafe import Markup

from app.web.ways_round import MORE, PAGES, YARD

NO_LINE = Markup("")

KEPT = re.compile(
    r"/(tick|undo|letgo|move|evening|evening/done|today/weather|weather/reading|larder/count|larder/spoiled"
    r"|larder/[^/]+/(take|back|count|here|mark|unsay)"
    r"|preserving/drying/[^/]+|garden/seed/[^/]+/(take|count|test))"
)
"""The small writes that are made in the yard."""


@dataclass(frozen=True, slots=True)
class Link:
    """A way to somewhere."""

    text: str
    href: str
    here: bool = False  # it is the page or the choice that is shown now
    count: str = ""  # how many lie there: "34"
    trade: str = ""  # a trade's id, for its mark


@dataclass(frozen=True, slots=True)
class Pair:
    """A name and its value, shown as a line of facts or sent as a hidden field."""

    name: str
    value: str
    href: str = ""  # where the value leads, if anywhere


# ── Forms ─────────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer of several."""

    value: str
    text: str
    note: str = ""  # a short line under it


@dataclass(frozen=True, slots=True)
class Field:
    """One question of a form; `app.web.fields` makes one from an `Ask` of a sheet."""

    name: str  # what it is sent as
    label: str
    # "text", "lines" (several lines), "number" (a decimal, typed as text), "count", "date", "time", "choice" (one of
    # ``choices``: up to five stand open, more drop down), "list" (the same, always dropping down), "several" (any of
    # ``choices``), "tick" (one box), "search"
    kind: str = "text"
    value: str = ""  # what was typed, kept as typed; else what is known or usual; for "tick", "yes" when ticked
    unit: str = ""  # stands after the box: "kg"
    help: str = ""  # a short line under the label
    error: str = ""  # a sentence: what is wrong and what would do
    choices: tuple[Choice, ...] = ()
    values: tuple[str, ...] = ()  # for "several": those of them that are ticked
    required: bool = False
    low: str = ""  # for dates: the earliest, ISO 8601
    high: str = ""  # for dates: the latest
    id: str = ""  # set where one page holds two fields of one name; else the name serves


@dataclass(frozen=True, slots=True)
class Form:
    """A form that works without scripting."""

    action: str  # where it is sent
    button: str  # what the button says
    fields: tuple[Field, ...] = ()
    hidden: tuple[Pair, ...] = ()
    method: Literal["post", "get"] = "post"
    error: str = ""  # a sentence about the form as a whole
    note: str = ""  # what pressing the button does, where that needs saying
    quiet: bool = False  # drawn as a lesser button (take back, remove, strike)

    @property
    def keeps(self) -> bool:
        """Whether a phone without signal keeps it, and sends it later (`app.web.box_acts` says how it is done then)."""
        return self.method == "post" and KEPT.fullmatch(self.action) is not None


# ── Jobs ──────────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Row:
    """A job as a row: on Month, Today and What got done. Leave ``line`` empty where no scale is shown."""

    kind: ClassVar[str] = "row"

    key: str  # the task's key: stands in data-task, and in the link to its page
    anchor: str  # `words.anchor(key)`: the row's id
    trade: str  # the trade's id, for mark and tint
    title: str
    href: str  # "/job/<key>", with the key quoted for a URL
    sub: str = ""  # entry · place · note; in a fold only what the fold does not say itself
    minutes: str = ""  # "2 h 30"
    when: str = ""  # the window in words: "from 13 · best 17 · by 21 Sep", "not before the 23rd"
    until: str = ""  # its last day in a few letters, for paper: "by 21"
    line: Markup = NO_LINE  # `drawing.line` on the page's scale
    can: Literal["tick", "undo", ""] = "tick"  # what one tap does; "" while it is barred
    tick_id: str = ""  # a fresh id for what the tap says, so that it counts once however often it is sent
    shown: str = ""  # the window as shown, "2027-09-13/2027-09-17/2027-09-21": kept with the tick
    undoes: str = ""  # when ``can`` is "undo": the id of the tick that it takes back
    pressing: str = ""  # why it can't wait, in the warning colour: "two days left"
    state: str = ""  # "done on the 8th", "not this year", "moved to the 20th", "not sure yet"
    past: bool = False  # drawn as done with: done, or let go
    number: str = ""  # its number on the printed page, "" where it has none
    ask: Field | None = None  # the one number that it asks for, typed beside its tick
    pen: bool = False  # on paper a line is left for the number that it asks for
    asks: str = ""  # what it asks where that is more than a number: "weight and count", told on its page


@dataclass(frozen=True, slots=True)
class Fold:
    """Jobs folded into one row by crop, entry or place; opened, it shows them."""

    kind: ClassVar[str] = "fold"

    anchor: str  # an id of its own on the page, beginning with "f-"
    trade: str  # "" when they are of several
    title: str  # what they have in common: "Pick the runner beans", "Orchard"
    count: str  # "nine times", "six jobs, two done"
    rows: tuple[Row, ...]
    sub: str = ""  # entry · place
    minutes: str = ""  # summed: "4 h 30"
    when: str = ""  # the merged window in words
    until: str = ""  # the first last day among them, for paper
    line: Markup = NO_LINE  # `drawing.line` of the merged window, with every best day
    pressing: str = ""  # that of its most pressing row
    number: str = ""  # on paper a fold is one line: the number of its next open job
    open: bool = False  # shown opened

    @property
    def pen(self) -> bool:
        """On paper a line is left for the number that its jobs ask for."""
        return any(row.pen for row in self.rows)


@dataclass(frozen=True, slots=True)
class Group:
    """A heading with its rows: "Can't wait", or a place."""

    id: str  # "now", "late", "kitchen": the section's id
    heading: str
    items: tuple[Row | Fold, ...]
    note: str = ""  # beside the heading, soft: "4 jobs, 3 h 10"
    folded: bool = False  # the whole group is shut until asked for (Done)


@dataclass(frozen=True, slots=True)
class DayMark:
    """One day on the scale."""

    n: int
    x: float  # percent
    rest: bool = False  # Saturday or Sunday
    today: bool = False
    week: bool = False  # one in seven: those that are named on paper and on the phone


@dataclass(frozen=True, slots=True)
class Scale:
    """The head of the column of windows: the month's days, drawn once."""

    days: tuple[DayMark, ...]
    daylight: str = ""  # path data from `drawing.pane`
    frost: str = ""
    words: str = ""  # the text equivalent: "Daylight falls from 13 h 36 to 11 h 33. Frost: 1 year in 20 by the 30th."


@dataclass(frozen=True, slots=True)
class Follow:
    """A job that hangs on this one, or a job of a chain."""

    title: str
    href: str
    when: str  # its window in words, or "done on 8 September"
    line: Markup = NO_LINE  # on the page's own scale; shown on the phone, where the picture is not
    number: str = ""  # its number in a numbered picture
    past: bool = False
    note: str = ""  # "not sure yet", "lost: the chain ends here"
    trouble: bool = False  # the note is a warning


@dataclass(frozen=True, slots=True)
class Moved:
    """What a change does to one job."""

    title: str
    was: str  # its window before, in words; "" for a new one
    now: str  # its window after; "" for one that goes
    href: str = ""
    note: str = ""  # "no room before the frost"
    trouble: bool = False  # the note is a warning


@dataclass(frozen=True, slots=True)
class Undoing:
    """Something that was said, and how to take it back."""

    words: str  # "Done on 8 September by Bryn: 14 kg. Softening already."
    said: str  # when it was said: "8 September, 19.24"
    undo: Form | None = None  # None once it has been taken back


@dataclass(frozen=True, slots=True)
class Caution:
    """What can hurt, in a wash, above the way to tick it off."""

    text: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Reasoned:
    """A line of why."""

    rule: str  # "reckoned from", "then", "closes"
    inputs: str  # "soil at 10 cm at 7 °C or more"
    day: str = ""  # "22 March"
    source: str = ""  # the publication with its table or page, or "common practice", or "from memory: …"


@dataclass(frozen=True, slots=True)
class Status:
    """What has just happened, told once."""

    text: str  # "Done: sieve and jam the damsons. The labels move to 18 September."
    undo: Form | None = None  # a quiet button beside it
    alert: bool = False  # something went wrong: role="alert"


@dataclass(frozen=True, slots=True)
class Frame:
    """What every page gets."""

    title: str  # of the browser's window, without the program's name
    holding: str = ""  # the holding's name; "" before the first run
    here: str = ""  # the page one is on, by its first name in `app.web.ways_round`
    month_href: str = "/"  # the month that Month leads to
    status: Status | None = None
    made_up: bool = False  # the demo holding: its foot says that all of it is invented
    bare: bool = False  # first run and errors: no way round but the way on

    @property
    def pages(self) -> tuple[Link, ...]:
        """The top line."""
        return tuple(self._way(one) for one in PAGES)

    @property
    def more(self) -> tuple[Link, ...]:
        """What stands behind More."""
        return tuple(self._way(one) for one in MORE)

    @property
    def yard(self) -> tuple[Link, ...]:
        """The bar along the bottom of a phone."""
        ways = {one[0]: one for one in PAGES}
        return tuple(self._way(ways[name]) for name in YARD)

    @property
    def foot(self) -> tuple[Link, ...]:
        """What a phone has at the foot of the page: all that is not in its bar."""
        return tuple(self._way(one) for one in (*PAGES, *MORE) if one[0] not in YARD)

    def _way(self, one: tuple[str, str, str]) -> Link:
        here, text, href = one
        return Link(text, self.month_href if here == "month" else href, here == self.here)
