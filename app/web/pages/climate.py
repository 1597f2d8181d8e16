"""Our weather: the place's year in one picture, and this year against it."""

from dataclasses import dataclass

from markupsafe import Markup

from app.web.pages.page import Page
from app.web.parts import Frame, Link, Moved, Pair


@dataclass(frozen=True, slots=True)
class Cell:
    """A figure of the months' table with what it is called on the phone."""

    text: str
    dull: bool = False  # nothing to speak of: drawn softly


@dataclass(frozen=True, slots=True)
class MonthLine:
    """A month in figures."""

    name: str  # "January"
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure of this year against what is usual."""

    heading: str  # "Warmth"
    picture: Markup
    says: str  # "Warmth is nine days ahead of an ordinary year."
    detail: str  # the figures behind it


@dataclass(frozen=True, slots=True)
class Weather(Page):
    """`weather.html`: the place's year as it usually is, this year so far, and the dates that it has moved."""

    template = "weather.html"

    frame: Frame
    lead: str  # "54.2° north, 250 m above the sea"
    rests: str  # on what it rests, and that it is no forecast
    links: tuple[Link, ...]  # type a reading, take in a record, ...
    picture: Markup
    key: tuple[tuple[str, str], ...]  # a line's kind ("hi", "lo", "soil", ...) and what it means
    says: tuple[Pair, ...]  # frost, light, water and chill in sentences
    columns: tuple[tuple[str, str], ...]  # the table's heads: name and unit
    months: tuple[MonthLine, ...]
    year: MonthLine  # the table's foot: sums over the year
    cautions: tuple[str, ...]
    year_heading: str  # "2027 so far"
    measures: tuple[Measure, ...]
    invite: str  # what to do while nothing of this year is known
    moved: tuple[Moved, ...]
    moved_none: str  # a sentence where none has moved
    moved_more: str  # "and four more"
