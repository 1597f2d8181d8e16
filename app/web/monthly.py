"""The month page in words and lines: its head, its scale, its filters and its list."""

from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from typing import NamedTuple
from urllib.parse import urlencode

from app.rules.spans import Day
from app.rules.terms import TRADES
from app.services.almanac import Light
from app.services.jobs import Job
from app.services.month import Month
from app.web import drawing, pages, words
from app.web.drawing import Stretch
from app.web.folding import BYS, NAMES, By, Heading, Line, groups, lines, ordered
from app.web.parts import DayMark, Form, Frame, Link, Scale
from app.web.rows import date_of

CLOSE_LINES = 44
"""With more lines than this the printed month is set closer, so that it stays on one side."""

CLOSEST_LINES = 90
"""With more than this the lines are as low as can be read."""


def month_path(on: date) -> str:
    """Where a month is found."""
    return f"/{on.year:04d}/{on.month:02d}"


def beside(first: Day, months: int) -> date:
    """The first day of a month so many months on."""
    on = date_of(first)
    index = on.year * 12 + on.month - 1 + months
    return date(index // 12, index % 12 + 1, 1)


class Ways(NamedTuple):
    """The ways to the month before, the month after, and back to the month it is."""

    last: Link
    next: Link
    this: Link | None


def turn(month: Month, query: str = "") -> Ways:
    """The ways from a month to others, in the same view."""
    last, following = beside(month.first, -1), beside(month.first, 1)
    here = date_of(month.first)
    return Ways(
        Link(words.month(last, here), month_path(last) + query),
        Link(words.month(following, here), month_path(following) + query),
        None if month.now else Link("This month", month_path(date_of(month.today)) + query),
    )


def asked(**options: str) -> str:
    """A query string of what differs from the usual."""
    said = {name: value for name, value in options.items() if value}
    return f"?{urlencode(said)}" if said else ""


def view(trade: str, by: By) -> str:
    """The query string of a trade and a fold."""
    return asked(trade=trade, by="" if by == "crop" else by)


class Listed(NamedTuple):
    """What of a month is shown: its jobs of a trade, in lines, under their headings."""

    jobs: list[Job]
    under: list[tuple[Heading, list[Line]]]

    @property
    def ids(self) -> list[str]:
        """The lines that are numbered, in the order in which they stand on the page."""
        return [one.id for _, here in self.under for one in here]


def listed(month: Month, trade: str, by: By) -> Listed:
    """The month's jobs as they will stand."""
    jobs = [job for job in month.jobs if not trade or job.row.trade == trade]
    name = words.MONTHS[date_of(month.first).month - 1]
    return Listed(jobs, ordered(lines(jobs, by), stretch_of(month), month.today, name))


def month_page(
    frame: Frame, month: Month, shown: Listed, trade: str, by: By, numbers: Mapping[str, int], to_come: bool
) -> pages.Month:
    """The month as a list; ``to_come`` is one that may still be numbered, and printed."""
    on = date_of(month.first)
    stretch = stretch_of(month)
    found = [one for _, here in shown.under for one in here]
    settled = [job for job in shown.jobs if not job.open]
    ways = turn(month, view(trade, by))
    name = words.MONTHS[on.month - 1]
    open_count = sum(len(one.jobs) for one in found)
    return pages.Month(
        frame=frame,
        year=str(on.year),
        name=name,
        last=ways.last,
        next=ways.next,
        this=ways.this,
        summary=summary(month),
        scale=scale(stretch, month.light),
        groups=groups(shown.under, settled, stretch, month.today, by, numbers),
        trades=trade_links(month, trade, by),
        folds=tuple(Link(NAMES[each], month_path(on) + view(trade, each), each == by) for each in BYS),
        views=(
            Link("List", month_path(on) + asked(trade=trade), True),
            Link("Grid", month_path(on) + asked(trade=trade, **{"as": "grid"})),
        ),
        count=f"{words.counted(open_count, 'job')} in {words.counted(len(found), 'row')}",
        paper="close" if len(found) > CLOSEST_LINES else "close tall" if len(found) > CLOSE_LINES else "roomy",
        empty=f"Nothing is asked of you in {name}.",
        evening=Link("What got done", f"/evening?month={on:%Y-%m}"),
        number=Form(f"{month_path(on)}/numbers{view(trade, by)}", "Number the rows, to print", quiet=True)
        if to_come and any(one.id not in numbers for one in found)
        else None,
        unnumbered="Without numbers: press “Number the rows, to print” before the page is printed."
        if to_come and not numbers
        else "",
    )


def stretch_of(month: Month) -> Stretch:
    """The scale of a month's windows."""
    return Stretch(month.first, month.last, month.today if month.now else None)


def trade_links(month: Month, trade: str, by: By, view: str = "") -> tuple[Link, ...]:
    """The filter by trade, with how many open jobs each has."""
    counts: dict[str, int] = {}
    for job in month.jobs:
        if job.open:
            counts[job.row.trade] = counts.get(job.row.trade, 0) + 1
    base = month_path(date_of(month.first))
    fold = "" if by == "crop" else by
    every = Link("All", base + asked(by=fold, **{"as": view}), not trade, str(sum(counts.values())))
    some = tuple(
        Link(
            words.trade(each),
            base + asked(trade=each, by=fold, **{"as": view}),
            each == trade,
            str(counts.get(each, 0)),
            each,
        )
        for each in TRADES
        if each in counts or each == trade
    )
    return (every, *some)


def summary(month: Month) -> pages.Summary:
    """The head of the month."""
    on, last = date_of(month.first), date_of(month.last)
    light = month.light
    over = month.wanted_min - month.given_min
    frost_label, frost = frost_words(light, last)
    left = " left" if month.now else ""
    out = words.counted(month.out_of_time, "job")
    return pages.Summary(
        wanted=words.hours(month.wanted_min),
        given=f"{words.hours(month.given_min)}{left} to give after the rounds",
        hours=drawing.against(month.wanted_min, month.given_min),
        out_of_time=out,
        out_of_time_rest=f", {words.count(month.out_of_time_this_week)} this week"
        if month.out_of_time_this_week
        else "",
        carried=words.counted(month.carried, "job") if month.carried else "none",
        carried_from=f"carried from {words.MONTHS[on.month - 2]}" if month.now else "carried from before",
        daylight=f"{words.light(light.daylight_hours[0])} → {words.light(light.daylight_hours[-1])}",
        frost=frost,
        frost_label=frost_label,
        unfit=f"It does not all fit: {words.hours(over)} too much." if over >= 30 and month.given_min else "",
        unfit_link=None,
    )


def frost_words(light: Light, last: date) -> tuple[str, str]:
    """What is said of frost: its label and its figure."""
    frost = light.frost
    if frost is None:
        return "frost", ""
    by = f"by the {words.ordinal(last.day)}"
    if frost.kind == "nights":
        return "frost", f"about {words.counted(round(frost.chance), 'night')}"
    years = _years(frost.chance)
    return f"{frost.kind} frost", f"{years} {by}" if frost.kind == "first" else f"over in {years} {by}"


def _years(percent: float) -> str:
    if percent == 5:
        return "1 year in 20"
    if percent == 95:
        return "19 years in 20"
    tenths = round(percent / 10)
    return f"{tenths} year{'s' if tenths > 1 else ''} in 10"


@lru_cache(maxsize=64)
def scale(stretch: Stretch, light: Light | None) -> Scale:
    """The head of the column of windows."""
    marks = []
    for day in range(stretch.first, stretch.last + 1):
        on = date_of(day)
        marks.append(
            DayMark(on.day, drawing.middle(stretch, day), on.weekday() > 4, day == stretch.today, on.day % 7 == 1)
        )
    if light is None:
        return Scale(tuple(marks), words="The days around its window.")
    pane = drawing.pane(light.daylight_hours, light.frost_percent)
    first, last = light.daylight_hours[0], light.daylight_hours[-1]
    way = "falls" if last < first else "grows"
    said = f"Daylight {way} from {words.light(first)} to {words.light(last)}."
    label, frost = frost_words(light, date_of(stretch.last))
    if frost:
        said += f" {label.capitalize()}: {frost}."
    return Scale(tuple(marks), pane.daylight, pane.frost, said)
