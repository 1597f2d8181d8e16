"""The weight of a load in the dryer, by the hour: how it should go, what was weighed, the weight to reach."""

from collections.abc import Sequence

from markupsafe import Markup

WIDTH, HEIGHT = 480, 190
LEFT, RIGHT, TOP, BOTTOM = 8, 54, 18, 24


def drying_curve(
    curve: Sequence[tuple[float, float]],
    weighed: Sequence[tuple[float, float]],
    target: float,
    words: str,
    labels: tuple[str, str],
) -> Markup:
    """A picture of hours and kilos; ``labels`` stand at the weight to reach and at the last hour."""
    end = max([hours for hours, _ in (*curve, *weighed)], default=1.0) or 1.0
    most = max([kg for _, kg in (*curve, *weighed)], default=1.0) or 1.0

    def x(hours: float) -> float:
        return round(LEFT + (WIDTH - LEFT - RIGHT) * hours / end, 1)

    def y(kg: float) -> float:
        return round(TOP + (HEIGHT - TOP - BOTTOM) * (1 - kg / most), 1)

    path = "M" + "L".join(f"{x(hours)} {y(kg)}" for hours, kg in curve)
    goal, floor = y(target), HEIGHT - BOTTOM
    dots = "".join(f'<circle cx="{x(hours)}" cy="{y(kg)}" r="4"/>' for hours, kg in weighed)
    target_label, end_label = (Markup.escape(text) for text in labels)
    return Markup(
        f'<svg class="dryingcurve" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{Markup.escape(words)}">'
        f'<path d="{path}"/><line class="goal" x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{goal}" y2="{goal}"/>'
        f'<line x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{floor}" y2="{floor}"/>{dots}'
        f'<text x="{WIDTH - RIGHT + 6}" y="{goal}" dy="4">{target_label}</text>'
        f'<text x="{LEFT}" y="{HEIGHT - 6}">0</text>'
        f'<text class="e" x="{WIDTH - RIGHT}" y="{HEIGHT - 6}">{end_label}</text></svg>'
    )
