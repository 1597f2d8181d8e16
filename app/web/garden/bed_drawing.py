"""A bed's year as lines of what stands in it, and a crop's water as a curve; every picture says itself in words."""

from collections.abc import Sequence
from typing import NamedTuple

from markupsafe import Markup, escape

from app.rules.spans import Day
from app.web.drawing import Stretch, at, holds, middle

_LANE = 26
_LETTER = 1.95
"""A letter's width in percent of the narrowest picture, a phone's."""


class Item(NamedTuple):
    """Something that stands from a day to a day (None: for good); planned ones are drawn with dashes."""

    name: str
    first: Day
    last: Day | None
    planned: bool


class _Drawn(NamedTuple):
    item: Item
    x1: float
    x2: float
    text_x: float
    anchor: str
    low: float
    high: float


def year(stretch: Stretch, items: Sequence[Item], words: str) -> Markup:
    """Lines of what stands in a bed, one beneath the other where they or their names would meet."""
    drawn = [_drawn(stretch, item) for item in items if _shows(stretch, item)]
    lanes: list[list[_Drawn]] = []
    for one in sorted(drawn, key=lambda one: (one.low, one.x1)):
        free = next((lane for lane in lanes if all(one.low >= other.high for other in lane)), None)
        if free is None:
            lanes.append([one])
        else:
            free.append(one)
    height = max(1, len(lanes)) * _LANE
    parts = [_lane(stretch, lane, n * _LANE) for n, lane in enumerate(lanes)]
    if not lanes:
        parts.append(f'<line class="free" x1="0%" x2="100%" y1="{_LANE / 2}" y2="{_LANE / 2}"/>')
    if holds(stretch, stretch.today):
        x = middle(stretch, stretch.today or 0)
        parts.append(f'<line class="n" x1="{x}%" x2="{x}%" y1="0" y2="{height}"/>')
    return Markup(
        f'<svg class="bedyear" height="{height}" role="img" aria-label="{escape(words)}">{"".join(parts)}</svg>'
    )


def _shows(stretch: Stretch, item: Item) -> bool:
    return item.first <= stretch.last and (item.last is None or item.last >= stretch.first)


def _drawn(stretch: Stretch, item: Item) -> _Drawn:
    x1 = at(stretch, item.first)
    x2 = at(stretch, item.last + 1) if item.last is not None else 100.0
    width = _LETTER * len(item.name) + 2
    if x1 + width <= 100:
        return _Drawn(item, x1, x2, x1, "start", x1, max(x2, x1 + width))
    return _Drawn(item, x1, x2, x2, "end", min(x1, x2 - width), x2)


def _lane(stretch: Stretch, lane: Sequence[_Drawn], top: float) -> str:
    parts = []
    y = top + 19
    for one in lane:
        css = ' class="b"' if one.item.planned else ""
        parts.append(f'<line{css} x1="{one.x1}%" x2="{one.x2}%" y1="{y}" y2="{y}"/>')
        ends = [one.x1] if holds(stretch, one.item.first) else []
        ends += [one.x2] if one.item.last is not None and holds(stretch, one.item.last) else []
        parts += [f'<use href="#e" x="{x}%" y="{y}"/>' for x in ends]
        parts.append(
            f'<text x="{one.text_x}%" y="{top + 11}" text-anchor="{one.anchor}">{escape(one.item.name)}</text>'
        )
    return "".join(parts)


class Owed(NamedTuple):
    """A day of a crop's water: what is owed, what is easily drawn, and what came."""

    owed_mm: float
    ready_mm: float
    rain_mm: float
    watered_mm: float


def water(days: Sequence[Owed], words: str) -> Markup:
    """What is owed to the soil, the line beyond which it should be watered, and rain and watering from above.

    The pane is 100 by 100, stretched to fit; more owed lies lower, as it does in the ground.
    """
    if not days:
        return Markup("")
    most = max(1.0, *(max(one.owed_mm, one.ready_mm) for one in days)) * 1.08
    came = max(10.0, *(one.rain_mm + one.watered_mm for one in days))
    step = 100 / len(days)
    owed = _path([100 * one.owed_mm / most for one in days], step)
    ready = _path([100 * one.ready_mm / most for one in days], step)
    rain = "".join(
        f"M{(n + 0.5) * step:.1f} 0V{40 * one.rain_mm / came:.1f}" for n, one in enumerate(days) if one.rain_mm >= 0.2
    )
    given = "".join(
        f"M{(n + 0.5) * step:.1f} 0V{max(6.0, 40 * one.watered_mm / came):.1f}"
        for n, one in enumerate(days)
        if one.watered_mm > 0
    )
    return Markup(
        f'<svg class="bedwater" viewBox="0 0 100 100" preserveAspectRatio="none" role="img"'
        f' aria-label="{escape(words)}">'
        f'<path class="rain" d="{rain}"/><path class="given" d="{given}"/>'
        f'<path class="ready" d="{ready}"/><path class="owed" d="{owed}"/></svg>'
    )


def _path(values: Sequence[float], step: float) -> str:
    return "M" + "L".join(f"{(n + 0.5) * step:.1f} {value:.1f}" for n, value in enumerate(values))
