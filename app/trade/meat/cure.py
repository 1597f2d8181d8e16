"""Days in a dry cure by thickness, and days of rest until the salt is even."""

from functools import wraps
from math import ceil
from typing import Any, Literal

from app.errors import OutOfRange
from app.trade.meat.salt import even_days
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_INCH_MM = 25.4
_LEAST_MM, _MOST_MM = 10, 100
_SHARE = 0.9
_RULE = ("thickness_mm", "days_an_inch", "least_days", "spare_days")
"""What `cure_days` is given."""

Skin = Literal["skin on", "skinned"]


@work
def cure_days(thickness_mm: float, days_an_inch: float, least_days: int, spare_days: int) -> Reckoned:
    """Days in an equilibrium dry cure: ``max(ceil(days_an_inch * thickness / 25.4), least_days) + spare_days``.

    Valid: a greatest thickness of 10 to 100 mm; anything thicker is a ham, with rules of its own.
    Source: the figures stand on the sheet (seven days an inch of thickness and two to spare, common practice).
    Raises: OutOfRange beyond that.
    """
    _fit(thickness_mm)
    by_rule = ceil(round(days_an_inch * thickness_mm / _INCH_MM, 6))
    best = max(by_rule, least_days) + spare_days
    because = (
        f"{thickness_mm:g} mm at {days_an_inch:g} days an inch (25.4 mm) is {by_rule} days, at least {least_days}, and "
        f"{spare_days} to spare"
    )
    return days(best, because)


@work
def equalise_days(
    thickness_mm: float,
    skin: Skin,
    salt_1e10_m2_s: float,
    days_an_inch: float,
    least_days: int,
    spare_days: int,
    least_rest_days: int,
    most_rest_days: int,
) -> Reckoned:
    """Days of rest after the cure: until the middle has nine tenths of its salt, and ``least_rest_days`` at least.

    ``max(least_rest_days, ceil(even_days) - cure_days)``; a skin takes no salt, so the path is then all the thickness
    and not half of it.
    Valid: as `cure_days`, and rests of up to ``most_rest_days``.
    Source: `even_days`, `cure_days`; the figures stand on the sheet.
    Raises: OutOfRange where the rest would be longer.
    """
    cured = cure_days(thickness_mm, days_an_inch, least_days, spare_days).best
    even = ceil(even_days(thickness_mm if skin == "skin on" else thickness_mm / 2, salt_1e10_m2_s, _SHARE))
    rest = max(least_rest_days, even - cured)
    if rest > most_rest_days:
        advice = (
            "Skin it, or split it, before it goes into the cure, bone it if there is a bone, or freeze it: its middle "
            "stays unsalted too long."
        )
        raise OutOfRange("A rest", rest, f"up to {most_rest_days} days", advice)
    because = (
        f"{thickness_mm:g} mm, {skin}: even after about {even} days, {cured} of them in the cure; rest at least "
        f"{least_rest_days}"
    )
    return days(rest, because)


@work
@wraps(equalise_days, assigned=("__annotations__",))
def covered_cure_days(**cure: Any) -> Reckoned:
    """`cure_days`, for a piece whose rest after it is covered too: what can't be evened out in time gets no day at all.

    It is given what `equalise_days` is. Valid, source and raises: as there.
    """
    equalise_days(**cure)
    return cure_days(**{name: cure[name] for name in _RULE})


@work
@wraps(equalise_days, assigned=("__annotations__",))
def covered_turn_days(**cure: Any) -> Reckoned:
    """The first turning, the day after it went in; none for a piece that is given no day to come out.

    Given, valid, source and raises: as `covered_cure_days`.
    """
    covered_cure_days(**cure)
    return days(1, "turned every day from the first")


def _fit(thickness_mm: float) -> None:
    if not _LEAST_MM <= thickness_mm <= _MOST_MM:
        advice = (
            "Measure the thickest part; what is thicker is split or boned, frozen, or cured by its weight as a ham."
            if thickness_mm > _MOST_MM
            else "Measure the thickest part; so thin a piece has no rule here: freeze it, or eat it fresh."
        )
        raise OutOfRange("A thickness", thickness_mm, f"{_LEAST_MM} to {_MOST_MM} mm", advice)
