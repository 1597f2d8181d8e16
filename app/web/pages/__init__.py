"""One frozen dataclass per page: all that its template gets, under the name ``page``.

`TEMPLATES` says which template draws which. Routers fill these from what services return, in words made by
`app.web.words` and drawings made by `app.web.drawing` and `app.web.chain`; a template loops, tests and calls filters.
"""

from app.web.pages.house import (
    Add,
    Calendar,
    DateLine,
    Entries,
    EntryForm,
    EntryGroup,
    EntryLine,
    Household,
    NewLink,
    Part,
    Person,
    Preview,
    RoundLine,
    RoundPart,
    RoundSheet,
    Shared,
    Sheet,
    SheetGroup,
    SheetLine,
    SheetStep,
    Start,
    Wrong,
)
from app.web.pages.work import (
    Entry,
    Evening,
    GridDay,
    GridJob,
    GridWeek,
    Job,
    Month,
    MonthGrid,
    NotToday,
    Summary,
    Ticked,
    Today,
)

Page = (
    Month | MonthGrid | Today | Evening | Job | Entry | Entries | Add | EntryForm | Start | Household | Calendar
    | Sheet | RoundSheet | Wrong | Ticked
)  # fmt: skip

TEMPLATES: dict[type, str] = {
    Month: "month.html",
    MonthGrid: "month_grid.html",
    Today: "today.html",
    Evening: "evening.html",
    Job: "job.html",
    Entry: "entry.html",
    Entries: "entries.html",
    Add: "add.html",
    EntryForm: "entry_form.html",
    Start: "start.html",
    Household: "household.html",
    Calendar: "calendar.html",
    Sheet: "sheet.html",
    RoundSheet: "round.html",
    Wrong: "error.html",
    Ticked: "fragments/ticked.html",
}

__all__ = [
    "TEMPLATES",
    "Add",
    "Calendar",
    "DateLine",
    "Entries",
    "Entry",
    "EntryForm",
    "EntryGroup",
    "EntryLine",
    "Evening",
    "GridDay",
    "GridJob",
    "GridWeek",
    "Household",
    "Job",
    "Month",
    "MonthGrid",
    "NewLink",
    "NotToday",
    "Page",
    "Part",
    "Person",
    "Preview",
    "RoundLine",
    "RoundPart",
    "RoundSheet",
    "Shared",
    "Sheet",
    "SheetGroup",
    "SheetLine",
    "SheetStep",
    "Start",
    "Summary",
    "Ticked",
    "Today",
    "Wrong",
]
