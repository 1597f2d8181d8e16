"""Pages on which the weather is taken down: a file of it, a day's reading, twelve monthly means."""

from dataclasses import dataclass

from app.web.pages.page import Page
from app.web.parts import Field, Form, Frame, Link, Pair, Undoing


@dataclass(frozen=True, slots=True)
class WeatherRecord(Page):
    """`weather_record.html`: choose a file or paste it, and what is on record already."""

    template = "weather_record.html"

    frame: Frame
    form: Form  # its field is the pasted text; the file stands above it
    file_error: str
    has: tuple[str, ...]  # what is on record, in sentences
    files: tuple[Undoing, ...]  # each with the way to take it out again


@dataclass(frozen=True, slots=True)
class Column:
    """A row of a small table: cells as they stand."""

    head: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WeatherFile(Page):
    """`weather_file.html`: a file as it was recognised, before any of it is taken in."""

    template = "weather_file.html"

    frame: Frame
    name: str
    lead: str  # "10 957 rows"
    says: tuple[str, ...]  # what was recognised, what is missing, what that is worth
    trouble: str  # a sentence above the form when something must be answered first
    look: str  # the address that shows it again with what was chosen
    take: Form  # taking it in, or its months; "" as its action while that can't be done yet
    progress: bool  # whether it is long enough for its progress to be shown
    columns: tuple[Field, ...]
    units: tuple[Field, ...]
    over: Field
    heads: tuple[str, ...]
    rows: tuple[Column, ...]  # the first rows, as they would be taken in or as they stand
    rows_note: str
    left_heading: str  # "12 rows are left out"
    left: tuple[Pair, ...]  # "Line 14: 2021-03-01: 60 °C", and why
    left_more: str
    throw: Form


@dataclass(frozen=True, slots=True)
class WeatherTaking(Page):
    """`fragments/taking.html`: how far a file is taken in, asked for again and again by a script."""

    template = "fragments/taking.html"

    words: str
    done: int
    of: int
    again: str  # the address to ask; "" when it is over
    error: str = ""
    back: Link | None = None


@dataclass(frozen=True, slots=True)
class DayLine:
    """A day in the list of the last days."""

    name: str  # "Tuesday 9 March"
    href: str
    reads: str  # "−1.5 to 8 °C, 0.4 mm"; "" for a gap
    here: bool = False


@dataclass(frozen=True, slots=True)
class WeatherReading(Page):
    """`weather_reading.html`: a day's lowest, highest and rain, on the phone."""

    template = "weather_reading.html"

    frame: Frame
    day: str  # "today, 10 March"
    days: tuple[Link, ...]  # today and yesterday
    form: Form
    lines: tuple[DayLine, ...]
    other: Form
    gaps: str  # "Two of the last seven days are not read."


@dataclass(frozen=True, slots=True)
class MonthTyped:
    """A month's three boxes, with what is wrong with any of them."""

    name: str
    fields: tuple[Field, ...]
    error: str


@dataclass(frozen=True, slots=True)
class WeatherMonths(Page):
    """`weather_months.html`: twelve monthly means."""

    template = "weather_months.html"

    frame: Frame
    lead: str
    form: Form
    units: tuple[str, str]  # temperature and rain
    months: tuple[MonthTyped, ...]
    sure: Field | None
    other: Form | None  # reckon from a place that comes with the program instead
