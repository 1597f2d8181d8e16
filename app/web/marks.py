"""The marks: five trades, and the few signs that the pages need, drawn for this program on a 16 px square.

They are strokes of 1.5 px in the colour of the text around them. `sprite` is written once into every page, and a
mark is then ``<svg class="m"><use href="#garden"/></svg>``.
"""

from functools import cache

from markupsafe import Markup

TRADE_MARKS: dict[str, str] = {
    # a seedling with two unequal leaves
    "garden": "M8 14.5V7.5M8 10C8 7 5.6 5.2 2 5.2C2 8.4 4.4 10 8 10M8 7.5C8 4 10.4 1.8 14 1.8C14 5.4 11.6 7.5 8 7.5",
    # an egg on its nest line
    "livestock": "M8 1.8C10.6 1.8 12.4 5.6 12.4 8.4A4.4 4.4 0 0 1 3.6 8.4C3.6 5.6 5.4 1.8 8 1.8M2 14.4H14",
    # a hanging hook with its rail
    "meat": "M3 1.8H13M8 1.8V8.2A3.1 3.1 0 1 1 4.9 11.3V9.8",
    # a jar with a tied cover
    "preserving": "M4.6 2H11.4V4.4H4.6ZM4.6 4.4C3.2 5.6 3.2 6.4 3.2 7.6V14.2H12.8V7.6C12.8 6.4 12.8 5.6 11.4 4.4"
    "M3.2 9.2H12.8",
    # a gable end with its owl hole
    "upkeep": "M1.6 8.2L8 2L14.4 8.2M3.4 6.6V14.2H12.6V6.6M8 7.2A1.2 1.2 0 1 1 7.99 7.2",
}

SIGNS: dict[str, str] = {
    "tick": "M2.5 8.5L6.5 12.5L13.5 3.5",
    "fold": "M5.5 3.5L10.5 8L5.5 12.5",
    "round": "M8 2.2A5.8 5.8 0 1 1 2.6 10M2.2 13.4V9.8H5.8",
}


@cache
def sprite() -> Markup:
    """Every mark as a symbol, and the two parts of a window's line: its end (#e) and its best day (#d)."""
    symbols = "".join(
        f'<symbol id="{name}" viewBox="0 0 16 16"><path d="{path}"/></symbol>'
        for name, path in (TRADE_MARKS | SIGNS).items()
    )
    line = '<path id="e" d="M0-5V5"/><path id="d" d="M0-7L5 0L0 7L-5 0Z"/>'
    return Markup(f'<svg class="sprite" width="0" height="0" aria-hidden="true"><defs>{symbols}{line}</defs></svg>')
