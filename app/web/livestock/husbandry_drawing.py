"""Pictures of livestock: eggs by week against their curve, and a thing's need by month. Pure; no words of their own."""

from collections.abc import Sequence

from markupsafe import Markup

WIDTH, HEIGHT = 480, 170
LEFT, RIGHT, TOP, BOTTOM = 8, 44, 16, 24


def lay_curve(
    expected: Sequence[float], came: Sequence[float | None], this: int, words: str, labels: tuple[str, str, str]
) -> Markup:
    """Weeks and eggs: a line for what is expected, a dot for what came; ``this`` is the week that it is.

    ``labels`` are the most eggs, the first week and the last.
    """
    most = max([*expected, *(eggs for eggs in came if eggs is not None), 1.0])
    step = (WIDTH - LEFT - RIGHT) / max(1, len(expected) - 1)

    def x(week: int) -> float:
        return round(LEFT + step * week, 1)

    def y(eggs: float) -> float:
        return round(TOP + (HEIGHT - TOP - BOTTOM) * (1 - eggs / most), 1)

    path = "M" + "L".join(f"{x(at)} {y(eggs)}" for at, eggs in enumerate(expected))
    dots = "".join(f'<circle cx="{x(at)}" cy="{y(eggs)}" r="4"/>' for at, eggs in enumerate(came) if eggs is not None)
    now = f'<line class="goal" x1="{x(this)}" x2="{x(this)}" y1="{TOP}" y2="{HEIGHT - BOTTOM}"/>' if this >= 0 else ""
    floor = HEIGHT - BOTTOM
    top, first, last = (Markup.escape(text) for text in labels)
    return Markup(
        f'<svg class="dryingcurve" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{Markup.escape(words)}">'
        f'<path d="{path}"/>{now}<line x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{floor}" y2="{floor}"/>{dots}'
        f'<text x="{WIDTH - RIGHT + 6}" y="{y(most)}" dy="4">{top}</text>'
        f'<text x="{LEFT}" y="{HEIGHT - 6}">{first}</text>'
        f'<text class="e" x="{WIDTH - RIGHT}" y="{HEIGHT - 6}">{last}</text></svg>'
    )


def month_bars(values: Sequence[tuple[str, float]], words: str, top: str) -> Markup:
    """A bar for each month, its letters beneath; ``top`` is said at the highest."""
    most = max([value for _, value in values], default=1.0) or 1.0
    height, floor = 84, 60
    wide = (WIDTH - LEFT - RIGHT) / max(1, len(values))
    parts = []
    for at, (name, value) in enumerate(values):
        tall = round(46 * value / most, 1)
        left = round(LEFT + wide * at, 1)
        if tall:
            parts.append(f'<rect x="{left}" y="{floor - tall}" width="{round(wide * 0.7, 1)}" height="{tall}"/>')
        parts.append(f'<text x="{left}" y="{height - 6}">{Markup.escape(name)}</text>')
    return Markup(
        f'<svg class="dryingcurve bars" viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{Markup.escape(words)}">'
        f'<line x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{floor}" y2="{floor}"/>{"".join(parts)}'
        f'<text x="{WIDTH - RIGHT + 6}" y="{floor - 42}">{Markup.escape(top)}</text></svg>'
    )
