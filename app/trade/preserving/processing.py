"""Minutes in boiling water for bottled fruit: a row of a tested table, by jar and by altitude."""

from collections.abc import Sequence

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_FOOT_M = 0.3048
_BANDS_FT = (1000, 3000, 6000)
"""The altitude bands of the USDA boiling-water tables, upper limits inclusive."""

_PINT_ML, _QUART_ML = 473, 946
_LEAST_M, _MOST_M = -10, 3000
"""The lowest ground that people farm behind dykes is taken for the sea: water boils hotter there, not cooler."""


def process_minutes(altitude_m: float, jar_ml: float, pint_minutes: Sequence[int], quart_minutes: Sequence[int]) -> int:
    """The minutes of the tested row: the band that holds the altitude, the jar or else the next larger one tested.

    Each row has four figures: to 1000, 3000 and 6000 ft, and above. Rows are looked up, never added to by the band.
    A row without a figure for the larger jar was tested in the smaller one only.
    Valid: -10 to 3000 m, jars of up to 946 ml.
    Source: USDA Complete Guide to Home Canning, the bands of its boiling-water tables; the rows stand on the sheet.
    Raises: OutOfRange beyond that.
    """
    if not _LEAST_M <= altitude_m <= _MOST_M:
        raise OutOfRange("An altitude", altitude_m, f"{_LEAST_M} to {_MOST_M} m", "Freeze the fruit instead.")
    if not 0 < jar_ml <= _QUART_ML:
        advice = "Use smaller jars: the heat may not reach the middle of a larger one in the tested time."
        raise OutOfRange("A jar", jar_ml, f"up to {_QUART_ML} ml", advice)
    row = pint_minutes if jar_ml <= _PINT_ML else quart_minutes
    if not row:
        raise OutOfRange("A jar", jar_ml, f"up to {_PINT_ML} ml: larger ones were not tested", "Use smaller jars.")
    if len(row) != len(_BANDS_FT) + 1:
        raise OutOfRange("A row of minutes", len(row), "four figures, one a band")
    feet = round(altitude_m / _FOOT_M, 6)
    return row[sum(feet > limit for limit in _BANDS_FT)]


@work
def processing_days(
    altitude_m: float, jar_ml: float, pint_minutes: Sequence[int], quart_minutes: Sequence[int]
) -> Reckoned:
    """No days at all: jars are processed the day they are filled; *why* says for how many minutes.

    It gives no date while the altitude is unsaid, since no time is right everywhere.
    Valid: as `process_minutes`.
    Source: `process_minutes`.
    Raises: OutOfRange as there.
    """
    minutes = process_minutes(altitude_m, jar_ml, pint_minutes, quart_minutes)
    return days(0, f"{minutes} minutes in boiling water for jars of {jar_ml:g} ml at {altitude_m:g} m")
