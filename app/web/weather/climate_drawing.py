"""The place's year in one picture, and three small ones of this year: curves in, SVG out. Pure; no words but labels.

Days run across as percentages of the width, so one picture serves the laptop, the phone and the printed page; heights
are pixels. Curves lie in panes 1000 wide, stretched to fit. Frost dates are the house's window lines: from the day that
one year in ten has, to the day that nine have, with the diamond on the middle one.
"""

import math
from collections.abc import Callable, Sequence
from datetime import date
from typing import NamedTuple

from markupsafe import Markup

from app.rules.spans import Day
from app.services.weather.climate import Days, Ribbon, SoFar, UsualYear
from app.web import drawing
from app.web.drawing import Stretch
from app.web.words import MONTHS, SP, figure, light

WIDE = 1000
_STEP = 3
"""Smooth curves are drawn through every third day."""


class Pane(NamedTuple):
    """A strip of the picture: where its top lies, how high it is, and the values at its foot and its head."""

    top: int
    height: int
    low: float
    high: float

    def y(self, value: float) -> float:
        """How far below the pane's top a value lies, clipped to the pane."""
        share = (min(self.high, max(self.low, value)) - self.low) / (self.high - self.low)
        return round(self.height * (1 - share), 1)


LIGHT = Pane(32, 66, -12.0, 12.0)
FROST = Pane(336, 44, 0.0, 100.0)
LANE = 396
RAIN_TOP, RAIN_HIGH = 448, 76
HEIGHT = 546


def warmth_pane(usual: UsualYear) -> Pane:
    """The pane of temperatures: whole fives of degrees below and above all that is drawn in it."""
    lows = usual.nights.low if usual.nights else usual.min_c
    highs = usual.daytimes.high if usual.daytimes else usual.max_c
    low, high = 5.0 * math.floor(min(lows) / 5), 5.0 * math.ceil(max(highs) / 5)
    return Pane(112, 206, low, max(high, low + 5.0))


def rain_pane(usual: UsualYear) -> Pane:
    """The pane of rain and of what grass would draw: from 0 to whole twenties of mm."""
    most = max(max(month.rain_mm or 0.0, month.et0_mm) for month in usual.months)
    return Pane(RAIN_TOP, RAIN_HIGH, 0.0, max(20.0, 20.0 * math.ceil(most / 20)))


def along(index: float, days: int) -> float:
    """How far across a pane the middle of a day lies, of so many days, in thousandths."""
    return round((index + 0.5) * WIDE / days, 1)


def _points(values: Sequence[float], pane: Pane, days: int = 0) -> list[str]:
    count = days or len(values)
    at = sorted({*range(0, len(values), _STEP), len(values) - 1})
    return [f"{along(i, count):g} {pane.y(values[i]):g}" for i in at]


def curve(values: Sequence[float], pane: Pane, days: int = 0) -> str:
    """A row of daily values as path data in a pane; ``days`` when the pane has more of them."""
    return "M" + "L".join(_points(values, pane, days))


def between(ribbon: Ribbon, pane: Pane) -> str:
    """The space between two rows of daily values as path data."""
    return f"M{'L'.join([*_points(ribbon.low, pane), *reversed(_points(ribbon.high, pane))])}Z"


def _in_pane(pane: Pane, parts: str) -> str:
    size = f'y="{pane.top}" width="100%" height="{pane.height}" viewBox="0 0 {WIDE} {pane.height}"'
    return f'<svg {size} preserveAspectRatio="none">{parts}</svg>'


def _path(kind: str, data: str) -> str:
    return f'<path class="{kind}" d="{data}"/>'


def _text(x: float, y: float, text: str, kind: str = "", margin: float = 13.0) -> str:
    """A label; nearer an edge than its margin it begins or ends there, so that nothing is cut off on a phone."""
    ends = " s" if x < margin else " e" if x > 100 - margin else ""
    at = 0.0 if x < margin else 100.0 if x > 100 - margin else x
    css = f"{kind}{ends}".strip()
    return f'<text{f" class={chr(34)}{css}{chr(34)}" if css else ""} x="{at:g}%" y="{y:g}">{text}</text>'


def year_picture(usual: UsualYear, today: Day, words: str) -> Markup:
    """The year in one picture: daylight, warmth, frost and rain, one below the other on one scale of days."""
    stretch = Stretch(usual.first, usual.last, today)
    now = drawing.middle(stretch, today)
    parts = [
        _months(stretch),
        _daylight(usual),
        _warmth(usual),
        _frost(usual, stretch),
        _rain(usual, stretch),
        f'<line class="n" x1="{now}%" x2="{now}%" y1="20" y2="{HEIGHT}"/>',
    ]
    return Markup(
        f'<svg class="climate" height="{HEIGHT}" role="img" aria-label="{words}">{"".join(parts)}</svg>'
    )  # fmt: skip


