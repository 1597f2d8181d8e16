"""Whether meat may hang or be smoked in the open on a day: the soil tells of flies and warm nights."""

from app.errors import OutOfRange
from app.trade.climate.season import Season
from app.trade.meat.cure import Skin, equalise_days
from app.trade.reckoned import Reckoned, days
from app.trade.register import work

_ADVICE = "Flies are about and nights are warm: leave it unsmoked, dry it in a curing fridge, or freeze it until then."


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
    soil_c: float,
    season: Season,
    on: int,
) -> Reckoned:
    """Days from out of the cure to the first night of smoke: `equalise_days`, when that night is cold.

    Valid: as there, and a first night while the soil is below ``soil_c``.
    Source: as there; the limit stands on the sheet.
    Raises: OutOfRange in fly season and on warm nights.
    """
    rest = equalise_days(
        thickness_mm, skin, salt_1e10_m2_s, days_an_inch, least_days, spare_days, least_rest_days, most_rest_days
    )
    _cold(season, on + rest.best, rest.best, soil_c)
    return rest


@work
def hang_outside_days(rest_days: int, soil_c: float, season: Season, on: int) -> Reckoned:
    """Days to hanging in the open or a cold larder: ``rest_days``, when that day is cold.

    Valid: days while the soil is below ``soil_c``. Source: `in_the_cold`. Raises: OutOfRange in fly season.
    """
    _cold(season, on + rest_days, rest_days, soil_c)
    return days(rest_days, f"the soil is below {soil_c:g} °C by then: few flies, cool nights")


def _cold(season: Season, day: int, wait: int, soil_c: float) -> None:
    if not in_the_cold(season, day, soil_c):
        raise OutOfRange("A wait", wait, f"days while the soil is below {soil_c:g} °C", _ADVICE)
