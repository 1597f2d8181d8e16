"""Days from sowing to emergence in soil of a steady warmth, such as a propagator's."""

from math import ceil

from app.errors import OutOfRange
from app.trade.reckoned import Reckoned
from app.trade.register import work


def emergence_rate_days(soil_c: float, base_c: float, theta_cday: float) -> float:
    """Thermal time: ``t = theta / (T - Tb)``, in days.

    ``theta_cday`` is the crop's sum of warmth above its base ``base_c``.
    Valid: from about 5 °C to the temperature at which the crop is quickest; the caller keeps to it.
    Source: alliums, equations 4.6 and 4.7.
    Raises: OutOfRange at or below the base.
    """
    if soil_c <= base_c:
        raise OutOfRange("A soil temperature", soil_c, f"above {base_c:g} °C", "The seed does not stir there.")
    return theta_cday / (soil_c - base_c)


@work
def emergence_days(
    soil_c: float, base_c: float, theta_cday: float, least_c: float, quickest_c: float, slow_factor: float
) -> Reckoned:
    """Days to emergence at ``soil_c``; the window closes at ``slow_factor`` times the thermal time.

    ``least_c`` is the coolest soil in which it was seen to come up, ``quickest_c`` the one in which it came up soonest:
    above that it gets no quicker, and the quickest is given.
    Source: `emergence_rate_days`; two published sets differ by up to the factor of two, so a range is given.
    Raises: OutOfRange below ``least_c``.
    """
    if soil_c < least_c:
        advice = "Wait for warmer soil, or sow under cover."
        raise OutOfRange("A soil temperature", soil_c, f"no seedlings came up below {least_c:g} °C", advice)
    warmth_c = min(soil_c, quickest_c)
    time = emergence_rate_days(warmth_c, base_c, theta_cday)
    because = f"{theta_cday:g} degree-days above {base_c:g} °C, at {warmth_c:g} °C: {time:.1f} days"
    best = ceil(time)
    return Reckoned(best, best, max(best, ceil(time * slow_factor)), (because,))
