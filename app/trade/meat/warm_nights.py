"""Whether meat may hang or be smoked in the open on a day: the soil tells of flies and warm nights."""

from app.errors import OutOfRange
from app.trade.climate.season import Season
from app.trade.meat.cure import Skin, equalise_days
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_ADVICE = "Flies are about and nights are warm: leave it unsmoked, dry it in a curing fridge, or freeze it until then."
_TOO_LONG = (
    "Flies are about and nights are warm before it is done: begin it in autumn, dry it in a curing fridge, or leave it "
    "unsmoked."
)


def in_the_cold(season: Season, day: int, soil_c: float) -> bool:
    """Whether a day lies between the soil's falling below ``soil_c`` and its rising above it again.

    ``day`` is a day number. Soil at 10 cm follows the mean of air over weeks; at 12 °C most nights are below.
    Source: common practice: nights of 15 °C at most for cold smoke, a mean of about 10 to 12 °C for flies.
    """
    year = round(day / 365.2425)
    marks = [
        (found, cold)
        for name, cold in (("soil below", True), ("soil above", False))
        for one in (year - 1, year, year + 1, year + 2)
        if (found := season.mark(name, soil_c, one)) is not None
    ]
    if not any(not cold for _, cold in marks):
        return True
    before = [mark for mark in marks if mark[0] <= day]
    return bool(before) and max(before)[1]


@work
def smoke_after_days(
    thickness_mm: float,
    skin: Skin,
    salt_1e10_m2_s: float,
    days_an_inch: float,
    least_days: int,
    spare_days: int,
    least_rest_days: int,
    most_rest_days: int,
    lasts_days: int,
    soil_c: float,
    season: Season,
    on: int,
) -> Reckoned:
    """Days from out of the cure to the first night of smoke, or to the hook in a cold larder: `equalise_days`.

    Valid: as there, when it is cold from that day until ``lasts_days`` later: the soil is below ``soil_c``.
    Source: as there; the limit and how long it smokes or hangs stand on the sheet.
    Raises: OutOfRange in fly season and on warm nights, and when they come before it is done.
    """
    rest = equalise_days(
        thickness_mm, skin, salt_1e10_m2_s, days_an_inch, least_days, spare_days, least_rest_days, most_rest_days
    )
    _cold(season, on, rest.best, lasts_days, soil_c)
    return rest


@work
def hang_outside_days(rest_days: int, lasts_days: int, soil_c: float, season: Season, on: int) -> Reckoned:
    """Days to hanging in the open or a cold larder: ``rest_days``, when it is cold until ``lasts_days`` later.

    Valid: as `smoke_after_days`. Source: `in_the_cold`. Raises: as `smoke_after_days`.
    """
    _cold(season, on, rest_days, lasts_days, soil_c)
    return days(rest_days, f"the soil is below {soil_c:g} °C for as long as it hangs: few flies, cool nights")


def _cold(season: Season, on: int, wait: int, lasts: int, soil_c: float) -> None:
    for after, advice in ((wait, _ADVICE), (wait + lasts, _TOO_LONG)):
        if not in_the_cold(season, on + after, soil_c):
            raise OutOfRange("A wait in days", after, f"into cold days, the soil below {soil_c:g} °C", advice)
