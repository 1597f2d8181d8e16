"""Pictures of upkeep: a building's elements over the years, what each year asks, fit days by month."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from markupsafe import Markup, escape

from app.rules.spans import Day
from app.web.drawing import Stretch, at, middle

LANE = 34
MONTH_LETTERS = "JFMAMJJASOND"


class Drawn(NamedTuple):
    """A window in a picture of years: it opens, is best, closes."""

    opens: Day
    best: Day
    closes: Day


class Lane(NamedTuple):
    """An element's line."""

    name: str
    windows: tuple[Drawn, ...]


def years_scale(first: Day, last: Day, today: Day) -> Stretch:
    """Whole years, from the first of January of the first."""
    start, end = date.fromordinal(first), date.fromordinal(last)
    return Stretch(date(start.year, 1, 1).toordinal(), date(end.year, 12, 31).toordinal(), today)


def year_marks(stretch: Stretch, every: int = 3) -> tuple[tuple[float, str], ...]:
    """Where years begin, by name."""
    first, last = date.fromordinal(stretch.first).year, date.fromordinal(stretch.last).year
    marks = ((at(stretch, date(year, 1, 1).toordinal()), str(year)) for year in range(first, last + 1, every))
    return tuple((x, name) for x, name in marks if x < 95)


def building(stretch: Stretch, lanes: Sequence[Lane], words: str) -> Markup:
    """One line for each element: its name, its windows as lines with a diamond on the best day."""
    height = LANE * max(1, len(lanes))
    x = middle(stretch, stretch.today or stretch.first)
    parts = [f'<line class="n" x1="{x}%" x2="{x}%" y1="0" y2="{height}"/>']
    parts += [_lane(stretch, lane, n * LANE) for n, lane in enumerate(lanes)]
    return Markup(
        f'<svg class="bedyear years" height="{height}" role="img" aria-label="{escape(words)}">{"".join(parts)}</svg>'
    )


def _lane(stretch: Stretch, lane: Lane, top: int) -> str:
    y = top + 22
    parts = [f'<line class="free" x1="0%" x2="100%" y1="{y}" y2="{y}"/>']
    for one in lane.windows:
        if one.best > stretch.last or one.closes < stretch.first:
            continue
        parts.append(f'<line x1="{at(stretch, one.opens)}%" x2="{at(stretch, one.closes + 1)}%" y1="{y}" y2="{y}"/>')
        parts.append(f'<use href="#d" x="{middle(stretch, max(one.best, stretch.first))}%" y="{y}"/>')
    parts.append(f'<text x="0%" y="{top + 12}">{escape(lane.name)}</text>')
    return "".join(parts)


class YearBar(NamedTuple):
    """A year's hours: those of every year, and those of what comes seldom."""

    year: int
    hours: float
    big_hours: float


def hours_by_year(years: Sequence[YearBar], words: str) -> Markup:
    """A column a year: what comes every year below, what comes seldom above it."""
    most = max([one.hours for one in years], default=1.0) or 1.0
    step = 100 / max(1, len(years))
    parts = []
    for n, one in enumerate(years):
        x, width = round(n * step + 0.12 * step, 2), round(0.76 * step, 2)
        often = max(0.0, one.hours - one.big_hours)
        low, high = 118 * often / most, 118 * one.big_hours / most
        parts.append(f'<rect x="{x}%" width="{width}%" y="{140 - low:.1f}" height="{low:.1f}"/>')
        parts.append(f'<rect class="big" x="{x}%" width="{width}%" y="{140 - low - high:.1f}" height="{high:.1f}"/>')
        label = str(one.year) if n % 3 == 0 else f"’{one.year % 100:02d}"
        css = "" if n % 3 == 0 else ' class="odd"'
        parts.append(f'<text{css} x="{x + width / 2:.2f}%" y="156">{label}</text>')
        parts.append(f'<text class="top" x="{x + width / 2:.2f}%" y="{136 - low - high:.1f}">{one.hours:.0f}</text>')
    return Markup(
        f'<svg class="hoursyears" height="162" role="img" aria-label="{escape(words)}">{"".join(parts)}'
        '<line x1="0%" x2="100%" y1="140" y2="140"/></svg>'
    )


def fit_by_month(days: Sequence[float], words: str) -> Markup:
    """A column a month: the days on which it can be expected to be fit."""
    most = max([*days, 10.0])
    step = 100 / 12
    parts = []
    for n, value in enumerate(days):
        x, width, high = round(n * step + 0.12 * step, 2), round(0.76 * step, 2), 84 * value / most
        parts.append(f'<rect x="{x}%" width="{width}%" y="{104 - high:.1f}" height="{high:.1f}"/>')
        parts.append(f'<text x="{x + width / 2:.2f}%" y="120">{MONTH_LETTERS[n]}</text>')
        parts.append(f'<text class="top" x="{x + width / 2:.2f}%" y="{100 - high:.1f}">{value:.0f}</text>')
    return Markup(
        f'<svg class="hoursyears" height="126" role="img" aria-label="{escape(words)}">{"".join(parts)}'
        '<line x1="0%" x2="100%" y1="104" y2="104"/></svg>'
    )


def window_bar(share: float) -> Markup:
    """A year's hours against those of the heaviest year, as a line."""
    return Markup(f'<svg class="w" aria-hidden="true"><line x1="0%" x2="{100 * share:.1f}%" y1="50%" y2="50%"/></svg>')
