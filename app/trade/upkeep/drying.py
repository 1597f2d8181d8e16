"""How long new work must stand before it is painted, and before it can take a frost."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work


@work
def days_before_coating(
    thickness_mm: float, least_days: float, days_a_mm: float, slow_above_mm: float, slow_days_a_mm: float
) -> Reckoned:
    """Days a render must stand: ``least_days``, or as long as its thickness takes to dry when that is longer.

    The first ``slow_above_mm`` dry at ``days_a_mm``, what is beyond them at ``slow_days_a_mm``.
    Valid: 3 to 150 mm.
    Source: the figures stand on the sheet; the form (a day a millimetre, then slower) from memory: BS 8203.
    Raises: OutOfRange beyond that.
    """
    if not 3 <= thickness_mm <= 150:
        raise OutOfRange("A thickness", thickness_mm, "3 to 150 mm", "Ask whoever laid it.")
    drying = min(thickness_mm, slow_above_mm) * days_a_mm + max(thickness_mm - slow_above_mm, 0.0) * slow_days_a_mm
    because = f"{thickness_mm:g} mm dry in about {drying:.0f} days, and new render stands {least_days:g} at least"
    return days(ceil(max(drying, least_days)), because)


def hydraulic_lime_days(mean_c: float, days_at_19_c: float, slower_a_kelvin: float) -> float:
    """Days until hydraulic lime stands frost: ``days_at_19_c * (1 + slower_a_kelvin * (19 - T))``.

    Valid: mean temperatures of 5 to 20 °C.
    Source: a lime merchant's winter guidance (90 days at 18 to 20 °C, a quarter more at 5 K less, half at 10 K less);
    the line through these points is our own.
    Raises: OutOfRange beyond that.
    """
    if not 5 <= mean_c <= 20:
        raise OutOfRange("A mean temperature", mean_c, "5 to 20 °C", "Lime does not set below 5 °C.")
    return days_at_19_c * (1 + slower_a_kelvin * (19 - mean_c))


@work
def lime_frost_days(mean_c: float, days_at_19_c: float, slower_a_kelvin: float) -> Reckoned:
    """Whole days of mild weather that hydraulic lime needs before a frost, rounded up.

    Source: `hydraulic_lime_days`.
    Raises: OutOfRange as there.
    """
    because = (
        f"{days_at_19_c:g} days at 19 °C, {100 * slower_a_kelvin:g} % more for each degree cooler; here {mean_c:g} °C"
    )
    return days(ceil(hydraulic_lime_days(mean_c, days_at_19_c, slower_a_kelvin) - 1e-9), because)
