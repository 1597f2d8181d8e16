"""When a coating is due again: the factor method, and what was found since."""

from collections.abc import Sequence
from typing import Literal

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

Exposure = Literal["sheltered", "moderate", "severe", "very severe"]
EXPOSURES: tuple[Exposure, ...] = ("sheltered", "moderate", "severe", "very severe")
Preparation = Literal["poor", "ordinary", "good"]
PREPARATIONS: tuple[Preparation, ...] = ("poor", "ordinary", "good")
FOUND: tuple[str, ...] = ("sound", "chalking", "flaking", "hollow")
"""What a look can find, from good to bad."""

YEAR_DAYS = 365.25


def service_life_years(reference_years: float, *factors: float) -> float:
    """``ESL = RSL * A * B * ..``: a reference life times its factors.

    Source: iso-15686-8, the factor method (it gives no values for the factors).
    Raises: OutOfRange for a life or a factor that is not above 0.
    """
    life = reference_years
    for value in (reference_years, *factors):
        if value <= 0:
            raise OutOfRange("A life or a factor", value, "above 0")
    for factor in factors:
        life *= factor
    return life


@work
def years_to_next_coat(
    exposure: Exposure,
    preparation: Preparation,
    least_years: float,
    usual_years: float,
    most_years: float,
    exposure_factors: Sequence[float],
    preparation_factors: Sequence[float],
    found: Sequence[tuple[int, str]] = (),
    aspect_factor: float = 1.0,
) -> Reckoned:
    """Days from one coat to the next: `service_life_years`, kept between ``least_years`` and ``most_years``.

    Factors stand in the order of `EXPOSURES` and `PREPARATIONS`. ``found`` are the looks since that coat, as (days
    since it, finding): chalking asks for paint within a year of the look, flaking and hollow at once; a sound wall near
    its date is left another year, never past ``most_years``. A worse finding never gives a later day.
    Source: iso-15686-8 for the method; how findings move the date is common practice.
    Raises: OutOfRange for figures that make no sense, or a finding that is not in `FOUND`.
    """
    if not 0 < least_years <= usual_years <= most_years:
        raise OutOfRange("The usual years", usual_years, f"from {least_years:g} to {most_years:g}")
    factors = (_factor(EXPOSURES, exposure, exposure_factors), _factor(PREPARATIONS, preparation, preparation_factors))
    life = service_life_years(usual_years, *factors, aspect_factor)
    years = min(max(life, least_years), most_years)
    because = (
        f"{usual_years:g} years × {factors[0]:g} for {exposure} × {factors[1]:g} for {preparation} preparation"
        f" = {life:.1f}; kept within {least_years:g} and {most_years:g}: {years:.1f} years"
    )
    due, told = _moved(round(years * YEAR_DAYS), round(most_years * YEAR_DAYS), found)
    return days(due, because, *told)


def _factor(names: Sequence[str], name: str, factors: Sequence[float]) -> float:
    if len(factors) != len(names):
        raise OutOfRange("The number of factors", len(factors), f"{len(names)}, in the order {', '.join(names)}")
    if name not in names:
        raise OutOfRange("A choice", 0, f"one of {', '.join(names)}, not {name}")
    return factors[names.index(name)]


def _moved(due: int, most: int, found: Sequence[tuple[int, str]]) -> tuple[int, tuple[str, ...]]:
    """The due day after every look, and what was said of it."""
    year = round(YEAR_DAYS)
    bad = [day if _grade(what) > 1 else day + year for day, what in found if _grade(what)]
    if bad and min(bad) < due:
        return max(min(bad), 0), ("brought forward by what was found",)
    sound = [min(day + year, most) for day, what in found if not _grade(what)]
    if not bad and sound and max(sound) > due:
        return max(sound), ("found sound, so left another year",)
    return due, ()


def _grade(what: str) -> int:
    if what not in FOUND:
        raise OutOfRange("A finding", 0, f"one of {', '.join(FOUND)}, not {what}")
    return FOUND.index(what)
