"""A cure drawn: salt by depth, and weight by day. Numbers in, SVG out; pure, and no words but labels.

Curves lie in a pane 1000 wide, stretched to fit, so one picture serves the laptop, the phone and the printed page;
heights are pixels, labels stand in percent.
"""

import math
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from markupsafe import Markup

from app.rules.spans import Day
from app.services.meat.cure import Depth, Salted
from app.services.meat.cure_weights import Weights
from app.web.words import SP, figure, short

WIDE, HIGH = 1000, 150
_TOP, _FOOT = 16, 26
_MOST_LABELS = 5


class _Scale(NamedTuple):
    """From values to the pane: across from ``left`` to ``right``, up from ``low`` to ``high``."""

    left: float
    right: float
    low: float
    high: float

    def x(self, value: float) -> float:
        return round(WIDE * (value - self.left) / (self.right - self.left), 1)

    def y(self, value: float) -> float:
        return round(HIGH * (1 - (value - self.low) / (self.high - self.low)), 1)

    def at(self, x: float, y: float) -> str:
        return f"{self.x(x):g} {self.y(y):g}"


def depth_picture(depths: Sequence[Depth], thickness_mm: float, even_percent: float, ends: str, words: str) -> Markup:
    """Salt from one face to the other on each day, the first dashed, a shade from slow to quick; ``ends`` names both
    sides, "face, skin"."""
    most = max(one.percent for depth in depths for one in (*depth.usual, *depth.slow, *depth.quick))
    scale = _Scale(0, thickness_mm, 0, max(1.0, math.ceil(2 * most) / 2))
    shades = "".join(_path(f"shade d{n}", _band(depth, scale)) for n, depth in enumerate(depths))
    lines = "".join(_path(f"salt d{n}", _line(depth.usual, scale)) for n, depth in enumerate(depths))
    even = _path("even", f"M0 {scale.y(even_percent):g}H{WIDE}")
    levels = _steps(scale.low, scale.high)
    grid = "".join(_level(scale, value) for value in levels)
    named = "".join(_label(scale, value) for value in levels)
    first, _, last = ends.partition(", ")
    marks = [(0.0, first), (50.0, f"{figure(thickness_mm / 2, 0)}{SP}mm deep"), (100.0, last)]
    return _svg(grid, shades + even + lines, named + "".join(_foot(x, text) for x, text in marks), words)


def weight_picture(weights: Weights, today: Day, words: str) -> Markup:
    """Each weighing as a point, the weight wanted as a dashed line, a diamond on the day it should be there."""
    days = [one.on for one in weights.weighed]
    last = max([*days, *([weights.expected] if weights.expected is not None else []), days[0] + 7])
    kilos = [one.kg for one in weights.weighed] + ([weights.target_kg] if weights.target_kg is not None else [])
    room = max(0.04 * max(kilos), 0.1 * (max(kilos) - min(kilos)))
    scale = _Scale(days[0], last, min(kilos) - room, max(kilos) + room)
    points = [(one.on, one.kg) for one in weights.weighed]
    inner = _path("weight", "M" + "L".join(scale.at(*point) for point in points))
    over = [_dot(scale, on, kg) for on, kg in points]
    over += [_weight(scale, *point) for point in (points[0], points[-1])]
    if weights.target_kg is not None:
        y = scale.y(weights.target_kg)
        inner += _path("target", f"M0 {y:g}H{WIDE}")
        label = f"{figure(weights.target_kg)}{SP}kg"
        over.append(f'<text class="s" x="0" y="{_TOP + y - 5:g}">{label}</text>')
        if weights.expected is not None:
            inner += _path("hope", f"M{scale.at(*points[-1])}L{scale.at(weights.expected, weights.target_kg)}")
            over.append(f'<use href="#d" x="{scale.x(weights.expected) / 10:g}%" y="{_TOP + y:g}"/>')
    if days[0] <= today <= last:
        x = scale.x(today) / 10
        over.append(f'<line class="n" x1="{x:g}%" x2="{x:g}%" y1="{_TOP}" y2="{_TOP + HIGH}"/>')
    over += [_foot(scale.x(on) / 10, short(date.fromordinal(on), date.fromordinal(today))) for on in _days(scale)]
    return _svg("", inner, "".join(over), words)


def _svg(under: str, inner: str, over: str, words: str) -> Markup:
    size = f'y="{_TOP}" width="100%" height="{HIGH}" viewBox="0 0 {WIDE} {HIGH}"'
    foot = f'<line class="foot" x2="100%" y1="{_TOP + HIGH}" y2="{_TOP + HIGH}"/>'
    pane = f'<svg {size} preserveAspectRatio="none">{inner}</svg>'
    label = Markup.escape(words)
    height = _TOP + HIGH + _FOOT
    return Markup(
        f'<svg class="curve" height="{height}" role="img" aria-label="{label}">{under}{pane}{foot}{over}</svg>'
    )


def _path(kind: str, data: str) -> str:
    return f'<path class="{kind}" d="{data}"/>'


def _line(curve: Sequence[Salted], scale: _Scale) -> str:
    return "M" + "L".join(scale.at(one.mm, one.percent) for one in curve)


def _band(depth: Depth, scale: _Scale) -> str:
    there = [scale.at(one.mm, one.percent) for one in depth.slow]
    back = [scale.at(one.mm, one.percent) for one in reversed(depth.quick)]
    return f"M{'L'.join([*there, *back])}Z"


def _level(scale: _Scale, value: float) -> str:
    y = _TOP + scale.y(value)
    return f'<line class="h" x2="100%" y1="{y:g}" y2="{y:g}"/>'


def _label(scale: _Scale, value: float) -> str:
    return f'<text class="e" x="100%" y="{_TOP + scale.y(value) - 3:g}">{figure(value)}{SP}%</text>'


def _weight(scale: _Scale, on: Day, kg: float) -> str:
    """The weight above its point."""
    x = scale.x(on) / 10
    css = "s" if x < 6 else "e" if x > 94 else "m"
    return f'<text class="{css}" x="{x:g}%" y="{_TOP + scale.y(kg) - 8:g}">{figure(kg)}{SP}kg</text>'


def _foot(x: float, text: str) -> str:
    css = "s" if x < 6 else "e" if x > 94 else "m"
    return f'<text class="{css}" x="{x:g}%" y="{_TOP + HIGH + 17}">{text}</text>'


def _dot(scale: _Scale, on: Day, kg: float) -> str:
    return f'<circle r="4" cx="{scale.x(on) / 10:g}%" cy="{_TOP + scale.y(kg):g}"/>'


def _steps(low: float, high: float) -> list[float]:
    step = 1 if high <= 4 else 2 if high <= 8 else 5
    return [float(value) for value in range(math.ceil(low) + step, int(high) + 1, step)]


def _days(scale: _Scale) -> list[Day]:
    """The days named along the foot: the first, and so many weeks apart that few stand there."""
    first, last = int(scale.left), int(scale.right)
    step = next((7 * n for n in (1, 2, 4, 8, 16) if (last - first) / (7 * n) < _MOST_LABELS), 7 * 32)
    return list(range(first, last + 1, step))
