"""Taking in a record as pages: choosing a file, and what was understood of it."""

from collections.abc import Mapping, Sequence
from datetime import date

from app.services.weather.files import RAINS, ROLES, TEMPERATURES, Columns, How, Looked, Readings, Taken
from app.services.weather.weather import OnRecord, Reading
from app.web import pages
from app.web.parts import Choice, Field, Form, Frame, Pair, Status, Undoing
from app.web.typed import Typed
from app.web.weather.record_words import gaps, has_words, read_words, rows_words, shape_words, taken_words
from app.web.weather.typed import Scale, told
from app.web.words import counted, day

HERE = "/weather/record"
NONE = "none"
FIRST_ROWS, MOST_LEFT, LONG = 6, 20, 400
LABELS = {
    "date": "The day", "year": "Year", "month": "Month", "day": "Day of the month", "min": "Lowest temperature",
    "max": "Highest temperature", "rain": "Rain",
}  # fmt: skip
TEMPERATURE_CHOICES = tuple(
    Choice(unit, name) for unit, name in zip(TEMPERATURES, ("°C", "°F", "tenths of °C"), strict=True)
)
RAIN_CHOICES = tuple(Choice(unit, name) for unit, name in zip(RAINS, ("mm", "inches", "tenths of mm"), strict=True))
ORDER_CHOICES = (
    Choice("dmy", "Day, month, year"), Choice("mdy", "Month, day, year"), Choice("ymd", "Year, month, day")
)  # fmt: skip


def record_page(
    frame: Frame, record: OnRecord, today: date, text: str = "", error: str = "", pasted: bool = False
) -> pages.WeatherRecord:
    """The first step."""
    paste = Field(
        "text", "Or paste it here", "lines", text, error=error if pasted else "",
        help="Straight out of a spreadsheet will do, with its heads.",
    )  # fmt: skip
    return pages.WeatherRecord(
        frame=frame,
        form=Form(HERE, "Look at it", (paste,)),
        file_error="" if pasted else error,
        has=has_words(record),
        files=tuple(
            Undoing(
                f"{one.name}: {counted(one.days, 'day')}",
                f"taken in on {day(one.taken, today)}"
                + (f", {counted(one.left_out, 'row')} left out" if one.left_out else ""),
                Form(f"{HERE}/out", "Take out again", hidden=(Pair("file", str(one.id)),), quiet=True),
            )
            for one in record.files
        ),
    )


def taken_status(taken: Taken) -> Status:
    """What came of a file, and the way to take it out again."""
    undo = Form(f"{HERE}/out", "Take it out again", hidden=(Pair("file", str(taken.file)),), quiet=True)
    return Status(taken_words(taken), undo)


# ── The second step ───────────────────────────────────────────────────────────────────────────────────────────────


def read_how(typed: Typed, wide: int) -> How:
    """How a file is to be read, as the second step says; what it does not say is left to be recognised."""

    def column(role: str) -> int | None:
        text = typed.raw(f"c_{role}")
        return int(text) if text.isdecimal() and len(text) < 4 and int(text) < wide else None

    columns = Columns(*(column(role) for role in ROLES))
    if columns.date is not None:
        columns = columns._replace(year=None, month=None, day=None)
    if ",".join(str(one) for one in columns) != typed.raw("seen") and typed.raw("seen"):
        return How(columns)  # other columns: their units and dates are to be recognised anew
    return How(
        columns,
        _known(typed.raw("temperature"), TEMPERATURES),
        _known(typed.raw("rain"), RAINS),
        _known(typed.raw("order"), ("dmy", "mdy", "ymd")),
    )


def _known(text: str, options: Sequence[str]) -> str:
    return text if text in options else ""


def seen(columns: Columns) -> str:
    """The columns as they were shown, so that others can be told from them."""
    return ",".join(str(one) for one in columns)


