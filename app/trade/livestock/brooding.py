"""Warmth under the lamp, week by week, and the week in which it can be put out."""

from math import ceil

from app.errors import OutOfRange

FALL_C = 5.0 / 1.8
"""Five degrees Fahrenheit a week. Source: University of Florida IFAS Extension, as quoted in 2019."""
CHICKS_C = 35.0
_MOST_WEEKS = 8


def brooder_c(week: int, start_c: float = CHICKS_C) -> float:
    """Warmth at the height of the birds' backs in their first, second .. week: ``start - 2.78 * (week - 1)``.

    Where to begin, not a law: huddled birds are cold, panting ones too hot.
    Valid: weeks 1 to 8, a start of 30 to 38 °C. Source: University of Florida IFAS Extension (chicks, weeks 1 to 6);
    other birds' starts are common practice. Raises: OutOfRange beyond that.
    """
    if not 1 <= week <= _MOST_WEEKS:
        raise OutOfRange("A week under heat", week, f"1 to {_MOST_WEEKS}", "Feathered by now, they need none.")
    if not 30 <= start_c <= 38:
        raise OutOfRange("A brooder's warmth in °C", start_c, "30 to 38")
    return start_c - FALL_C * (week - 1)


def brooder_c_at(age_d: int, start_c: float = CHICKS_C) -> float:
    """`brooder_c` by age in days, day-olds being 0.

    Source: `brooder_c`.
    """
    return brooder_c(age_d // 7 + 1, start_c)


def weeks_of_heat(night_c: float, start_c: float = CHICKS_C) -> int:
    """Whole weeks of heat until the brooder would be no warmer than the house at night.

    Valid: a house of 5 °C and more at its coldest (below, they stay in). Source: `brooder_c`.
    Raises: OutOfRange beyond that.
    """
    if night_c < 5:
        raise OutOfRange("The house at night in °C", night_c, "5 and more", "Keep the lamp on until it is milder.")
    if not 30 <= start_c <= 38:
        raise OutOfRange("A brooder's warmth in °C", start_c, "30 to 38")
    return min(_MOST_WEEKS, max(0, ceil(round((start_c - night_c) / FALL_C, 9))))
