"""Pages about what there is: entries, sheets, first run, household, calendar, paper, and what went wrong."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.pages.phones import KindSteps
from app.web.pages.work import Remembered
from app.web.parts import Caution, Field, Follow, Form, Frame, Link, Moved, Pair, Undoing

# ── What there is, and adding to it ───────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class EntryLine:
    """An entry in the list."""

    name: str
    href: str
    sub: str  # "sowing · Leek bed · since 12 March"
    next: str  # its next job: "Plant out"
    next_when: str  # "from 14 · best 17 · by 28 May"
    pressing: str = ""


@dataclass(frozen=True, slots=True)
class EntryGroup:
    """A trade's entries."""

    trade: str
    entries: tuple[EntryLine, ...]


@dataclass(frozen=True, slots=True)
class Entries(Page):
    """`entries.html`: what there is."""

    template = "entries.html"

    frame: Frame
    count: str  # "31 entries"
    search: Form  # a GET with one field
    trades: tuple[Link, ...]
    groups: tuple[EntryGroup, ...]
    ended: Link | None  # show those that are over, too
    empty: str = ""


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A sheet that can be followed."""

    title: str
    href: str  # to the short form
    about: str
    have: str = ""  # "you have two"


@dataclass(frozen=True, slots=True)
class SheetGroup:
    """A trade's sheets."""

    trade: str
    sheets: tuple[SheetLine, ...]


@dataclass(frozen=True, slots=True)
class Add(Page):
    """`add.html`: choose what it is. Found… is the same page with what may be seen."""

    template = "add.html"

    frame: Frame
    heading: str  # "Add", "Found…"
    lead: str  # "What is there now that was not there before?"
    search: Form
    trades: tuple[Link, ...]
    groups: tuple[SheetGroup, ...]
    empty: str = ""  # "No sheet is called that. …"


@dataclass(frozen=True, slots=True)
class DateLine:
    """A job as it would be dated."""

    title: str
    when: str
    line: Markup  # on the preview's scale
    note: str = ""
    trouble: bool = False


@dataclass(frozen=True, slots=True)
class Preview:
    """The dates, before anything is saved."""

    heading: str  # "These dates would follow"
    dates: tuple[DateLine, ...]  # for a new entry
    months: tuple[tuple[float, str], ...]  # the scale's head: percent, name
    moves: tuple[Moved, ...]  # for a change: was and now
    clashes: tuple[str, ...]
    bars: tuple[str, ...]
    more: str  # "and 14 pickings every three days until the first frost"
    seen: str  # sent back with the confirmation, so that only dates that were seen are saved
    confirm: str  # "Put it down"
    advice: tuple[str, ...] = ()  # of its bed: the rotation, whether it is free, what fits


@dataclass(frozen=True, slots=True)
class EntryForm(Page):
    """`entry_form.html`: a new entry, or a change to one: the facts, then the dates, then the confirmation."""

    template = "entry_form.html"

    frame: Frame
    heading: str  # "Add: leek", "Change the leek bed"
    trade: str
    about: str  # the sheet's line
    form: Form  # its button shows the dates; the preview's saves
    preview: Preview | None
    cautions: tuple[Caution, ...]
    back: Link
    how: Link
    remembered: tuple[Remembered, ...] = ()  # what was said of others of its kind


# ── First run, household, calendar ────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Part:
    """A heading with fields."""

    heading: str
    fields: tuple[Field, ...]
    note: str = ""
    trade: str = ""  # for its mark


