"""An entry's chain laid out on one line: which row each step takes, and where its name stands so that none overlap.

Coordinates are in a picture `WIDTH` wide. Names stand to the right of their windows, or to the left where the
right has no room. When the names would need more rows than `MOST_ROWS`, the steps are numbered and the
list below gives the names. Pure; the template draws.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from app.rules.spans import Day
from app.web.words import MONTHS

WIDTH = 1000
MARGIN = 6
MOST_ROWS = 9
ROW_HEIGHT = 24
TOP = 40
LETTER = 7.4  # the mean advance of a 14 px sans of any usual system, rounded up
GAP = 14


class Item(NamedTuple):
    """One job of a chain; jobs with the same ``step`` share a row and are named once."""

    step: str
    title: str
    href: str
    opens: Day
    best: Day
    closes: Day
    done: Day | None = None


@dataclass(frozen=True, slots=True)
class Laid:
    """One step as drawn."""

    label: str  # the step's title, or its number when the chain is numbered
    href: str  # the job's page; that of the next open job for a step with several
    x: float  # where the name stands
    y: float  # the row's middle
    anchor: str  # "start" or "end": the side of the name that stands at x
    past: bool  # all of it is done
    bars: str  # path data: windows with their end marks
    open: str  # path data: diamonds on best days
    filled: str  # path data: diamonds on days done


@dataclass(frozen=True, slots=True)
class AxisMark:
    """A mark along the foot."""

    x: float
    label: str  # "Mar 2027", "Jun"


@dataclass(frozen=True, slots=True)
class Chain:
    """The whole picture."""

    width: int
    height: int
    axis_y: int  # where the foot's line lies
    tick_y: int  # where the marks along it begin
    steps: tuple[Laid, ...]
    marks: tuple[AxisMark, ...]
    today_x: float | None  # None when today is off the picture
    today_anchor: str  # on which side of the dotted line its date stands
    numbered: bool  # names are numbers, and the list below is to be read with it


def lay(items: Sequence[Item], first: Day, last: Day, today: Day) -> Chain:
    """Lay out a chain between ``first`` and ``last``; items wholly outside are left out."""
    scale = _Scale(first, max(last, first + 27))
    groups = _groups([i for i in items if i.closes >= first and i.opens <= last])
    steps, rows = _place(groups, scale, [group[0].title for group in groups])
    numbered = rows > MOST_ROWS
    if numbered:
        steps, rows = _place(groups, scale, [str(n + 1) for n in range(len(groups))])
    axis_y = TOP + rows * ROW_HEIGHT + 8
    inside = first <= today <= last
    now = scale.x(today + 0.5) if inside else None
    side = "end" if now is not None and now > WIDTH - 170 else "start"
    return Chain(WIDTH, axis_y + 30, axis_y, axis_y - 4, tuple(steps), _axis(scale), now, side, numbered)


class _Scale(NamedTuple):
    first: Day
    last: Day

    def x(self, day: float) -> float:
        share = (min(max(day, self.first), self.last + 1) - self.first) / (self.last + 1 - self.first)
        return round(MARGIN + share * (WIDTH - 2 * MARGIN), 1)


def _groups(items: Sequence[Item]) -> list[list[Item]]:
    """Jobs of one step together, steps in the order in which they first open."""
    by_step: dict[str, list[Item]] = {}
    for item in sorted(items, key=lambda i: (i.opens, i.best, i.closes, i.step)):
        by_step.setdefault(item.step, []).append(item)
    return list(by_step.values())


def _place(groups: Sequence[Sequence[Item]], scale: _Scale, names: Sequence[str]) -> tuple[list[Laid], int]:
    """Give each step the first row in which neither its windows nor its name touch another's; also how many rows."""
    taken: list[list[tuple[float, float]]] = []
    steps = []
    for group, name in zip(groups, names, strict=True):
        name = f"{name} ({len(group)})" if len(group) > 1 and not name.isdecimal() else name
        x1, x2 = scale.x(group[0].opens), max(scale.x(i.closes + 1) for i in group)
        x1, x2 = x1 - 6, max(x2, x1 + 8) + 6
        x, anchor, low, high = _beside(x1, x2, len(name) * LETTER)
        row = next((r for r, spans in enumerate(taken) if _free(spans, low, high)), len(taken))
        if row == len(taken):
            taken.append([])
        taken[row].append((low, high))
        steps.append(_draw(group, scale, name, x, anchor, TOP + row * ROW_HEIGHT))
    return steps, len(taken)


def _beside(x1: float, x2: float, width: float) -> tuple[float, str, float, float]:
    """Where a name of ``width`` stands beside a window: x, anchor, and the stretch of row that both take."""
    if x2 + 4 + width <= WIDTH or x1 - 4 - width < 0:
        return round(x2 + 4, 1), "start", x1, x2 + 4 + width
    return round(x1 - 4, 1), "end", x1 - 4 - width, x2


def _free(spans: Sequence[tuple[float, float]], low: float, high: float) -> bool:
    return all(high + GAP <= a or low >= b + GAP for a, b in spans)


def _draw(group: Sequence[Item], scale: _Scale, name: str, x: float, anchor: str, y: int) -> Laid:
    bars: list[str] = []
    open_: list[str] = []
    filled: list[str] = []
    for item in group:
        a, b = scale.x(item.opens), scale.x(item.closes + 1)
        bars.append(f"M{a} {y}H{b}M{a} {y - 5}v10M{b} {y - 5}v10")
        middle = scale.x((item.best if item.done is None else item.done) + 0.5)
        diamond = f"M{middle} {y - 7}l5 7l-5 7l-5-7z"
        (open_ if item.done is None else filled).append(diamond)
    following = next((i for i in group if i.done is None), group[-1])
    past = all(i.done is not None for i in group)
    return Laid(name, following.href, x, y, anchor, past, "".join(bars), "".join(open_), "".join(filled))


def _axis(scale: _Scale) -> tuple[AxisMark, ...]:
    """Months along the foot: every one, or every second, third, sixth or twelfth, so that names have room."""
    start, end = date.fromordinal(scale.first), date.fromordinal(scale.last)
    months = (end.year - start.year) * 12 + end.month - start.month + 1
    step = next((s for s in (1, 2, 3, 6, 12, 24, 60) if months / s <= 11), 120)
    marks, year = [], 0
    for index in range(start.year * 12 + start.month - 1, end.year * 12 + end.month):
        on = date(index // 12, index % 12 + 1, 1)
        if (on.month - 1) % min(step, 12) or (step > 12 and on.year % (step // 12)) or on.toordinal() < scale.first:
            continue
        name = MONTHS[on.month - 1][:3]
        marks.append(AxisMark(scale.x(on.toordinal()), name if on.year == year else f"{name} {on.year}"))
        year = on.year
    return tuple(marks)
