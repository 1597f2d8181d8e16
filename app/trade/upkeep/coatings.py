"""When a coating is due again: the factor method, and what was found since."""

from collections.abc import Sequence
from typing import Literal

from app.errors import OutOfRange
from app.trade.climate.season import Season
from app.trade.reckoned import Job, Reckoned
from app.trade.register import work
from app.trade.upkeep.coat_months import in_fit_month
from app.trade.upkeep.intervals import LastDone

Exposure = Literal["sheltered", "moderate", "severe", "very severe"]
EXPOSURES: tuple[Exposure, ...] = ("sheltered", "moderate", "severe", "very severe")
Preparation = Literal["poor", "ordinary", "good"]
PREPARATIONS: tuple[Preparation, ...] = ("poor", "ordinary", "good")
FOUND: tuple[str, ...] = ("sound", "chalking", "blistered", "flaking", "bare", "hollow")
"""What a look can find, from good to bad."""

SPREAD = (0.8, 1.2)
"""How far a life goes either way of what is reckoned: a factor of the method usually lies between these."""

Faces = Literal["sunny or windward", "neither", "shaded"]
ASPECT_FACTORS: dict[Faces, float] = {"sunny or windward": 0.85, "neither": 1.0, "shaded": 1.1}
POLEWARD = {"north": "south", "south": "north"}

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
    faces: Faces = "neither",
    known: LastDone = "to the day",
    told: int | None = None,
    on: int = 0,
    season: Season | None = None,
    job: Job | None = None,
) -> Reckoned:
    """Days from one coat to the next: `service_life_years`, kept between ``least_years`` and ``most_years``.

    Factors stand in the order of `EXPOSURES` and `PREPARATIONS`. ``found`` are the looks since that coat, as (days
    since it, finding): chalking asks for paint within a year of the look, blistered and worse at once; a sound wall
    near its date is left another year, never past ``most_years``. A worse finding never gives a later day. ``low`` and
    ``high`` are the window: `SPREAD` of the life, within the same ends, narrowed by the looks.
    ``told``, ``known`` and ``on`` are those of `months_between`: of a coat that nobody knows the age of, the day is
    taken for the middle of its life, until a look says more, and a sound look puts it off whatever its age.
    Last of all the day is moved as `in_fit_month` says, where ``season`` knows the place's wet days and ``job`` wants
    a dry one.
    Source: iso-15686-8 for the method and the spread of a factor; how findings move the date is common practice.
    Raises: OutOfRange for figures that make no sense, or a finding that is not in `FOUND`.
    """
    if not 0 < least_years <= usual_years <= most_years:
        raise OutOfRange("The usual years", usual_years, f"from {least_years:g} to {most_years:g}")
    factors = (_factor(EXPOSURES, exposure, exposure_factors), _factor(PREPARATIONS, preparation, preparation_factors))
    if faces not in ASPECT_FACTORS:
        raise OutOfRange("A side", 0, f"one of {', '.join(ASPECT_FACTORS)}, not {faces}")
    life = service_life_years(usual_years, *factors, ASPECT_FACTORS[faces])
    years = min(max(life, least_years), most_years)
    because = (
        f"{usual_years:g} years × {factors[0]:g} for {exposure} × {factors[1]:g} for {preparation} preparation"
        f" × {ASPECT_FACTORS[faces]:g} for its side = {life:.1f}; kept within {least_years:g} and {most_years:g}:"
        f" {years:.1f} years"
    )
    unsure = told is not None and told == on and known != "to the day"
    unknown = unsure and known == "not known"
    if unknown:
        years /= 2
        because += "; nobody knows its age, so it is taken to be halfway"
    due, moved = _moved(round(years * YEAR_DAYS), 10**6 if unknown else round(most_years * YEAR_DAYS), found)
    low, high = _narrowed(*_window(years, (least_years, most_years), unsure), due, found)
    window = f"likely between {low / YEAR_DAYS:.1f} and {high / YEAR_DAYS:.1f} years from that day"
    best = max(in_fit_month(on + due, job, season) - on, 0) if on > 0 else due
    if best != due:
        moved = (*moved, "moved to the nearest month that has the fit days it takes here")
    return Reckoned(min(low, best), best, max(high, best), (because, window, *moved))


def aspect_factor(faces: str, south: bool = False, pitched: bool = False) -> float:
    """How long a coating lasts by the way it faces: the sunny side 0.85, the side away from the sun 1.1, else 1.

    ``faces`` is north, east, south, west or windward; the sun stands in the north on the southern half of the earth.
    A pitch of about 45° halves it (about twice the sun of an upright face); not for a row that is a roof already.
    Source: our own model, by sheltered coatings lasting longer (Canadian Wood Council, cwc.ca) and the radiant energy
    of a slope (an architects' memo of 1980, resene.com.au).
    Raises: OutOfRange for another word.
    """
    return ASPECT_FACTORS[side_of(faces, south)] * (0.5 if pitched else 1.0)


def side_of(faces: str, south: bool = False) -> Faces:
    """Which side of a building that is for a coating: towards the sun or the wind, away from the sun, or neither.

    Source: as `aspect_factor`; mirrored on the southern half of the earth.
    Raises: OutOfRange for anything but north, east, south, west or windward.
    """
    if faces not in ("north", "east", "south", "west", "windward"):
        raise OutOfRange("A direction", 0, f"north, east, south, west or windward, not {faces}")
    sunny = "north" if south else "south"
    if faces in (sunny, "windward"):
        return "sunny or windward"
    return "shaded" if faces == POLEWARD[sunny] else "neither"


def _window(years: float, ends: tuple[float, float], unsure: bool) -> tuple[int, int]:
    """The days between which it falls due; one year wider on both sides when the last day is not sure."""
    low, high = (min(max(years * factor, ends[0]), ends[1]) for factor in SPREAD)
    wider = 1.0 if unsure else 0.0
    return round(max(min(low, years) - wider, 0.0) * YEAR_DAYS), round((max(high, years) + wider) * YEAR_DAYS)


def _narrowed(low: int, high: int, due: int, found: Sequence[tuple[int, str]]) -> tuple[int, int]:
    """The window after every look: not before a sound one, and not after what a bad one brought forward."""
    if due < low or any(_grade(what) for _, what in found):
        return min(low, due), due
    low = max([low, *(day for day, _ in found)])
    return min(low, due), max(high, due)


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