def _starts(stretch: Stretch) -> list[tuple[date, float, float]]:
    """The months of a year: first day, where it begins and where its middle lies, in percent."""
    first = date.fromordinal(stretch.first)
    days = [date(first.year + (first.month + k - 1) // 12, (first.month + k - 1) % 12 + 1, 1) for k in range(13)]
    edges = [drawing.at(stretch, day.toordinal()) for day in days]
    return [
        (day, edge, round((edge + edges[k + 1]) / 2, 2))
        for k, (day, edge) in enumerate(zip(days, edges, strict=True))
        if k < 12
    ]


def _months(stretch: Stretch, top: int = 13, foot: int = HEIGHT) -> str:
    parts = []
    for day, edge, middle in _starts(stretch):
        name = MONTHS[day.month - 1]
        parts.append(f'<text class="mo" x="{middle:g}%" y="{top}">{name[0]}<tspan>{name[1:3]}</tspan></text>')
        if edge > 0:
            parts.append(f'<line class="h" x1="{edge}%" x2="{edge}%" y1="{top + 7}" y2="{foot}"/>')
    return "".join(parts)


def _daylight(usual: UsualYear) -> str:
    halves = [hours / 2 for hours in usual.daylight_hours]
    band = Ribbon(tuple(-half for half in halves), tuple(halves))
    days = len(halves)
    middle = LIGHT.top + LIGHT.height / 2 + 4
    found = [_in_pane(LIGHT, _path("sun", between(band, LIGHT))), _text(0, LIGHT.top + 9, "Daylight", "pane")]
    for at in (middle_of(usual.daylight_hours, max), middle_of(usual.daylight_hours, min)):
        hours = usual.daylight_hours[at]
        said = "midnight sun" if hours >= 24 else "polar night" if hours <= 0 else light(hours)
        found.append(_text(along(at, days) / 10, middle, said))
    return "".join(found)


def middle_of(values: Sequence[float], end: Callable[[Sequence[float]], float]) -> int:
    """The day on which a curve has its highest (or lowest), the middle one where several have."""
    most = end(values)
    found = [index for index, value in enumerate(values) if abs(value - most) < 1e-9]
    return found[len(found) // 2]


def _warmth(usual: UsualYear) -> str:
    pane = warmth_pane(usual)
    days = len(usual.min_c)
    lines = [_path("wn", between(usual.nights, pane))] if usual.nights else []
    lines += [_path("wx", between(usual.daytimes, pane))] if usual.daytimes else []
    lines += [
        _path("soil", curve(usual.soil_c, pane)),
        _path("lo", curve(usual.min_c, pane)),
        _path("hi", curve(usual.max_c, pane)),
    ]
    grid = []
    for value in range(10 * math.ceil(pane.low / 10), int(pane.high) + 1, 10):
        y = pane.top + pane.y(value)
        grid.append(f'<line class="{"z" if value == 0 else "h"}" x2="100%" y1="{y:g}" y2="{y:g}"/>')
        grid.append(_text(100, y - 3, f"{figure(value)}{SP}°C", "tickmark"))
    warmest = max(range(days), key=lambda i: usual.max_c[i])
    coldest = min(range(days), key=lambda i: usual.min_c[i])
    labels = [
        _text(along(at, days) / 10, pane.top + pane.y(value) + by, degrees(value), margin=4)
        for at, value, by in ((warmest, usual.max_c[warmest], -6), (coldest, usual.min_c[coldest], 15))
    ]
    return "".join([*grid, _in_pane(pane, "".join(lines)), *labels, _text(0, pane.top + 9, "Warmth", "pane")])


def degrees(value_c: float) -> str:
    """A temperature to the tenth: "21.4 °C", "−1.3 °C"."""
    return f"{figure(round(value_c, 1), 1)}{SP}°C"


def _frost(usual: UsualYear, stretch: Stretch) -> str:
    ribbon = Ribbon((0.0,) * len(usual.frost_percent), usual.frost_percent)
    y = FROST.top + FROST.height
    parts = [
        _in_pane(FROST, _path("cold", between(ribbon, FROST))),
        f'<line class="h" x2="100%" y1="{y}" y2="{y}"/>',
        _text(0, FROST.top + 1, "Frost" if freezes(usual) else "No frost in nine years of ten", "pane"),
    ]
    parts += [_window(days, stretch, name) for days, name in ((usual.last_frost, "last"), (usual.first_frost, "first"))]
    return "".join(parts)


def freezes(usual: UsualYear) -> bool:
    """Whether there is a frost in more than one year of ten."""
    return usual.last_frost[-1] is not None or usual.first_frost[0] is not None


def _window(days: Days, stretch: Stretch, name: str) -> str:
    """A frost date's window line in its lane, as far as it lies in this year."""
    early, middle, late = days
    # A last frost that does not come in many years has its early end before the year; a first frost its late one after.
    opens = stretch.first - 1 if early is None and name == "last" else early
    closes = stretch.last + 1 if late is None and name == "first" else late
    if opens is None or closes is None or opens > stretch.last or closes < stretch.first:
        return ""
    x1, x2 = drawing.at(stretch, opens), drawing.at(stretch, closes + 1)
    parts = [f'<line x1="{x1}%" x2="{x2}%" y1="{LANE}" y2="{LANE}"/>']
    parts += [f'<use href="#e" x="{x1}%" y="{LANE}"/>'] if drawing.holds(stretch, opens) else []
    parts += [f'<use href="#e" x="{x2}%" y="{LANE}"/>'] if drawing.holds(stretch, closes) else []
    label = ""
    if middle is not None and drawing.holds(stretch, middle):
        x = drawing.middle(stretch, middle)
        parts.append(f'<use href="#d" x="{x}%" y="{LANE}"/>')
        on = date.fromordinal(middle)
        label = _text(x, LANE + 21, f"{name} frost {on.day}{SP}{MONTHS[on.month - 1][:3]}")
    return f'<g class="fr">{"".join(parts)}</g>{label}'


def _rain(usual: UsualYear, stretch: Stretch) -> str:
    pane = rain_pane(usual)
    foot = pane.top + pane.height
    parts, bars, steps = [], [], []
    for (_, edge, middle), month in zip(_starts(stretch), usual.months, strict=True):
        left, right = edge * 10, (2 * middle - edge) * 10
        if month.rain_mm is not None:
            y = pane.y(month.rain_mm)
            bars.append(
                f'<rect x="{left + 8:g}" width="{right - left - 16:g}" y="{y:g}" height="{pane.height - y:g}"/>'
            )
            parts.append(f'<text x="{middle:g}%" y="{foot + 13}">{month.rain_mm:.0f}</text>')
        drawn = f"{pane.y(month.et0_mm):g}"
        steps.append(f"{left:g} {drawn}L{right:g} {drawn}")
    lines = f"{''.join(bars)}{_path('thirst', 'M' + 'L'.join(steps))}"
    known = any(month.rain_mm is not None for month in usual.months)
    title = "Rain, mm" if known else "Rain is not known"
    parts += [_in_pane(pane, lines), f'<line class="h" x2="100%" y1="{foot}" y2="{foot}"/>']
    return "".join([*parts, _text(0, pane.top - 4, title, "pane")])


# ── This year ─────────────────────────────────────────────────────────────────────────────────────────────────────

SMALL = Pane(0, 128, 0.0, 1.0)


def small_pane(so_far: SoFar, *, from_zero: bool) -> Pane:
    """The pane of a small drawing: all that is usual and all that has been fits into it."""
    known = [value for value in so_far.values if value is not None]
    rows = [row for row in so_far.usual if row]
    low = 0.0 if from_zero else min(min(known), *(min(row) for row in rows))
    high = max(max(known), *(max(row) for row in rows))
    return SMALL._replace(low=low, high=high if high > low else low + 1.0)


def so_far_picture(so_far: SoFar, words: str, unit: str = "", *, from_zero: bool) -> Markup:
    """One measure of this year as a line, over what is usual: a shade for eight years in ten, a thin middle line."""
    pane = small_pane(so_far, from_zero=from_zero)
    usual, days = so_far.usual, len(so_far.usual.middle)
    parts = [_path("wn", between(Ribbon(usual.low, usual.high), pane))] if usual.low else []
    parts += [_path("middle", curve(usual.middle, pane)), _path("year", _broken(so_far.values, pane, days))]
    x, y = along(so_far.at, days) / 10, pane.y(so_far.now)
    stretch = Stretch(so_far.first, so_far.first + days - 1)
    marks = "".join(
        f'<text class="mo" x="{middle:g}%" y="{SMALL.height + 14}">{MONTHS[day.month - 1][0]}</text>'
        for day, _, middle in _starts(stretch)
    )
    zero = f'<line class="z" x2="100%" y1="{pane.y(0):g}" y2="{pane.y(0):g}"/>' if pane.low < 0 < pane.high else ""
    foot = f'<line class="h" x2="100%" y1="{SMALL.height}" y2="{SMALL.height}"/>'
    end = f'<circle r="3.5" cx="{x:g}%" cy="{y:g}"/>'
    if from_zero:  # a sum only rises: above and before where it stands there is room
        now = f"{figure(round(so_far.now), 0)}{SP}{unit}".strip()
        end += f'<text class="now {"s" if x < 12 else "e"}" x="{x:g}%" y="{y - 8 if y > 18 else y + 20:g}">{now}</text>'
    else:
        end += "".join(_text(100, pane.y(c) - 3, f"{figure(c)}{SP}{unit}") for c in (0, 10) if pane.low < c < pane.high)
    return Markup(
        f'<svg class="climate small" height="{SMALL.height + 18}" role="img" aria-label="{words}">'
        f"{zero}{_in_pane(pane, ''.join(parts))}{foot}{end}{marks}</svg>"
    )


def _broken(values: Sequence[float | None], pane: Pane, days: int) -> str:
    """A row of days as path data, begun anew after each gap."""
    parts, pen = [], "M"
    for index, value in enumerate(values):
        if value is None:
            pen = "M"
            continue
        parts.append(f"{pen}{along(index, days):g} {pane.y(value):g}")
        pen = "L"
    return "".join(parts)
