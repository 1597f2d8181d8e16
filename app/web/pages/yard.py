"""Pages for the yard: Today, and What got done."""

from dataclasses import dataclass

from app.web.pages.page import Page
from app.web.parts import Field, Form, Frame, Group, Link, Pair, Row


@dataclass(frozen=True, slots=True)
class NotToday:
    """A job that could be done by its window, and why it should not be today."""

    title: str
    href: str
    why: str  # "wants a dry day", "not before the 23rd", "needs two"
    pressing: str = ""  # "last day": put off, and yet it presses


@dataclass(frozen=True, slots=True)
class Tap:
    """One kind of weather to be told in one tap; a second tap takes it back."""

    say: str  # what is sent: "frost yes", or "frost no" while it holds
    text: str  # "Frost"
    label: str  # for listeners: "Today: frost tonight"
    on: bool = False


@dataclass(frozen=True, slots=True)
class DayWeather:
    """The weather of a day, to be told."""

    day: str  # ISO 8601
    name: str  # "Today", "Thursday 16 September"
    taps: tuple[Tap, ...]


@dataclass(frozen=True, slots=True)
class Coming:
    """A job on a day ahead."""

    title: str
    href: str
    trade: str
    what: str  # "best", "opens", "arranged"


@dataclass(frozen=True, slots=True)
class DayAhead:
    """One of the next three days."""

    name: str  # "Tomorrow, Thursday 16 September"
    lines: tuple[Coming, ...]
    weather: DayWeather | None  # None beyond what can be told
    more: Link | None = None  # "and four more"


@dataclass(frozen=True, slots=True)
class Today(Page):
    """`today.html`: for the yard."""

    template = "today.html"

    frame: Frame
    weekday: str  # "Wednesday"
    day: str  # "15 September"
    sun: str  # "6.41 – 19.24"
    light: str  # "12 h 43 of daylight, 4 min less than yesterday"
    rounds: tuple[Row, ...]  # morning and evening: one tick each, never pressing
    round_sheet: Link | None  # the sheet for whoever minds the place
    found: Link  # Found…
    weather: DayWeather
    frost: Group | None  # what guards against the frost told for tonight
    urgent: Group | None  # can't wait, across places
    indoors: Group | None  # on a wet day, what can be done under cover
    views: tuple[Link, ...]  # by place, by urgency
    places: tuple[Group, ...]  # the rest, by place or by urgency
    not_today: tuple[NotToday, ...]
    ahead: tuple[DayAhead, ...]
    done: Group | None  # what was done today, each with its way back
    minutes: str  # what the page asks in all, rounds apart: "4 h 10"
    evening: Link  # What got done
    empty: str = ""  # said instead: "The round, and then nothing that must be done today."


@dataclass(frozen=True, slots=True)
class EveningLine:
    """A job that was likely done: a box to tick, and the one number that it asks for."""

    n: int  # its fields end with it
    key: str
    tick_id: str
    shown: str
    trade: str
    title: str
    sub: str
    ticked: bool = False
    ask: Field | None = None
    href: str = ""


@dataclass(frozen=True, slots=True)
class Evening(Page):
    """`evening.html`: what got done, in one screen."""

    template = "evening.html"

    frame: Frame
    day: str  # "Wednesday 15 September"
    lines: tuple[EveningLine, ...]  # today's likeliest jobs
    more: tuple[EveningLine, ...]  # the others that may have been done
    on: Field
    who: Field | None
    error: str  # a sentence about the form as a whole
    done: tuple[Row, ...]  # what is ticked already today
    numbers: Form  # the numbers on the printed month
    printed: str  # "September 2027": which printed page the numbers are those of
    heard: tuple[Pair, ...] = ()  # after numbers were sent: number and title of each that was ticked
    empty: str = ""
    more_open: bool = False  # something in ``more`` was ticked, or is wrong