def file_page(
    frame: Frame, word: str, looked: Looked, in_: Scale, error: str = "", over: bool = False
) -> pages.WeatherFile:
    """What was understood of a file."""
    here = f"{HERE}/{word}"
    found, doubts = looked.found, looked.found.doubts
    table, read = looked.table, looked.read
    heads, rows, note = _rows(looked, in_)
    return pages.WeatherFile(
        frame=frame,
        name=looked.name,
        lead=rows_words(table.heads, len(table.rows)),
        says=(*(read_words(read) if read else ()), *(gaps(read) if read else ()), *shape_words(looked)),
        trouble=error or ("Something must be said first." if doubts else ""),
        look=here,
        take=_take(here, looked),
        progress=read is not None and len(table.rows) >= LONG and not doubts,
        columns=_columns(looked),
        units=_units(found.how, doubts),
        over=Field("over", "Where a day is on record with other figures, let this file count", "tick",
                   "yes" if over else "", help="Those figures are then gone, also if the file is taken out again."),
        heads=heads,
        rows=rows,
        rows_note=note,
        left_heading=f"{counted(len(read.unread), 'row is', 'rows are').capitalize()} left out"
        if read and read.unread else "",
        left=tuple(Pair(f"Line {one.line}: {one.what}", one.why) for one in read.unread[:MOST_LEFT]) if read else (),
        left_more=_more(read),
        throw=Form(f"{here}/away", "Put it away, and keep nothing", quiet=True),
    )  # fmt: skip


def _more(read: Readings | None) -> str:
    more = len(read.unread) - MOST_LEFT if read else 0
    return f"And {counted(more, 'more row', 'more rows')}." if more > 0 else ""


def _take(here: str, looked: Looked) -> Form:
    hidden = (Pair("seen", seen(looked.found.how.columns)),)
    if looked.months:
        whole = len(looked.months) == 12
        button = "Reckon from its monthly means" if whole else "Look again"
        return Form(here, button, hidden=hidden, quiet=not whole)
    if looked.read and looked.read.days:
        return Form(here, "Take it in", hidden=hidden, note="It can be taken out again, whole.")
    return Form(here, "Take it in", hidden=hidden, quiet=True)


def _columns(looked: Looked) -> tuple[Field, ...]:
    """A list for each part; year, month and day only where there is no column for the whole date."""
    how, doubts = looked.found.how, looked.found.doubts
    choices = (Choice(NONE, "no such column"), *(Choice(str(n), head) for n, head in enumerate(looked.table.heads)))
    apart = how.columns.year is not None or how.columns.date is None
    roles = [role for role in ROLES if apart or role not in ("year", "month", "day")]
    fields = []
    for role in roles:
        at = getattr(how.columns, role)
        chosen = NONE if at is None else str(at)
        fields.append(
            Field(
                f"c_{role}",
                LABELS[role],
                "list",
                chosen,
                choices=choices,
                error="" if role == "rain" else doubts.get(role, ""),
            )
        )
    return tuple(fields)


def _units(how: How, doubts: Mapping[str, str]) -> tuple[Field, ...]:
    fields = []
    if how.columns.min is not None or how.columns.max is not None:
        fields.append(
            Field(
                "temperature",
                "Temperatures are in",
                "choice",
                how.temperature,
                choices=TEMPERATURE_CHOICES,
                error=doubts.get("temperature", ""),
            )
        )
    if how.columns.rain is not None:
        fields.append(
            Field("rain", "Rain is in", "choice", how.rain, choices=RAIN_CHOICES, error=doubts.get("rain", ""))
        )
    if how.columns.date is not None:
        fields.append(
            Field(
                "order", "Dates are written", "choice", how.order, choices=ORDER_CHOICES, error=doubts.get("order", "")
            )
        )
    return tuple(fields)  # fmt: skip


def _rows(looked: Looked, in_: Scale) -> tuple[tuple[str, ...], tuple[pages.Column, ...], str]:
    """The first rows: the days as they would be taken in, else the cells as they stand."""
    read = looked.read
    if read and read.days:
        rows = [pages.Column(f"{one.day}", (told(Reading(*one[1:]), in_),)) for one in read.days[:FIRST_ROWS]]
        return ("day", "read as"), tuple(rows), "As they would be taken in."
    if looked.months:
        rows = [
            pages.Column(
                date(2001, one.month, 1).strftime("%B"),
                (told(Reading(one.min_c, one.max_c, one.rain_mm), in_), counted(one.years, "year")),
            )
            for one in looked.months
        ]
        return ("month", "mean", "over"), tuple(rows), ""
    heads = looked.table.heads[:12]
    raw = [
        pages.Column(str(row.number), tuple(cell.strip()[:24] for cell in row.cells[:12]))
        for row in looked.table.rows[:FIRST_ROWS]
    ]
    return ("line", *heads), tuple(raw), "As they stand in the file."
