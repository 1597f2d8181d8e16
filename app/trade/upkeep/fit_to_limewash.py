"""Is it fit to limewash now? Lime wants what paint does not: damp, dull and mild, and weeks without a frost to come."""

from datetime import date

from app.errors import OutOfRange
from app.trade.upkeep.fit_to_paint import COOLER_SURFACE_C, Check, Fitness, dew_point_magnus_c
from app.trade.upkeep.lime import LEAST_C, lime_say

MOST_C = 25.0
DRY_HOURS_AFTER = 24.0


def fit_to_limewash(
    air_c: float,
    humidity_percent: float,
    surface_c: float | None,
    on: date,
    likely_frost: date | None,
    dry_hours_ahead: float | None = None,
    lowest_c: float | None = None,
    south: bool = False,
) -> Fitness:
    """Whether limewash takes on a day: mild, out of the sun, no rain for a day, and `lime_say` of lime putty.

    ``likely_frost`` and ``lowest_c`` are those of `lime_say`. Neither dew nor damp speaks against it, for the wall is
    wetted first. Without a reading the surface is taken to be 2 °C below the air.
    Source: 5 °C and the weeks: `lime_say`; a day without rain, and 25 °C out of the sun: common practice.
    Raises: OutOfRange for readings that cannot be.
    """
    dew_c = dew_point_magnus_c(air_c, humidity_percent)
    wall_c = air_c - COOLER_SURFACE_C if surface_c is None else surface_c
    if not -40 <= wall_c <= 90:
        raise OutOfRange("A temperature of the surface", wall_c, "-40 to 90 °C")
    say = lime_say("putty", on, likely_frost, lowest_c, south)
    colder, warmer = min(air_c, wall_c), max(air_c, wall_c)
    checks = [
        Check(colder >= LEAST_C, f"the colder of air and surface {colder:g} °C; {LEAST_C:g} at least"),
        Check(
            warmer <= MOST_C, f"the warmer of air and surface {warmer:g} °C; {MOST_C:g} at most, out of sun and wind"
        ),
        Check(say.go, say.says if say.again is None else f"{say.says} Try again from {say.again:%-d %B}."),
    ]
    if dry_hours_ahead is not None:
        says = f"{dry_hours_ahead:g} hours dry ahead; {DRY_HOURS_AFTER:g} are wanted"
        checks.append(Check(dry_hours_ahead >= DRY_HOURS_AFTER, says))
    return Fitness(all(one.holds for one in checks), dew_c, wall_c - dew_c, tuple(checks))
