"""How long new work waits for its paint: by the kind of paint, by what lies behind it, by whether a winter comes."""

from datetime import date, timedelta
from math import ceil
from typing import Literal, NamedTuple

from app.errors import OutOfRange
from app.trade.climate.season import Season
from app.trade.reckoned import Reckoned
from app.trade.register import work
from app.trade.upkeep.hemisphere import is_south

Paint = Literal["breathing", "sealing"]
PAINTS: tuple[Paint, ...] = ("breathing", "sealing")
"""Water-borne masonry paint that lets water out, or solvent, oil and tar that keep it in."""
Behind = Literal["blockwork", "solid brick"]
NORTHERN_WINTER, SOUTHERN_WINTER = (11, 12, 1, 2, 3), (5, 6, 7, 8, 9)
DRIES_MM_A_MONTH = 25.0
CARBONATES_MM_A_MONTH = 1.0


class Wait(NamedTuple):
    """Days to wait: the least, and the most when a range is printed."""

    low_days: int
    high_days: int


_BREATHING = Wait(28, 28)
_SEALING = {"blockwork": Wait(60, 90), "solid brick": Wait(120, 180)}
_SEALING_WINTER = {"blockwork": Wait(60, 90), "solid brick": Wait(270, 365)}


def cement_wait(paint: Paint, behind: Behind, winter_between: bool = False) -> Wait:
    """Days between cement render or mortar and its first coat.

    Four weeks under paint that lets water out; 60 to 90 days under a sealing one over blockwork, 120 to 180 over solid
    brick, 270 to 365 there if a winter comes between.
    Source: a paint maker's specification LSPEC0026 (luxurypaints.com.au) for 28 days; a paint maker's page on cement
    rendering (icipaints.co.uk) for sealing paints.
    Raises: OutOfRange for a kind it does not know.
    """
    if paint not in PAINTS or behind not in _SEALING:
        raise OutOfRange("A paint or wall", 0, f"breathing or sealing, over blockwork or solid brick, not {paint}")
    if paint == "breathing":
        return _BREATHING
    return (_SEALING_WINTER if winter_between else _SEALING)[behind]


@work
def cement_wait_days(
    paint: Paint, behind: Behind = "solid brick", season: Season | None = None, on: int = 0
) -> Reckoned:
    """`cement_wait` from the day ``on``: whether a winter comes between is read from the calendar.

    A winter lies between when the shorter wait runs into November to March, in the south into May to September.
    Source: as there; the months are our own.
    Raises: OutOfRange as there.
    """
    plain = cement_wait(paint, behind)
    winter = on > 0 and _meets_winter(on, plain.low_days, season)
    found = cement_wait(paint, behind, winter)
    because = f"{paint} paint over {behind}: {found.low_days} days" + (", a winter between" if found != plain else "")
    return Reckoned(found.low_days, found.low_days, found.high_days, (because,))


def _meets_winter(on: int, days: int, season: Season | None) -> bool:
    start = date.fromordinal(on)
    cold = SOUTHERN_WINTER if is_south(season, start.year) else NORTHERN_WINTER
    return any((start + timedelta(days=step)).month in cold for step in range(0, days + 1, 7))


def wet_wall_months(thickness_mm: float) -> float:
    """Months in which a wet wall dries out: 25 mm of it a month.

    Source: a damp-proofing firm's notes on redecorating (preservationtreatments.co.uk): 225 mm in about nine months.
    Raises: OutOfRange outside 50 to 1000 mm.
    """
    if not 50 <= thickness_mm <= 1000:
        raise OutOfRange("A thickness of wall", thickness_mm, "50 to 1000 mm")
    return thickness_mm / DRIES_MM_A_MONTH


def carbonation_months(thickness_mm: float) -> int:
    """Months in which air lime hardens through: about a millimetre a month from the face.

    Source: from memory, Society for the Protection of Ancient Buildings and the Building Limes Forum.
    Raises: OutOfRange outside 1 to 60 mm.
    """
    if not 1 <= thickness_mm <= 60:
        raise OutOfRange("A thickness of lime", thickness_mm, "1 to 60 mm")
    return ceil(thickness_mm / CARBONATES_MM_A_MONTH)
