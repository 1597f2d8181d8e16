"""Where the strokes of the pictures go: days in, coordinates out. Pure; no colours and no words here.

A window is drawn the same everywhere: a line with an end mark where it opens and where it closes, a diamond on the best
day (on the day it was done, once it was), and dots while something bars it. Positions along a scale are percentages of
its width, so one string serves the laptop, the phone and the printed page. An end that lies off the scale has no mark.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from markupsafe import Markup

from app.rules.spans import Day


class Stretch(NamedTuple):
    """A scale of days, both ends inclusive, and ``today`` when it is known."""

    first: Day
    last: Day
    today: Day | None = None


class Pane(NamedTuple):
    """The curves along the top of a month: SVG path data in a pane 100 wide and 100 high, stretched to fit."""

    daylight: str
    frost: str


def at(stretch: Stretch, day: float) -> float:
    """How far along the scale the start of ``day`` lies, in percent; clipped to 0 and 100."""
    share = 100 * (day - stretch.first) / (stretch.last - stretch.first + 1)
    return round(min(100.0, max(0.0, share)), 1)


def middle(stretch: Stretch, day: Day) -> float:
    """How far along the scale the middle of ``day`` lies, in percent."""
    return at(stretch, day + 0.5)


def holds(stretch: Stretch, day: Day | None) -> bool:
    """Whether ``day`` lies on the scale."""
    return day is not None and stretch.first <= day <= stretch.last


def _dash(x1: float, x2: float, kind: str = "") -> str:
    css = f' class="{kind}"' if kind else ""
    return f'<line{css} x1="{x1}%" x2="{x2}%" y1="50%" y2="50%"/>'


def _put(part: str, x: float) -> str:
    return f'<use href="#{part}" x="{x}%" y="50%"/>'


@lru_cache(maxsize=8192)  # a month shows the same hundred lines until something is said
def line(
    stretch: Stretch,
    opens: Day | None = None,
    closes: Day | None = None,
    bests: tuple[Day, ...] = (),
    done: Day | None = None,
    barred: tuple[Day, Day | None] | None = None,
) -> Markup:
    """One job's window on a scale as a small SVG; several ``bests`` for jobs folded into one.

    ``done`` replaces the diamond by a filled one on that day. ``barred`` is the stretch, both ends inclusive, in which
    it may not be done; its end is None while nothing has closed it.
    """
    parts = []
    if holds(stretch, stretch.today):
        x = middle(stretch, stretch.today or 0)
        parts.append(f'<line class="n" x1="{x}%" x2="{x}%" y2="100%"/>')
    if barred and not (barred[1] is not None and barred[1] < stretch.first) and barred[0] <= stretch.last:
        end = stretch.last if barred[1] is None else barred[1]
        parts.append(_dash(at(stretch, barred[0]), at(stretch, end + 1), "b"))
        parts += [_put("e", at(stretch, end + 1))] if barred[1] is not None and end < stretch.last else []
    if opens is not None and closes is not None and opens <= stretch.last and closes >= stretch.first:
        parts.append(_dash(at(stretch, opens), at(stretch, closes + 1)))
        parts += [_put("e", at(stretch, opens))] if holds(stretch, opens) else []
        parts += [_put("e", at(stretch, closes + 1))] if holds(stretch, closes) else []
    shown = (done,) if done is not None else bests
    parts += [_put("d", middle(stretch, day)) for day in sorted(set(shown)) if holds(stretch, day)]
    css = "w f" if done is not None else "w"
    return Markup(f'<svg class="{css}" aria-hidden="true">{"".join(parts)}</svg>')


def _curve(values: Sequence[float], low: float, high: float) -> str:
    """A row of daily values as a path in a pane of 100 by 100, ``high`` at the top."""
    step = 100 / len(values)
    points = (
        f"{(i + 0.5) * step:.1f} {100 - 100 * (min(high, max(low, v)) - low) / (high - low):.1f}"
        for i, v in enumerate(values)
    )
    return "M" + "L".join(points)


def pane(daylight_hours: Sequence[float], frost_percent: Sequence[float]) -> Pane:
    """The month's daylight (6 to 18 hours) and chance of frost (0 to 100 %), a value for each day."""
    daylight = _curve(daylight_hours, 6, 18) if daylight_hours else ""
    frost = _curve(frost_percent, 0, 100) if frost_percent else ""
    return Pane(daylight, frost)


def against(wanted_min: float, given_min: float) -> Markup:
    """Hours wanted against hours there are: a line as long as what is wanted, an end mark at what there is."""
    most = max(wanted_min, given_min, 1)
    wanted, given = round(100 * wanted_min / most, 1), round(100 * given_min / most, 1)
    over = _dash(given, wanted, "over") if wanted > given else ""
    within = _dash(0, min(wanted, given))
    return Markup(f'<svg class="w hours" aria-hidden="true">{within}{over}{_put("e", given)}</svg>')