@dataclass(frozen=True, slots=True)
class Start(Page):
    """`start.html`: one of the three screens of the first run."""

    template = "start.html"

    frame: Frame
    step: int  # 1, 2 or 3
    heading: str  # "Where is it?"
    lead: str
    form: Form  # action, hidden fields, button, error; the questions are in ``parts``
    parts: tuple[Part, ...]
    back: Link | None


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody of the household."""

    name: str
    hours: Form  # seven small fields, Monday first
    week: str  # "14 h in a week"
    away: tuple[Undoing, ...]  # "14–21 September"; ``undo`` takes it back
    add_away: Form
    leave: Form | None  # no longer of the household


@dataclass(frozen=True, slots=True)
class Household(Page):
    """`household.html`: the place and its people."""

    template = "household.html"

    frame: Frame
    parts: tuple[Part, ...]  # the holding's own facts, by heading
    holding: Form  # its action, button and error
    people: tuple[Person, ...]
    add: Form  # another person
    total: str  # "43 h in a week; the rounds take 14 h of them"
    links: tuple[Link, ...]  # the round's sheet, how to take the data out


@dataclass(frozen=True, slots=True)
class Shared:
    """A calendar link that was given out."""

    name: str  # "Mari's phone"
    what: str  # "Garden and Meat · open jobs · rings at 8 in the morning"
    made: str  # "made on 3 March"
    read: str  # "last read yesterday"; "never read yet"
    revoke: Form
    renew: Form | None = None  # a new address; the old one answers nothing from then on


@dataclass(frozen=True, slots=True)
class NewLink:
    """A link just made: its address is shown this once."""

    name: str
    address: str
    webcal: str  # the same for programs that know webcal:
    qr: Markup  # segno's svg_inline(dark="#000", light="#fff", omitsize=True): no style in it, size by the style sheet
    file: str  # the address of a plain download


@dataclass(frozen=True, slots=True)
class Calendar(Page):
    """`calendar.html`: the year on everybody's phone."""

    template = "calendar.html"

    frame: Frame
    new: NewLink | None
    links: tuple[Shared, ...]
    form: Form  # name, trades, which jobs, as events or to-dos, alarm
    caution: str  # who can read it, and that a calendar kept elsewhere can't reach this house
    kinds: tuple[KindSteps, ...]  # how each kind of calendar takes it in
    file: Link  # take it as a file


# ── Sheets and paper ──────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class SheetStep:
    """A step as it is told."""

    id: str
    title: str
    note: str
    when: tuple[Pair, ...]  # "reckoned from" …, "after" …, "opens" …, "closes" …, "again" …
    facts: tuple[Pair, ...]  # "takes", "needs", "asks", "uses", "makes", "if missed"
    cautions: tuple[Caution, ...]
    source: str
    changed: tuple[Pair, ...] = ()  # own figures against the sheet's
    legal: str = ""  # "The law of England and Wales"


@dataclass(frozen=True, slots=True)
class SheetFigure:
    """A group of a crop's figures, in words, and where they come from."""

    name: str  # "frost"
    value: str  # "harmed from -4 °C, killed at -7 °C"
    source: str


@dataclass(frozen=True, slots=True)
class Sheet(Page):
    """`sheet.html`: how it's done."""

    template = "sheet.html"

    frame: Frame
    title: str
    trade: str
    about: str
    own: str  # "Your own sheet", "Changed for this holding"; "" as it came
    facts: tuple[Pair, ...]  # what is asked of an entry, and the usual answers
    cautions: tuple[Caution, ...]
    steps: tuple[SheetStep, ...]
    bars: tuple[Pair, ...]  # what it says, and its source
    sources: tuple[str, ...]
    add: Link
    changed: tuple[Pair, ...] = ()  # the household's own ways with all of it
    otherwise: Link | None = None  # to tell one
    figures: tuple[SheetFigure, ...] = ()  # of a garden crop


@dataclass(frozen=True, slots=True)
class RoundLine:
    """One thing to do on a round."""

    what: str  # "Let out the pullets, fill the drinker"
    place: str
    amount: str  # "two scoops of layers' pellets"
    note: str  # "count them: there are 24"


@dataclass(frozen=True, slots=True)
class RoundPart:
    """A morning or an evening."""

    heading: str  # "Morning"
    when: str  # "from first light, 6.41"
    minutes: str
    lines: tuple[RoundLine, ...]


@dataclass(frozen=True, slots=True)
class RoundSheet(Page):
    """`round.html`: for whoever minds the place; made to be printed."""

    template = "round.html"

    frame: Frame
    days: str  # "14–21 September"
    parts: tuple[RoundPart, ...]
    also: tuple[Follow, ...]  # what can't wait in those days
    not_to_eat: tuple[str, ...]  # "Eggs of the orchard flock: not before 23 September (wormed on the 9th)."
    call: tuple[Pair, ...]  # whom to call: "Vet", number
    form: Form | None  # which days: a GET
    gets: tuple[Pair, ...] = ()  # what each group gets in a day
    frost: str = ""  # water in frost


@dataclass(frozen=True, slots=True)
class Wrong(Page):
    """`error.html`: what went wrong, and the way on."""

    template = "error.html"

    frame: Frame
    code: int
    heading: str  # "There is no such month"
    sentence: str
    kept: str  # "Nothing was changed." or what was kept
    links: tuple[Link, ...]
