"""One figure of a file of readings: marks for missing and estimated, decimal commas, units, and what air never reaches.

Source: World Meteorological Organization, World Weather and Climate Extremes Archive: 56.7 °C (Furnace Creek, 1913),
-89.2 °C (Vostok, 1983), 1 825 mm in 24 hours (Réunion, 1966). Marks: Met Office historic station data ("---" for
missing, "*" for estimated, "#" and "$" for another instrument); NOAA GHCN-Daily (-9999, tenths).
"""

import re
from collections.abc import Callable

HOTTEST_C, COLDEST_C, WETTEST_MM = 56.7, -89.2, 1825.0
_MISSING = {
    "", "-", "--", "---", "----", "na", "n/a", "nan", "null", "none", "nil", "m", "x", "?", ".", "..", "missing", "\\n",
    "-9999", "-9999.0", "9999", "9999.0", "9999.9", "-999", "-999.0", "-999.9", "999.9", "-99.9", "-99.99",
}  # fmt: skip
_TRACE = {"t", "tr", "trace"}
_SUFFIX = re.compile(r"\s*(?:[*#$†]+|°?\s*[cCfF]|mm|in|\")$")
_COMMA = re.compile(r"[-+]?\d*,\d+")
_STEP = {
    "c": lambda value: value, "mm": lambda value: value, "tenths c": lambda value: value / 10,
    "tenths mm": lambda value: value / 10, "f": lambda value: round((value - 32) / 1.8, 2),
    "in": lambda value: round(value * 25.4, 2),
}  # fmt: skip


def figure_of(cell: str) -> float | None:
    """The figure in a cell, in whatever unit it stands; None where it says that there is none.

    Source: the marks at the head of this module.
    Raises: ValueError when it is neither.
    """
    try:
        value = float(cell)
    except ValueError:
        return _figure_in(cell)
    if value != value or cell.strip() in _MISSING:
        return None
    if value in (float("inf"), float("-inf")):
        raise ValueError("is no figure")
    return value


def _figure_in(cell: str) -> float | None:
    text = cell.strip().strip('"').strip().replace("−", "-").replace("–", "-")
    if text.lower() in _MISSING:
        return None
    text = _SUFFIX.sub("", text).strip()
    if _COMMA.fullmatch(text):
        text = text.replace(",", ".")
    if text.lower() in _MISSING:
        return None
    if not re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)", text):
        raise ValueError("is no figure")
    return float(text)


def rain_figure_of(cell: str) -> float | None:
    """The same for rain, where a trace too small to measure counts as none.

    Source: common practice; a trace is less than 0.05 mm.
    Raises: ValueError when it is no figure.
    """
    return 0.0 if cell.strip().lower() in _TRACE else figure_of(cell)


def in_metric(unit: str) -> Callable[[float], float]:
    """What makes °C or mm of a figure in ``unit``: "c", "f", "tenths c", "mm", "in", "tenths mm".

    Source: °F = 1.8 °C + 32 and 1 in = 25.4 mm, exactly (NIST SP 811, B.8). Kept to the hundredth.
    Raises: KeyError for another unit.
    """
    return _STEP[unit]


def impossible(min_c: float | None, max_c: float | None, rain_mm: float | None) -> tuple[str, str] | None:
    """What of a day's readings can't be, and why; None when all of it can.

    Source: the extremes at the head of this module.
    """
    for value in (max_c, min_c):
        if value is not None and value > HOTTEST_C:
            return f"{value:g} °C", f"hotter than air has ever been measured ({HOTTEST_C} °C)"
        if value is not None and value < COLDEST_C:
            return f"{value:g} °C", f"colder than air has ever been measured ({COLDEST_C} °C)".replace("-", "−")
    if min_c is not None and max_c is not None and min_c > max_c:
        return f"{min_c:g} to {max_c:g} °C", "the lowest is above the highest"
    if rain_mm is not None and rain_mm < 0:
        return f"{rain_mm:g} mm", "there is no rain below nought"
    if rain_mm is not None and rain_mm > WETTEST_MM:
        return f"{rain_mm:g} mm", f"more than ever fell in a day ({WETTEST_MM:g} mm)"
    return None
